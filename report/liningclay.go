package report

import (
	"fmt"
	"math"

	"smeltbook/assay"
	"smeltbook/assay/balance"
	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
	"smeltbook/assay/summary"
	"smeltbook/report/figure"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
)

// clayShares is the share of clay in the slags of two pages.
type clayShares struct {
	slags pair
	ore   assay.Group
	clays pair // clay of each page
	by    map[string]clayOf
	told  source.Notices
}

type clayOf struct {
	balance.ClayShare
	atMost float64 // share if nothing but clay brought the tracers, the least of them; NaN where unknown
	rest   string  // what the rest was taken to be
	why    string
}

// clayShare reckons the share of clay in slag; nil where the notebook does not
// ask for it.
func (b *builder) clayShare(e *notebook.Entry, o liningOptions) (*clayShares, bool) {
	if len(o.Slag) == 0 && o.Ore == "" && len(o.Clay) == 0 {
		return nil, true
	}
	if len(o.Slag) != 2 || o.Ore == "" || len(o.Clay) == 0 || len(o.Clay) > 2 {
		b.fail(e, "CLAY_SHARE", "the share of clay in slag needs two groups of slag, an ore and one or two clays; write for example slag: [fired, dug], ore: ore, clay: [fired_walls, dug_walls]")
		return nil, false
	}
	if len(o.Clay) == 1 {
		o.Clay = append(o.Clay, o.Clay[0])
	}
	gs, ok := b.groups(e, []string{o.Slag[0], o.Slag[1], o.Ore, o.Clay[0], o.Clay[1]})
	if !ok {
		return nil, false
	}
	x := &clayShares{slags: pair{gs[0], gs[1]}, ore: gs[2], clays: pair{gs[3], gs[4]}, by: map[string]clayOf{}}
	rest, err := meanGangue(x.ore.Samples)
	if err != nil {
		b.lack(e, "CLAY_SHARE", "no share of clay in slag: the ore of group %q cannot be used: %v", x.ore.Name, err)
		return nil, true
	}
	var told sampleNotices
	total := 0
	for i, g := range x.slags {
		clay, err := meanGangue(x.clays[i].Samples)
		if err != nil {
			b.lack(e, "CLAY_SHARE", "no share of clay in slag: the clay of group %q cannot be used: %v", x.clays[i].Name, err)
			return nil, true
		}
		for _, s := range g.Samples {
			c := b.clayIn(s, rest, clay)
			if c.why != "" {
				c.Notices.Add(source.Warning, "NO_CLAY_SHARE", source.Cell{}, "no share of clay: %s", c.why)
			} else {
				total++
			}
			told.add(s.ID, c.Notices)
			x.by[s.ID] = c
		}
	}
	x.told = told.list(total)
	return x, true
}

func (b *builder) clayIn(s *assay.Sample, rest, clay chem.Composition) clayOf {
	slag, err := gangue(s)
	if err != nil {
		return clayOf{why: err.Error()}
	}
	c := clayOf{rest: "ore alone", atMost: nan}
	if charge, ok := b.chargeRest(s.Run); ok {
		rest, c.rest = charge, "charge of "+s.Run
	}
	if c.ClayShare, err = balance.ShareOfClayFrom(slag, rest, clay); err != nil {
		return clayOf{why: err.Error()}
	}
	c.Notices = plainly(c.Notices)
	if only, err := balance.ShareOfClayFrom(slag, chem.Composition{}, clay); err == nil {
		c.atMost = 1
		for _, t := range only.Each {
			c.atMost = math.Min(c.atMost, t.Share.Value+2*orZero(t.Share.U))
		}
		c.High = math.Max(c.Low, math.Min(c.High, c.atMost))
	}
	return c
}

// plainly retells notices whose numbers stand in the table, so that they can be
// told once of all samples.
func plainly(ns source.Notices) source.Notices {
	var out source.Notices
	for _, n := range ns {
		switch n.Code {
		case "CLAY_SHARE_IMPOSSIBLE":
			n.Message = "a tracer gives a share below zero or above all by more than twice its uncertainty: the rest of the slag held less of it than was taken, or the clay is not this one"
		case "CLAY_TRACERS_DISAGREE":
			n.Message = "the tracers disagree by more than 30 % of their mean: the gangue of the ore, the flux or the ash brought one of them too"
		}
		out.AddNew(source.Notices{n})
	}
	return out
}

// gangue is a sample without copper and volatiles, all iron as FeO, summing to
// 100 wt%: the common basis of slag, ore and clay.
func gangue(s *assay.Sample) (chem.Composition, error) {
	if s.Incomplete != "" {
		return chem.Composition{}, fmt.Errorf("%s", s.Incomplete)
	}
	return balance.MixingBasis(s.AsReported)
}

// gangueParts are the parts that trace clay or tell of ash.
var gangueParts = []string{"Al2O3", "TiO2", "K2O"}

// meanGangue is the mean of the tracers over samples that can be used.
func meanGangue(samples []*assay.Sample) (chem.Composition, error) {
	qs := map[string][]quantity.Quantity{}
	n := 0
	for _, s := range samples {
		c, err := gangue(s)
		if err != nil {
			continue
		}
		n++
		for _, id := range gangueParts {
			if q, ok := c.Get(id); ok {
				qs[id] = append(qs[id], q)
			}
		}
	}
	if n == 0 {
		return chem.Composition{}, fmt.Errorf("none of its samples has a complete analysis")
	}
	var parts []chem.Part
	for _, id := range gangueParts {
		if len(qs[id]) > 0 {
			parts = append(parts, chem.Part{ID: id, Quantity: summary.Mean(qs[id], "wt%")})
		}
	}
	return chem.NewComposition(parts...)
}

func (b *builder) clayFigure(x *clayShares) (*page.Figure, error) {
	body := &figure.Facing{Bars: "from the least to the greatest by any tracer"}
	heights := []float64{0}
	for i, g := range x.slags {
		body.Pages[i].Group = i
		for _, s := range g.Samples {
			c := x.by[s.ID]
			if c.why != "" {
				continue
			}
			m := figure.Mark{Sample: s.ID, Value: 50 * (c.Low + c.High), U: nan, Ends: &figure.Ends{Lo: 100 * c.Low, Hi: 100 * c.High}}
			for _, t := range c.Each {
				m.Details = append(m.Details, figure.Detail{Label: "by " + formulaText(t.Name), Value: t.Share.Scale(100, "%").WithUnit()})
			}
			m.Details = append(m.Details, figure.Detail{Label: "from", Value: whence(s)})
			body.Pages[i].Marks = append(body.Pages[i].Marks, m)
			heights = append(heights, 100*c.Low, 100*c.High)
		}
	}
	body.Axis = axisFor("clay in the slag", "%", heights)
	body.Gutter = medians(x.slags, body, "%", "of the middles")
	return b.figure(figure.Figure{
		Caption: fmt.Sprintf("Share of molten furnace wall in the slag: %s. Bars reach from the least to the greatest share that Al₂O₃ and TiO₂ give, within twice their uncertainty; the table tells which of them disagree.", whoIsShown(body, x.slags)),
		Alt:     fmt.Sprintf("Share of clay in per cent in the slags of %s on the left page and of %s on the right, with bars from the least to the greatest by two tracers.", x.slags[0].Label(), x.slags[1].Label()),
		Groups:  x.slags.figureGroups(), Body: body,
	}, page.Facing)
}

func (b *builder) clayTable(x *clayShares) *page.Table {
	t := &page.Table{
		Caption: fmt.Sprintf("Share of clay in the slag by each tracer: clay of %s on the left page, of %s on the right; the rest of the slag taken as the charge of the firing where the field sheet has it, else as %s, both without copper.", x.clays[0].Name, x.clays[1].Name, x.ore.Label()),
		Columns: []page.Column{{Head: "sample"}, {Head: "by Al₂O₃", Unit: "%", Numeric: true}, {Head: "by TiO₂", Unit: "%", Numeric: true},
			{Head: "from – to", Unit: "%", Numeric: true}, {Head: "tracers apart by", Unit: "points of %", Numeric: true},
			{Head: "at most", Unit: "%", Sub: "if only clay brought them", Numeric: true}, {Head: "rest of the slag"}},
		Sortable: true, Filterable: true,
		Notes: []string{"Slag, ore, flux and clay all without copper, sulphur and volatiles, iron as FeO, summing to 100. Where the rest is ore alone, flux is left out of it: flux that holds less of a tracer than the ore makes the share come out too small, even below zero. At most: the share if ore, flux and ash had brought none, the least by any tracer with twice its uncertainty; no slag holds more of this clay. One clay or ore may not be the mean used here."},
	}
	for i, g := range x.slags {
		for _, s := range g.Samples {
			c := x.by[s.ID]
			row := page.Row{Sample: s.ID, Side: sideOf(i), Cells: []page.Cell{sampleCell(s)}}
			if c.why != "" {
				absent := page.Cell{Text: "–", Class: page.Absent, Note: c.why}
				row.Cells = append(row.Cells, absent, absent, absent, absent, absent, absent)
				t.Rows = append(t.Rows, row)
				continue
			}
			for _, name := range []string{"Al2O3", "TiO2"} {
				row.Cells = append(row.Cells, tracerCell(c, name))
			}
			hi := 100 * c.High
			row.Cells = append(row.Cells, page.Cell{Text: fmt.Sprintf("%.0f–%.0f", 100*c.Low, hi), Sort: &hi}, apartCell(c), atMostCell(c), textCell(c.rest))
			t.Rows = append(t.Rows, row)
		}
	}
	return b.table(t)
}

func tracerCell(c clayOf, name string) page.Cell {
	for _, t := range c.Each {
		if t.Name == name {
			q := t.Share.Scale(100, "%")
			q.From = nil
			return cellOf(q)
		}
	}
	return page.Cell{Text: "–", Class: page.Absent, Note: name + " is not known of slag, ore and clay alike"}
}

func apartCell(c clayOf) page.Cell {
	if len(c.Each) < 2 {
		return page.Cell{Text: "–", Class: page.Absent, Note: "one tracer alone cannot disagree"}
	}
	d := 100 * math.Abs(c.Each[0].Share.Value-c.Each[1].Share.Value)
	out := page.Cell{Text: fmt.Sprintf("%.1f", d), Sort: &d}
	if outside(c.Notices) {
		out.Class = page.Flagged
	}
	return out
}

func atMostCell(c clayOf) page.Cell {
	if math.IsNaN(c.atMost) {
		return page.Cell{Text: "–", Class: page.Absent}
	}
	x := 100 * c.atMost
	return page.Cell{Text: fmt.Sprintf("%.0f", x), Sort: &x}
}
