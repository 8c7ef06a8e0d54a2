package report

import (
	"fmt"
	"math"
	"strings"

	"smeltbook/assay/fragment"
	"smeltbook/phase/hearth"
	"smeltbook/report/page"
)

// limitsCell prints a diameter with its limits below; ∞ where there is none.
func limitsCell(l fragment.Limits) page.Cell {
	c := page.Cell{Text: fmt.Sprintf("%.0f", l.Value), Sub: fmt.Sprintf("%.0f–%.0f", l.Low, l.High)}
	if math.IsInf(l.High, 1) {
		c.Sub = fmt.Sprintf("%.0f and more", l.Low)
	}
	if math.IsInf(l.Value, 1) {
		return page.Cell{Text: fmt.Sprintf("≥ %.0f", l.Low), Class: page.Censored, Note: "as straight as can be read"}
	}
	v := l.Value
	c.Sort = &v
	return c
}

// curvatureTable gives the diameter of each fragment, and their curvatures;
// the table is nil where no fragment has one.
func (b *builder) curvatureTable(pieces []fragment.Fragment) (*page.Table, []fragment.Curvature) {
	t := &page.Table{
		Caption: "Inside diameter by each fragment, with 95 % limits.",
		Columns: []page.Column{{Head: "fragment", Sub: "context"}, {Head: "face"}, {Head: "by"}, {Head: "chord", Unit: "mm", Numeric: true}, {Head: "sagitta", Unit: "mm", Numeric: true}, {Head: "diameter", Unit: "mm", Numeric: true}, {Head: "least chord", Unit: "mm", Sub: "to tell it from straight", Numeric: true}},
		Notes:   []string{"Least chord: a shorter fragment of this diameter, read as well as this one, does not rule out a straight edge. To know the diameter to a tenth takes a chord about three times as long."},
	}
	var curves []fragment.Curvature
	for _, p := range pieces {
		r, ok := p.Read()
		if !ok {
			continue
		}
		curves = append(curves, r.Curve)
		sagitta, least, way := page.Cell{Text: "–", Class: page.Absent}, page.Cell{Text: "–", Class: page.Absent}, textCell(string(r.Way))
		read := p.USagitta
		if r.Circle != nil {
			way.Sub = fmt.Sprintf("%d, rms %.2f mm", len(p.Points), r.Circle.RMS)
			if n := len(r.Circle.Outliers); n > 0 {
				way.Sub += fmt.Sprintf(", %d off", n)
				way.Note = "points far off are weighted down"
			}
			read = p.UPoints
		}
		if r.Way == fragment.BySagitta {
			sagitta = page.Cell{Text: fmt.Sprintf("%.1f", p.Sagitta), Sub: fmt.Sprintf("± %.1f", p.USagitta)}
		}
		if r.Way != fragment.ByTemplate && !math.IsInf(r.Limits.Value, 1) {
			straight, _ := fragment.LeastChord(r.Limits.Value, read, 0.1)
			least = numberCell(straight, 0)
		}
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{{Text: p.Name, Sub: p.Context, Note: p.At.String()}, textCell(p.Face), way, numberCell(orNaN(r.Chord), 0), sagitta, limitsCell(r.Limits), least}})
	}
	if len(t.Rows) == 0 {
		return nil, nil
	}
	return b.table(t), curves
}

func orNaN(x float64) float64 {
	if x > 0 {
		return x
	}
	return nan
}

// ovalText tells of the fragments whose points allow an ellipse, or that none
// does.
func ovalText(pieces []fragment.Fragment) string {
	var told []string
	for _, p := range pieces {
		r, ok := p.Read()
		if !ok || r.Circle == nil {
			continue
		}
		e, err := fragment.FitEllipse(p.Points, *r.Circle)
		if err != nil {
			continue
		}
		word := "no better than a circle"
		if e.P < 0.05 {
			word = "better than a circle"
		}
		told = append(told, fmt.Sprintf("an ellipse of %.0f by %.0f mm fits the points of %s %s (F test, P %s)", 2*e.A, 2*e.B, p.Name, word, short(e.P)))
	}
	if len(told) == 0 {
		return "Whether the plan was round or oval cannot be told: that takes eight points over a quarter of the ring on one fragment."
	}
	return capital(strings.Join(told, "; ")) + "."
}

// pooledText tells what the fragments say together.
func pooledText(p fragment.Pooled, eaten [2]float64) []string {
	l := p.Limits
	text := fmt.Sprintf("%s together give an inside diameter of %.0f mm (95 %% limits %.0f to %.0f).", capital(counted(p.N, "fragment")), l.Value, l.Low, l.High)
	switch {
	case math.IsInf(l.Value, 1):
		text = fmt.Sprintf("%s together bend no way that can be read: the diameter was at least %.0f mm.", capital(counted(p.N, "fragment")), l.Low)
	case math.IsInf(l.High, 1):
		text = fmt.Sprintf("%s together give an inside diameter of %.0f mm, at least %.0f; there is no upper limit.", capital(counted(p.N, "fragment")), l.Value, l.Low)
	}
	if p.N > 1 {
		if p.Scatter > 0 {
			text += fmt.Sprintf(" They scatter more than their reading errors say, by %.0f mm (Cochran's Q %.1f, P %s): an uneven or oval wall, fragments of several furnaces, or errors set too small; the limits count it.", p.ScatterD, p.Q, short(p.P))
		} else {
			text += fmt.Sprintf(" They scatter no more than their reading errors say (Cochran's Q %.1f, P %s); one round furnace would do, which does not prove there was one.", p.Q, short(p.P))
		}
	} else {
		text += " One fragment tells nothing of how uneven the wall was."
	}
	return []string{text + fmt.Sprintf(" This is the face as it was left. If %g to %g mm of it had been eaten back, the furnace was built %g to %g mm narrower.", eaten[0], eaten[1], 2*eaten[0], 2*eaten[1])}
}

// allowedTable lists the reconstructions that are still allowed.
func (b *builder) allowedTable(p fragment.Pooled, eaten [2]float64, pieces []fragment.Fragment) *page.Table {
	t := &page.Table{
		Caption: "Reconstructions that the fragments still allow.",
		Columns: []page.Column{{Head: "of the furnace"}, {Head: "best", Unit: "mm", Numeric: true}, {Head: "from", Unit: "mm", Numeric: true}, {Head: "to", Unit: "mm", Numeric: true}},
	}
	open := func(x float64) page.Cell {
		if math.IsInf(x, 1) {
			return page.Cell{Text: "no limit", Class: page.Censored}
		}
		return numberCell(x, 0)
	}
	l := p.Limits
	add := func(what string, best, from, to float64, on string) {
		middle := open(best)
		if math.IsInf(best, 1) {
			middle = page.Cell{Text: "–", Class: page.Absent}
		}
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{{Text: what, Sub: on}, middle, open(from), open(to)}})
	}
	add("inside as left", l.Value, l.Low, l.High, "curvature, 95 % limits")
	add("inside as built", l.Value-eaten[0]-eaten[1], math.Max(0, l.Low-2*eaten[1]), l.High-2*eaten[0], "with the face eaten back as stated")
	lo, hi, broken := math.Inf(1), 0.0, 0.0
	for _, x := range pieces {
		if x.Wall > 0 {
			lo, hi = math.Min(lo, x.Wall), math.Max(hi, x.Wall)
		}
		if n := len(x.Layers); n > 0 {
			broken = math.Max(broken, x.Layers[n-1].Outer)
		}
	}
	switch {
	case hi > 0:
		add("wall", (lo+hi)/2, math.Max(lo, broken), math.Max(hi, broken), "fragments with both faces")
	case broken > 0:
		add("wall", math.Inf(1), broken, math.Inf(1), "thickest fragment, broken behind")
	}
	t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{{Text: "depth and bottom", Sub: "no fragment says; not drawn"}, textCell("–"), textCell("–"), textCell("–")}})
	return b.table(t)
}

// layersTable gives the heat of each wall.
func (b *builder) layersTable(walls []wall) *page.Table {
	t := &page.Table{
		Caption: "Heat by the layers of the wall, with 95 % limits.",
		Columns: []page.Column{{Head: "fragment"}, {Head: "outer borders", Unit: "mm"}, {Head: "hot face", Unit: "°C", Numeric: true}, {Head: "reach 2√(κt)", Unit: "mm", Numeric: true}, {Head: "hot for", Unit: "h", Sub: "by the diffusivity stated", Numeric: true}, {Head: "χ²", Numeric: true}},
	}
	cell := func(s hearth.Span, format string) page.Cell {
		v := s.Value
		c := page.Cell{Text: fmt.Sprintf(format, s.Value), Sub: fmt.Sprintf(format+"–"+format, s.Low, s.High), Sort: &v}
		if s.OpenHigh {
			c.Sub = fmt.Sprintf(format+" and more", s.Low)
		}
		return c
	}
	for _, w := range walls {
		var parts []string
		for _, x := range w.borders {
			for _, m := range hearth.Marks() {
				if m.Layer == x.Layer {
					parts = append(parts, fmt.Sprintf("%s %.0f", x.Layer, x.Depth))
				}
			}
		}
		p := w.profile
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{{Text: w.piece.Name, Note: w.piece.At.String()}, textCell(strings.Join(parts, ", ")), cell(p.FaceTC, "%.0f"), cell(p.Reach, "%.0f"), cell(p.Hours, "%.1f"), numberCell(p.Misfit, 1)}})
	}
	for _, m := range hearth.Marks() {
		t.Notes = append(t.Notes, fmt.Sprintf("Outer border of %s: %.0f–%.0f °C, %s.", m.Layer, m.Low, m.High, m.Evidence))
	}
	return b.table(t)
}
