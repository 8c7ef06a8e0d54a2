package report

import (
	"fmt"
	"math"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/quantity"
	"smeltbook/assay/summary"
	"smeltbook/report/page"
	"smeltbook/report/study"
)

// groupSpread sets two groups beside each other, one variable a row.
func (b *builder) groupSpread(groups pair, subject spreadSubject, rows []study.Variable) *page.Spread {
	s := &page.Spread{
		Caption: fmt.Sprintf("%s: left %s, right %s; mean, scatter between the pieces and range.", subject.title, groups[0].Label(), groups[1].Label()),
		Left:    leaf(groups[0]), Right: leaf(groups[1]),
		Columns: []page.Column{
			{Head: "mean ± s", Sub: "s between pieces", Numeric: true},
			{Head: "range", Numeric: true},
			{Head: "n", Numeric: true},
		},
		Gutter: page.Column{Head: "difference", Sub: groups[0].Name + " − " + groups[1].Name, Numeric: true},
		Notes: []string{
			"± in the difference of means is its standard uncertainty (Welch). Point at it for the 95 % interval. Bold: larger than twice that uncertainty.",
		},
	}
	if subject.note != "" {
		s.Notes = append(s.Notes, subject.note)
	}
	if subject.word == compositions {
		s.Caption += " " + b.basisSentence()
		s.Notes[0] += " The parts of an analysis sum to 100, so one difference forces others: do not count the rows as independent findings."
	}
	counts, model, factors := false, false, false
	for _, v := range rows {
		s.Rows = append(s.Rows, spreadRow(v, groups))
		counts = counts || v.CountsIron()
		model = model || modelApart(v, groups[0].Samples, groups[1].Samples) > 0
		factors = factors || v.Log
	}
	for _, g := range groups {
		if len(g.Samples) == 1 {
			s.Notes = append(s.Notes, fmt.Sprintf("Of %s there is one piece, which has no scatter; its own ± stands where it is set beside another.", g.Name))
		}
	}
	switch {
	case model && factors:
		s.Notes = append(s.Notes, sharedError+" ×/÷ stands for values that differ by factors. Where ± or ×/÷ has two ends, a model computed the values: "+twoEnds+".")
	case model:
		s.Notes = append(s.Notes, sharedError+" Where ± has two ends, a model computed the values: "+twoEnds+".")
	}
	if counts {
		s.Notes = append(s.Notes, b.ironNote(groups)...)
	}
	return b.numbered(s)
}

// sharedError says what a scatter leaves out.
const sharedError = "s is the scatter alone: the error of a model, which all pieces share, is not in it."

// ironNote says where what is computed from the melt mixes slags whose ferrous
// iron was titrated with others; nil where all are treated alike.
func (b *builder) ironNote(groups pair) []string {
	mixed := nonEmpty(b.study.MixedIron(groups[0]), b.study.MixedIron(groups[1]))
	if len(mixed) == 0 {
		return nil
	}
	return []string{capital(strings.Join(mixed, " and ")) + "; the others count all iron as ferrous. What is computed from the melt, and a mean or median of it, mixes the two."}
}

// numbered numbers a spread among the tables.
func (b *builder) numbered(s *page.Spread) *page.Spread {
	b.tables++
	s.Number, s.ID = b.tables, fmt.Sprintf("table-%d", b.tables)
	return s
}

func leaf(g assay.Group) page.Leaf {
	return page.Leaf{Name: g.Name, Label: strings.Trim(strings.TrimPrefix(g.Label(), g.Name+" "), "()") + ", " + counted(len(g.Samples), "sample")}
}

func spreadRow(v study.Variable, groups pair) page.SpreadRow {
	if v.Log {
		return factorRow(v, groups)
	}
	a, c := v.Summary(groups[0].Samples), v.Summary(groups[1].Samples)
	left, right := scatter(a), scatter(c)
	leftTo, rightTo := samePlaces(left, right)
	return page.SpreadRow{
		Name: formulaText(v.Label), Unit: axisUnit(v.Unit),
		Left:       groupCells(v, a, groups[0].Samples, leftTo),
		Right:      groupCells(v, c, groups[1].Samples, rightTo),
		Difference: differenceCell(v, v.Difference(groups[0].Samples, groups[1].Samples), modelApart(v, groups[0].Samples, groups[1].Samples)),
	}
}

// factorRow is a row of a variable whose values differ by factors: middles and
// scatters are those of the logarithms, the difference is a factor.
func factorRow(v study.Variable, groups pair) page.SpreadRow {
	logs := v.Logs()
	row := page.SpreadRow{Name: formulaText(v.Label), Unit: axisUnit(v.Unit)}
	cellsOf := func(samples []*assay.Sample) []page.Cell {
		g, modelNote := logs.Summary(samples), ""
		if m := logs.ModelU(samples); m > 0 {
			modelNote = "; the model's own error, shared by all, is a factor of " + short(math.Exp(m))
		}
		if g.N == 0 {
			absent := absentCell("no piece has a value")
			return []page.Cell{absent, absent, {Text: "0"}}
		}
		mean := math.Exp(g.Mean.Value())
		cells := []page.Cell{{Text: short(mean), Sort: &mean, Note: "geometric mean" + modelNote}, {Text: shortSpan(math.Exp(g.Min.Value()), math.Exp(g.Max.Value()))}, {Text: fmt.Sprint(g.N)}}
		if s := scatter(g); s > 0 && g.N > 1 { // one piece has no scatter
			cells[0].Text += " " + asFactor(s)
		}
		return cells
	}
	row.Left, row.Right = cellsOf(groups[0].Samples), cellsOf(groups[1].Samples)
	row.Difference = factorCell(logs.Difference(groups[0].Samples, groups[1].Samples), modelApart(logs, groups[0].Samples, groups[1].Samples))
	return row
}

// factorCell prints a difference of means of logarithms as a factor; model is as
// for differenceCell.
func factorCell(d summary.Difference, model float64) page.Cell {
	if math.IsNaN(d.Value) {
		return absentCell("no difference: " + d.Why)
	}
	c := page.Cell{Text: strings.TrimSpace("× " + short(math.Exp(d.Value)) + " " + factorEnds(d.U, model)), Note: d.Why}
	if math.Abs(d.Value) > 2*math.Hypot(d.U, model) {
		c.Class = page.Clear
	}
	switch {
	case model > 0:
		c.Note = strings.Join(nonEmpty(d.Why, twoEnds), "; ")
	case !math.IsNaN(d.Low):
		c.Note = "95 %: a factor of " + shortSpan(math.Exp(d.Low), math.Exp(d.High))
	}
	return c
}

// factorEnds prints the standard uncertainty of a difference of logarithms, from
// that without the errors of the model to that with them independent.
func factorEnds(u, model float64) string {
	if math.IsNaN(u) || model == 0 {
		return asFactor(u)
	}
	return "×/÷ " + shortSpan(math.Exp(u), math.Exp(math.Hypot(u, model)))
}

func absentCell(why string) page.Cell { return page.Cell{Text: "–", Class: page.Absent, Note: why} }

// scatter is the standard deviation between pieces, or of one piece its own
// uncertainty; NaN when neither is known.
func scatter(g summary.Group) float64 {
	if math.IsNaN(g.SD) || g.SD == 0 {
		return g.U
	}
	return g.SD
}

// samePlaces returns the uncertainties by which both pages of a row are
// rounded: the smaller of the two for both, so that the decimals of a row
// agree, unless they are a power of ten or more apart and the page with the
// larger one would show figures that mean nothing.
func samePlaces(left, right float64) (float64, float64) {
	if lo, hi := math.Min(left, right), math.Max(left, right); lo > 0 && hi < 10*lo {
		return lo, lo
	}
	return left, right
}

// groupCells prints mean ± scatter, range and number; values are rounded as
// one with the uncertainty to would be.
func groupCells(v study.Variable, g summary.Group, samples []*assay.Sample, to float64) []page.Cell {
	note := fmt.Sprintf("%d measured", g.N)
	if g.Censored > 0 {
		note += fmt.Sprintf(", %d below detection", g.Censored)
	}
	if g.Absent > 0 {
		note += fmt.Sprintf(", %d not determined", g.Absent)
	}
	if u := g.U; !math.IsNaN(u) {
		_, text := quantity.Number(g.Median.Low, u)
		if text != "" {
			note += "; a piece's own standard uncertainty is typically " + strings.TrimSpace(text+" "+axisUnit(v.Unit))
		}
	}
	if m := v.ModelU(samples); m > 0 {
		note += fmt.Sprintf("; the model's own error, shared by all, is %.0f %s", m, v.Unit)
	}
	mean := page.Cell{Note: note}
	span := page.Cell{}
	switch {
	case g.N == 0 && g.Censored == 0:
		mean.Text, mean.Class = "–", page.Absent
		span.Text, span.Class = "–", page.Absent
	case g.N == 0:
		mean.Class, span.Class = page.Censored, page.Censored
		mean.Text, span.Text = boundsText(g.Mean), "–"
	case g.Censored > 0:
		mean.Class = page.Censored
		mean.Text = boundsText(g.Mean)
		mean.Note += "; the mean lies between its value with those at zero and with those at their limit"
		span.Text = "n.d. – " + boundsText(g.Max)
	default:
		if g.N > 1 && !(scatter(g) > 0) {
			mean.Text, span.Text = plain(g.Mean.Value()), "all alike"
			mean.Note += "; all pieces have this value, so there is no scatter"
			break
		}
		mean.Text, _ = quantity.Number(g.Mean.Value(), to)
		if s := scatter(g); s > 0 && g.N > 1 {
			text, _ := quantity.Number(s, to)
			mean.Text += plusMinus + text
		}
		if g.N == 1 {
			mean.Note += "; one piece has no scatter and no range"
			span.Text = "–"
			break
		}
		lo, _ := quantity.Number(g.Min.Value(), to)
		hi, _ := quantity.Number(g.Max.Value(), to)
		if span.Text = lo + " – " + hi; strings.HasPrefix(hi, quantity.Minus) {
			span.Text = lo + " to " + hi
		}
	}
	if g.N > 0 {
		m := g.Mean.Low
		mean.Sort = &m
	}
	n := page.Cell{Text: fmt.Sprint(g.N)}
	if g.Censored > 0 {
		n.Text = fmt.Sprintf("%d + %d", g.N, g.Censored)
		n.Note = "measured + below detection"
	}
	return []page.Cell{mean, span, n}
}

// differenceCell prints a difference of means; model is the standard uncertainty
// that the model adds when its errors in the two groups are independent.
func differenceCell(v study.Variable, d summary.Difference, model float64) page.Cell {
	if math.IsNaN(d.Value) {
		return page.Cell{Text: "–", Class: page.Absent, Note: "no difference: " + d.Why}
	}
	c := page.Cell{Text: quantity.WithU(d.Value, d.U, v.Unit, "").Text()}
	if model > 0 {
		all := math.Hypot(d.U, model)
		c.Text, _ = quantity.Number(d.Value, all)
		c.Text += plusMinus + shortSpan(d.U, all)
		if math.Abs(d.Value) > 2*all {
			c.Class = page.Clear
		}
		c.Note = strings.Join(nonEmpty(d.Why, twoEnds), "; ")
		return c
	}
	if math.Abs(d.Value) > 2*d.U {
		c.Class = page.Clear
	}
	if d.Why != "" {
		c.Note = d.Why
		return c
	}
	if d.U == 0 {
		c.Class, c.Note = "", "no uncertainty: on either side all pieces have one value"
		return c
	}
	c.Note = fmt.Sprintf("95 %%: %s, %.0f degrees of freedom", strings.TrimSpace(interval(d.Low, d.High, d.U)+" "+axisUnit(v.Unit)), d.DoF)
	return c
}

// notDetected stands for values below a limit that nobody stated.
const notDetected = "n.d."

// boundsText prints a figure that samples below detection leave open.
func boundsText(b summary.Bounds) string {
	switch {
	case math.IsNaN(b.Low):
		return "–"
	case b.Known():
		return plain(b.Low)
	case math.IsInf(b.High, 1) && b.Low == 0:
		return notDetected
	case math.IsInf(b.High, 1):
		return "≥ " + plain(b.Low)
	case b.Low == 0:
		return "< " + plain(b.High)
	}
	return plain(b.Low) + "–" + plain(b.High)
}

// plain prints a number without uncertainty to two or three figures.
func plain(x float64) string {
	v, _ := quantity.Number(x, math.Abs(x)/2)
	return v
}

// majorParts are those of both pages together.
func (b *builder) majorParts(groups pair) []string {
	return b.study.MajorParts(append(append([]*assay.Sample{}, groups[0].Samples...), groups[1].Samples...))
}
