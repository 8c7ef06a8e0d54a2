package report

import (
	"context"
	"fmt"
	"math"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/summary"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
	"smeltbook/report/study"
)

// spreadEntry sets two groups beside each other, one variable a row.
func spreadEntry(_ context.Context, b *builder, e *notebook.Entry, out *page.Entry) error {
	var o struct {
		Groups []string // two; the first is set left
		Rows   []string // variables; the major parts and the main results when empty
	}
	if !b.options(e, &o) {
		return nil
	}
	groups, ok := b.facing(e, o.Groups)
	if !ok {
		return nil
	}
	if len(o.Rows) == 0 {
		o.Rows = append(b.majorParts(groups), "total", study.Liquidus, "cao_sio2", "bachmann_index")
	}
	s := &page.Spread{
		Caption: fmt.Sprintf("%s beside %s: mean, scatter between the pieces and range. %s",
			groups[0].Label(), groups[1].Label(), b.basisSentence()),
		Left: leaf(groups[0]), Right: leaf(groups[1]),
		Columns: []page.Column{
			{Head: "mean ± s", Sub: "s between pieces", Numeric: true},
			{Head: "range", Numeric: true},
			{Head: "n", Numeric: true},
		},
		Gutter: page.Column{Head: "difference", Sub: groups[0].Name + " − " + groups[1].Name, Numeric: true},
		Notes: []string{
			"± in the difference of means is its standard uncertainty (Welch); the 95 % interval is shown on pointing at it. The parts of an analysis sum to 100, so one difference forces others: do not count the rows as independent findings.",
		},
	}
	for _, key := range o.Rows {
		v, err := b.study.Variable(key)
		if err != nil {
			b.fail(e, "UNKNOWN_VARIABLE", "%s", strings.TrimPrefix(err.Error(), ": "))
			continue
		}
		s.Rows = append(s.Rows, spreadRow(v, groups))
	}
	b.tables++
	s.Number, s.ID = b.tables, fmt.Sprintf("table-%d", b.tables)
	out.Parts = append(out.Parts, s)
	out.Margin = b.margin(groups[:])
	return nil
}

func leaf(g assay.Group) page.Leaf {
	return page.Leaf{Name: g.Name, Label: fmt.Sprintf("%s, %d samples", strings.TrimPrefix(g.Label(), g.Name+" "), len(g.Samples))}
}

func spreadRow(v study.Variable, groups pair) page.SpreadRow {
	a, c := v.Summary(groups[0].Samples), v.Summary(groups[1].Samples)
	return page.SpreadRow{
		Name: formulaText(v.Label), Unit: axisUnit(v.Unit),
		Left:       groupCells(v, a, groups[0].Samples),
		Right:      groupCells(v, c, groups[1].Samples),
		Difference: differenceCell(v, summary.Between(a, c)),
	}
}

// groupCells prints mean ± scatter, range and number.
func groupCells(v study.Variable, g summary.Group, samples []*assay.Sample) []page.Cell {
	note := fmt.Sprintf("%d measured", g.N)
	if g.Censored > 0 {
		note += fmt.Sprintf(", %d below detection", g.Censored)
	}
	if g.Absent > 0 {
		note += fmt.Sprintf(", %d not determined", g.Absent)
	}
	if u := g.U; !math.IsNaN(u) {
		_, text := quantity.Number(g.Mean, u)
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
		mean.Text, span.Text = "n.d.", "–"
		if !math.IsNaN(g.MeanHigh) {
			mean.Text = "< " + plain(g.MeanHigh)
		}
	case g.Censored > 0:
		mean.Class = page.Censored
		mean.Text = plain(g.MeanLow) + "–" + plain(g.MeanHigh)
		if math.IsNaN(g.MeanHigh) {
			mean.Text = "≥ " + plain(g.MeanLow)
		}
		mean.Note += "; the mean lies between its value with those at zero and with those at their limit"
		span.Text = "n.d. – " + plain(g.Max)
	default:
		spread := g.SD
		if math.IsNaN(spread) || spread == 0 {
			spread = g.U
		}
		value, s := quantity.Number(g.Mean, spread)
		mean.Text = value
		if s != "" && g.N > 1 {
			mean.Text += " ± " + s
		}
		lo, _ := quantity.Number(g.Min, spread)
		hi, _ := quantity.Number(g.Max, spread)
		span.Text = lo + " – " + hi
	}
	if g.N > 0 {
		m := g.Mean
		mean.Sort = &m
	}
	n := page.Cell{Text: fmt.Sprint(g.N)}
	if g.Censored > 0 {
		n.Text = fmt.Sprintf("%d + %d", g.N, g.Censored)
		n.Note = "measured + below detection"
	}
	return []page.Cell{mean, span, n}
}

func differenceCell(v study.Variable, d summary.Difference) page.Cell {
	if math.IsNaN(d.Value) {
		return page.Cell{Text: "–", Class: page.Absent, Note: "no difference: " + d.Why}
	}
	c := page.Cell{Text: quantity.WithU(d.Value, d.U, v.Unit, "").Text()}
	if d.Why != "" {
		c.Note = d.Why
		return c
	}
	c.Note = fmt.Sprintf("95 %%: %s %s, %.0f degrees of freedom", interval(d.Low, d.High, d.U), axisUnit(v.Unit), d.DoF)
	if v.Model != nil {
		c.Note += "; the model's own error is common to both groups and largely cancels"
	}
	return c
}

func plain(x float64) string {
	v, _ := quantity.Number(x, math.Abs(x)/20)
	return v
}

// majorParts returns the parts worth a row: oxides that reach half a per cent
// in some sample, and copper.
func (b *builder) majorParts(groups pair) []string {
	samples := append(append([]*assay.Sample{}, groups[0].Samples...), groups[1].Samples...)
	var out []string
	for _, id := range b.study.Parts(samples) {
		a, _ := chem.LookupAnalyte(id)
		keep := a.Element == "Cu" || a.Class == "major" && a.Element != "Cu"
		for _, s := range samples {
			if s.Composition.Wt(id) >= 0.5 {
				keep = true
			}
		}
		if keep {
			out = append(out, id)
		}
	}
	return out
}
