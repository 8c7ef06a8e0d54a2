package report

import (
	"context"
	"fmt"
	"math"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
	"smeltbook/phase/copper"
	"smeltbook/report/figure"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
	"smeltbook/report/study"
)

// copperConditions are those an entry was computed for.
type copperConditions struct {
	tc     float64
	lo, hi float64
	stated bool
}

func (c copperConditions) text() string {
	if c.lo == c.hi {
		return fmt.Sprintf("%.0f °C and log pO₂ %s", c.tc, signed(c.lo))
	}
	return fmt.Sprintf("%.0f °C and log pO₂ %s to %s", c.tc, signed(c.lo), signed(c.hi))
}

func signed(x float64) string {
	text := fmt.Sprintf("%g", math.Abs(x))
	if x < 0 {
		return quantity.Minus + text
	}
	return text
}

// copperEntry splits the copper of each slag into what may be dissolved and
// the rest.
func copperEntry(_ context.Context, b *builder, e *notebook.Entry, out *page.Entry) error {
	var o copperOptions
	if !b.options(e, &o) {
		return nil
	}
	groups, ok := b.facing(e, o.Groups)
	if !ok {
		return nil
	}
	cond := copperConditions{tc: o.At, stated: o.At != 0 && len(o.LogPO2) > 0}
	assumed := study.ConditionsOf(0, 0)
	if cond.tc == 0 {
		cond.tc = assumed.TC
	}
	switch len(o.LogPO2) {
	case 0:
		cond.lo, cond.hi = assumed.LogPO2[0], assumed.LogPO2[1]
	case 1:
		cond.lo, cond.hi = o.LogPO2[0], o.LogPO2[0]
	case 2:
		cond.lo, cond.hi = o.LogPO2[0], o.LogPO2[1]
	}
	if len(o.LogPO2) > 2 || cond.lo > cond.hi || cond.hi > 0 {
		b.fail(e, "BAD_RANGE", "log_po2 takes one value, or two with the lower first, below 0 (log10 of bar), not %v", o.LogPO2)
		return nil
	}
	if cond.tc < 900 || cond.tc > 1700 {
		b.fail(e, "BAD_RANGE", "at gives the temperature of the slag in °C, 900 to 1700, not %g", cond.tc)
		return nil
	}
	prills, ok := b.prillAreas(e, o)
	a := assumer{b: b, e: e}
	at := settling{depth: a.number("depth", o.Depth, defaultDepth, 1, 2000, "mm"), time: a.number("time", o.Time, defaultTime, 0.1, 1e5, "min")}
	if o.Drop != nil {
		at.drop = a.number("drop", o.Drop, 0, 1e-3, 100, "mm")
	} else {
		a.assume("drop", "drop, the largest that had not sunk in that time")
	}
	if !ok || a.failed {
		return nil
	}
	forms, ok := b.copperFormsOf(e, groups, cond, prills)
	if !ok {
		return nil
	}
	b.copperAt = append(b.copperAt, cond)
	fig, table, told, err := b.copperSplit(groups, cond)
	if err != nil {
		return err
	}
	out.Parts = append(out.Parts, fig, table, b.formsTable(groups, cond, forms))
	told = append(told, formsNotices(groups, forms)...)
	b.forms.split = true
	firings, ns := b.firingTable(groups)
	told = append(told, ns...)
	if firings != nil {
		b.forms.firings = true
		out.Parts = append(out.Parts, firings)
	}
	heap, ns, ok := b.heapTable(e, groups, o, &a)
	if !ok {
		return nil
	}
	told = append(told, ns...)
	if heap != nil {
		b.forms.heap = true
		out.Parts = append(out.Parts, heap)
	}
	if words := b.leversText(groups, cond, forms, at); len(words.Paragraphs) > 0 {
		b.forms.levers = true
		table, ns := b.leversTable(groups, cond, forms, at)
		told = append(told, ns...)
		out.Parts = append(out.Parts, words, table)
	}
	if !cond.stated {
		out.Parts = append(out.Parts, page.Lines("The notebook does not state all conditions of this entry; "+cond.text()+" is assumed. State them with \"at:\" and \"log_po2:\"."))
	}
	out.Parts = append(out.Parts, a.parts()...)
	if len(told) > 0 {
		out.Parts = append(out.Parts, &page.Notices{List: told})
	}
	out.Margin = append(b.margin(groups[:]), "Dissolved copper: "+copper.Fayalitic().Label)
	return nil
}

func (b *builder) copperSplit(groups pair, cond copperConditions) (*page.Figure, *page.Table, source.Notices, error) {
	body := &figure.Facing{Stack: []string{"dissolved in any case", "dissolved or not", "not dissolved"}}
	t := &page.Table{
		Caption: "Copper of each slag at " + cond.text() + ", wt% of the analysis as reported.",
		Columns: []page.Column{{Head: "sample"},
			{Head: "total Cu", Unit: "wt%", Numeric: true},
			{Head: "a slag under copper dissolves", Unit: "wt%", Numeric: true},
			{Head: "not dissolved", Unit: "wt%", Numeric: true},
			{Head: "log pO₂ at most", Unit: "log bar", Sub: "if it lay under copper", Numeric: true}},
		Sortable: true, Filterable: true,
		Notes: []string{"What is not dissolved may be " + strings.Join(notDissolved(), ", ") + "; the analysis alone cannot tell these apart.",
			"The highest oxygen potential is the one at which all copper found would be dissolved."},
	}
	var told sampleNotices
	heights := []float64{0}
	total := 0
	for i, g := range groups {
		body.Pages[i].Group = i
		for _, s := range g.Samples {
			row := page.Row{Sample: s.ID, Side: sideOf(i), Cells: []page.Cell{sampleCell(s)}}
			loss, why := splitCopper(s, cond)
			if why != "" {
				row.Cells = append(row.Cells, page.Cell{Text: "–", Class: page.Absent, Note: why}, page.Cell{}, page.Cell{}, page.Cell{})
				t.Rows = append(t.Rows, row)
				continue
			}
			total++
			told.add(s.ID, loss.Notices)
			rest := loss.Rest.Hi
			row.Cells = append(row.Cells, cellOf(loss.Total, s.Chosen["Cu"]),
				page.Cell{Text: span(loss.Equilibrium)},
				page.Cell{Text: span(loss.Rest), Sort: &rest},
				cellOf(withoutCells(loss.UpperLogPO2)))
			t.Rows = append(t.Rows, row)
			if m, ok := copperBar(s, loss); ok {
				body.Pages[i].Marks = append(body.Pages[i].Marks, m)
				heights = append(heights, m.Value)
				if !math.IsNaN(m.U) {
					heights = append(heights, m.Value+m.U)
				}
			}
		}
	}
	body.Axis = axisFor("copper in the slag", "wt%", heights)
	v, err := b.variable("Cu")
	if err != nil {
		return nil, nil, nil, err
	}
	body.Gutter = append([]string{"total Cu"}, gutter(v, groups)...)
	fig, err := b.figure(figure.Figure{
		Caption: fmt.Sprintf("Copper in the slag: %s. At %s a slag in balance with copper metal dissolves what the lower parts of the bars show, within the band of published copper capacities (%g to %g wt%%); bars end at the total, with its standard uncertainty.",
			whoIsShown(body, groups), cond.text(), copper.Fayalitic().Lo, copper.Fayalitic().Hi),
		Alt:    fmt.Sprintf("Stacked bars of copper in wt%% for the samples of %s on the left page and of %s on the right: the part dissolved in any case, the part that may be dissolved, and the part that cannot be.", groups[0].Label(), groups[1].Label()),
		Groups: groups.figureGroups(), Body: body,
	}, page.Facing)
	if err != nil {
		return nil, nil, nil, err
	}
	return fig, b.table(t), told.list(total), nil
}

// splitCopper splits a sample's copper; why says why it cannot.
func splitCopper(s *assay.Sample, cond copperConditions) (l copper.Loss, why string) {
	total, ok := copper.TotalCopper(s.AsReported)
	if !ok {
		return l, "copper was not determined"
	}
	l, err := copper.Split(total, copper.UnderCopper(cond.tc, cond.lo, cond.hi))
	if err != nil {
		return l, err.Error()
	}
	return l, ""
}

func copperBar(s *assay.Sample, l copper.Loss) (figure.Mark, bool) {
	m, ok := markOf(s, l.Total)
	if !ok {
		return m, false
	}
	sure := math.Min(l.Dissolved.Lo, m.Value)
	open := math.Min(l.Dissolved.Hi, m.Value) - sure
	m.Stack = []float64{sure, open, m.Value - sure - open}
	m.Details = []figure.Detail{
		{Label: "total", Value: l.Total.WithUnit()},
		{Label: "dissolved", Value: span(l.Dissolved) + " wt%"},
		{Label: "not dissolved", Value: span(l.Rest) + " wt%"},
		{Label: "from", Value: whence(s)},
	}
	return m, true
}

// span prints an interval to hundredths, which is finer than its ends are
// known.
func span(i copper.Interval) string {
	lo, hi := fmt.Sprintf("%.2f", i.Lo), fmt.Sprintf("%.2f", i.Hi)
	if lo == hi {
		return lo
	}
	return lo + "–" + hi
}

func withoutCells(q quantity.Quantity) quantity.Quantity {
	q.From = nil
	return q
}

func notDissolved() []string {
	l, err := copper.Split(quantity.New(1, "wt%", ""), copper.UnderCopper(1200, -10, -10))
	if err != nil {
		return nil
	}
	return l.RestMayBe
}
