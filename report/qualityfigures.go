package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/audit"
	"smeltbook/assay/quality"
	"smeltbook/assay/quantity"
	"smeltbook/report/figure"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
)

// chosenSeries is the control chart to be drawn: the one asked for, else one
// that asks for action, else the longest. It is nil where there is none and
// none was asked for.
func (b *builder) chosenSeries(e *notebook.Entry, a *audit.Audit, o qualityOptions) (best *audit.Series) {
	var known []string
	for i := range a.Series {
		s := &a.Series[i]
		known = append(known, s.Analyte+" in "+s.Material)
		if o.Chart != "" && !quality.Same(o.Chart, s.Analyte) || o.Control != "" && o.Control != s.Material {
			continue
		}
		if best == nil || len(s.Findings()) > 0 && len(best.Findings()) == 0 || (len(s.Findings()) > 0) == (len(best.Findings()) > 0) && len(s.Readings) > len(best.Readings) {
			best = s
		}
	}
	if best == nil && (o.Chart != "" || o.Control != "") {
		b.lack(e, "NO_CHART", "no control chart is for %s; there are %s (a chart needs one control read by one method %d times or more)", strings.TrimSpace(o.Chart+" "+o.Control), orNone(known), audit.LeastSeries)
	}
	return best
}

// chosenBridge is the pair of methods to be drawn: the one asked for, else
// copper in slag, else the one with most samples.
func (b *builder) chosenBridge(e *notebook.Entry, a *audit.Audit, o qualityOptions) (best *assay.Bridge) {
	var known []string
	rank := func(x *assay.Bridge) int {
		n := len(x.Points)
		if x.Kind == assay.Slag && quality.Same(x.Analyte, "Cu") {
			n += 1000
		}
		return n
	}
	for i := range a.Bridges {
		x := &a.Bridges[i]
		if x.Why != "" {
			continue
		}
		known = append(known, x.Analyte+" in "+x.Kind)
		if o.Show != "" && !quality.Same(o.Show, x.Analyte) || o.Kind != "" && o.Kind != x.Kind {
			continue
		}
		if best == nil || rank(x) > rank(best) {
			best = x
		}
	}
	if best == nil && (o.Show != "" || o.Kind != "") {
		b.lack(e, "NO_BRIDGE", "no line between two methods is for %s; there are %s", strings.TrimSpace(o.Show+" "+o.Kind), orNone(known))
	}
	return best
}

func orNone(known []string) string {
	if len(known) == 0 {
		return "none"
	}
	return list(known)
}

// twoSides holds the places of replica and excavated material, whose looks
// nothing else may take.
func twoSides() []figure.Group { return make([]figure.Group, 2) }

// chartFigure draws a control chart.
func (b *builder) chartFigure(s audit.Series) (*page.Figure, error) {
	n := len(s.Readings)
	body := &figure.Diagram{
		X:      figure.Axis{Label: "reading", Min: 0, Max: float64(n + 1)},
		Hollow: "picked out by a rule of the chart",
	}
	heights := slices.Clone(s.Readings)
	middle := "mean"
	if s.Assigned {
		middle = "certified"
	}
	level := func(label string, y float64, style int) {
		body.Lines = append(body.Lines, figure.NamedLine{Label: label, X: []float64{0, float64(n + 1)}, Y: []float64{y, y}, Style: style})
		heights = append(heights, y)
	}
	level(middle, s.Middle, 0)
	if s.Assigned || s.Trust() == "" || n >= 8 {
		lo, hi := s.Warning()
		level("warning", lo, 4)
		level("warning", hi, 4)
		lo, hi = s.Action()
		level("action", lo, 1)
		level("action", hi, 1)
	}
	picked := map[int]string{}
	for _, x := range s.Signals {
		picked[x.Index] = x.Reason
	}
	for i, x := range s.Readings {
		details := []figure.Detail{{Label: formulaText(s.Analyte), Value: fmt.Sprintf("%.4g wt%%", x)}}
		if s.Dates[i] != "" {
			details = append(details, figure.Detail{Label: "date", Value: s.Dates[i]})
		}
		if i < len(s.From) {
			details = append(details, figure.Detail{Label: "from", Value: s.From[i].String()})
		}
		if picked[i] != "" {
			details = append(details, figure.Detail{Label: "is", Value: picked[i]})
		}
		body.Points = append(body.Points, figure.Spot{Group: len(twoSides()), Name: fmt.Sprintf("%s, reading %d", s.Material, i+1), X: float64(i + 1), Y: x, UX: nan, UY: nan, Hollow: picked[i] != "", Details: details})
	}
	body.Y = axisFor(formulaText(s.Analyte), "wt%", heights)
	return b.figure(figure.Figure{
		Caption: chartCaption(s),
		Alt:     fmt.Sprintf("%d readings of %s in %s in order, between the limits of a control chart.", n, s.Analyte, s.Material),
		Groups:  append(twoSides(), figure.Group{Name: s.Material, Label: s.Material + ", " + s.Method}), Body: body,
	}, page.Narrow)
}

func chartCaption(s audit.Series) string {
	text := fmt.Sprintf("Control chart of %s in %s by %s, n\u00a0=\u00a0%d", formulaText(s.Analyte), s.Material, s.Method, len(s.Readings))
	switch {
	case s.Dated:
		text += fmt.Sprintf(", in the order of days from %s to %s", s.Dates[0], s.Dates[len(s.Dates)-1])
	default:
		text += ", in the order of the sheets"
	}
	if s.Assigned {
		text += ". Limits stand about the certified value at two and three standard deviations, those wanted and that of the certificate together"
	} else if trust := s.Trust(); trust != "" {
		text += ". " + capital(trust)
	} else {
		text += ". Limits stand about the mean at two and three standard deviations, from the moving range"
	}
	if f := s.Findings(); len(f) > 0 {
		text += ". Seen: " + strings.Join(f, "; ")
	}
	return text + "."
}

// bridgeFigure draws one method against the other.
func (b *builder) bridgeFigure(x assay.Bridge, groups []assay.Group) (*page.Figure, error) {
	name := formulaText(x.Analyte)
	body := &figure.Diagram{}
	f := figure.Figure{Body: body}
	rest := figure.Group{Name: x.Kind, Label: x.Kind}
	f.Groups = twoSides()
	for i, g := range groups {
		if i < len(f.Groups) {
			f.Groups[i] = figureGroup(g)
		} else {
			f.Groups = append(f.Groups, figureGroup(g))
		}
		rest = figure.Group{Name: "other", Label: "other " + x.Kind}
	}
	f.Groups = append(f.Groups, rest)
	var xs, ys []float64
	for _, p := range x.Points {
		at := slices.IndexFunc(groups, func(g assay.Group) bool { return slices.Contains(g.Samples, p.Sample) })
		if at < 0 {
			at = len(f.Groups) - 1
		}
		body.Points = append(body.Points, figure.Spot{Group: at, Sample: p.Sample.ID, X: p.Lab.Value, Y: p.Reading.Value, UX: p.Lab.U, UY: p.Reading.U,
			Details: []figure.Detail{{Label: "laboratory", Value: p.Lab.WithUnit()}, {Label: "handheld", Value: p.Reading.WithUnit()}, {Label: "from", Value: whence(p.Sample)}}})
		xs = append(xs, p.Lab.Value, p.Lab.Value-p.Lab.U, p.Lab.Value+p.Lab.U)
		ys = append(ys, p.Reading.Value, p.Reading.Value-p.Reading.U, p.Reading.Value+p.Reading.U)
	}
	body.X, body.Y = axisFor(name+", laboratory", "wt%", xs), axisFor(name+", "+x.From, "wt%", ys)
	wide := x.Line.X[1]/x.Line.X[0] > 8 && x.Line.X[0] > 0 && slices.Min(ys) > 0
	if wide {
		body.X, body.Y = logAxisFor(name+", laboratory", "wt%", xs), logAxisFor(name+", "+x.From, "wt%", ys)
	}
	l := x.Line.Scaled()
	rel := relativeReading(x)
	equal, fitted := figure.NamedLine{Label: "equal", Style: 4}, figure.NamedLine{Label: "fitted line", Details: []figure.Detail{
		{Label: "intercept", Value: quantity.WithU(l.A, l.UA, "wt%", "").WithUnit()}, {Label: "slope", Value: quantity.WithU(l.B, l.UB, "1", "").WithUnit()}}}
	robust := figure.NamedLine{Label: "robust line", Style: 1}
	var top, bottom [][2]float64
	const steps = 60
	for i := range steps + 1 {
		v := along(body.X, float64(i)/steps)
		add := func(n *figure.NamedLine, y float64) {
			if !wide || y > 0 {
				n.X, n.Y = append(n.X, v), append(n.Y, y)
			}
		}
		add(&equal, v)
		add(&robust, x.Robust.A+x.Robust.B*v)
		if v < x.Line.X[0] || v > x.Line.X[1] {
			continue
		}
		y, u := l.At(v)
		add(&fitted, y)
		half := l.T() * math.Hypot(u, x.Line.Scatter(v, rel*y))
		if !wide || y-half > 0 {
			top, bottom = append(top, [2]float64{v, y + half}), append(bottom, [2]float64{v, y - half})
		}
	}
	slices.Reverse(bottom)
	band := figure.Region{Label: "95 in 100"}
	for _, p := range append(top, bottom...) {
		band.X, band.Y = append(band.X, p[0]), append(band.Y, p[1])
	}
	if len(band.X) > 2 && body.Frame().Area(band.X, band.Y) != nil {
		body.Regions = []figure.Region{band}
	}
	for _, n := range []figure.NamedLine{equal, fitted, robust} {
		if len(n.X) > 1 && body.Frame().Clip(n.X, n.Y) != nil {
			body.Lines = append(body.Lines, n)
		}
	}
	f.Caption = fmt.Sprintf("%s in %s by %s against %s, n\u00a0=\u00a0%d. The fitted line allows for the errors of both methods; the band holds 95 in 100 single readings; it ends where the samples do, and no reading is corrected beyond. The robust line takes no weights and no point for the truth.",
		name, x.Kind, x.From, list(x.To), len(x.Points))
	if x.Line.Fits() {
		f.Caption += " The ± of both methods explain the scatter."
	} else {
		f.Caption += fmt.Sprintf(" The points scatter %.2g times as much as the ± of both methods say.", math.Sqrt(x.Line.MSWD))
	}
	f.Alt = fmt.Sprintf("%s by %s plotted against the laboratory's for %d samples, with a fitted line of slope %.2f and a line of equality.", x.Analyte, x.From, len(x.Points), l.B)
	return b.figure(f, page.Narrow)
}

// relativeReading is the root mean square of the readings' relative
// uncertainties.
func relativeReading(x assay.Bridge) float64 {
	var sum float64
	for _, p := range x.Points {
		r := p.Reading.U / p.Reading.Value
		sum += r * r / float64(len(x.Points))
	}
	return math.Sqrt(sum)
}

// along is the value at a fraction of an axis.
func along(a figure.Axis, fraction float64) float64 {
	if a.Log {
		return a.Min * math.Pow(a.Max/a.Min, fraction)
	}
	return a.Min + fraction*(a.Max-a.Min)
}
