package report

import (
	"fmt"
	"math"

	"smeltbook/assay"
	"smeltbook/phase/flow"
	"smeltbook/report/page"
)

// flowTable lists the viscosity taken, the density, the temperature of a
// stated viscosity and what sank.
func (b *builder) flowTable(groups pair, cond flowConditions, melts map[string]flowing) *page.Table {
	t := &page.Table{
		Caption: fmt.Sprintf("The slags at %.0f °C.", cond.tc),
		Columns: []page.Column{{Head: "sample"}, {Head: "model"},
			{Head: "viscosity", Unit: "Pa·s", Sub: "within a factor of two", Numeric: true},
			{Head: "density", Unit: "g/cm³", Sub: "Mills & Keene", Numeric: true},
			{Head: "density", Unit: "g/cm³", Sub: "Lange & Carmichael", Numeric: true},
			{Head: fmt.Sprintf("as stiff as %g Pa·s at", cond.reach), Unit: "°C", Numeric: true},
			{Head: "drops cleared above", Unit: "mm", Sub: "mobile to rigid drop", Numeric: true}},
		Sortable: true, Filterable: true,
		Notes: append([]string{
			fmt.Sprintf("Drops cleared: copper drops of at least this diameter sink through %g mm of quiet slag in %g minutes, from drops with a mobile surface (Hadamard and Rybczyński) to rigid ones (Stokes; Schiller & Naumann where they are fast). Drops that cling to crystals or bubbles stay.", cond.depth, cond.time),
			"The range of the temperature is that within the factor of two of the viscosity.",
		}, b.ironNote(groups)...),
	}
	for i, g := range groups {
		for _, s := range g.Samples {
			f := melts[s.ID]
			row := page.Row{Sample: s.ID, Side: sideOf(i), Cells: []page.Cell{sampleCell(s)}}
			if f.slag == nil {
				absent := page.Cell{Text: "–", Class: page.Absent, Note: f.why}
				row.Cells = append(row.Cells, textCell(f.why), absent, absent, absent, absent, absent)
				t.Rows = append(t.Rows, row)
				continue
			}
			author, year := cutYear(f.slag.Model.Name())
			row.Cells = append(row.Cells, page.Cell{Text: author, Sub: year, Note: formulaText(f.slag.Reason)},
				viscosityCell(f), propertyCell(f.density[0]), propertyCell(f.density[1]), reachCell(f.slag, cond.reach), settlingCell(f, cond, s))
			t.Rows = append(t.Rows, row)
		}
	}
	return b.table(t)
}

func viscosityCell(f flowing) page.Cell {
	if f.why != "" {
		return page.Cell{Text: "–", Class: page.Absent, Note: f.why}
	}
	eta := f.at.Eta
	c := page.Cell{Text: short(eta), Sub: shortSpan(f.at.Lo, f.at.Hi), Sort: &eta, Note: f.slag.Model.Source()}
	if outside(f.at.Notices) {
		c.Class = page.OutOfRange
	}
	return c
}

// propertyCell prints a computed property with its band.
func propertyCell(p flow.Property) page.Cell {
	if math.IsNaN(p.Value) {
		return page.Cell{Text: "–", Class: page.Absent}
	}
	v := p.Value
	c := page.Cell{Text: fmt.Sprintf("%.2f", v), Sub: fmt.Sprintf("± %.2f", (p.Hi-p.Lo)/2), Sort: &v, Note: p.Source}
	if outside(p.Notices) {
		c.Class = page.OutOfRange
	}
	return c
}

func reachCell(s *flow.Slag, eta float64) page.Cell {
	r, err := s.TemperatureAt(eta)
	if err != nil {
		return page.Cell{Text: "–", Class: page.Absent, Note: err.Error()}
	}
	tc := r.TC
	c := page.Cell{Text: fmt.Sprintf("%.0f", tc), Sort: &tc}
	switch lo, hi := math.IsNaN(r.Lo), math.IsNaN(r.Hi); {
	case !lo && !hi:
		c.Sub = fmt.Sprintf("%.0f–%.0f", r.Lo, r.Hi)
	case !lo:
		c.Sub = fmt.Sprintf("%.0f or more", r.Lo)
	case !hi:
		c.Sub = fmt.Sprintf("%.0f or less", r.Hi)
	}
	if r.Stops {
		c.Note = "the slag passes this viscosity by ceasing to flow, when its crystals touch or its liquid ends"
	}
	if v, err := s.At(tc); err == nil && outside(v.Notices) {
		c.Class = page.OutOfRange
		c.Note = "outside the model's range"
	}
	return c
}

func settlingCell(f flowing, cond flowConditions, s *assay.Sample) page.Cell {
	bath, _, err := f.slag.Bath(cond.tc)
	if err != nil {
		return page.Cell{Text: "–", Class: page.Absent, Note: err.Error()}
	}
	x, err := bath.Settle(1e-3, cond.depth/1e3, cond.time*60)
	if err != nil {
		return page.Cell{Text: "–", Class: page.Absent, Note: err.Error()}
	}
	slow := 1e3 * x.ClearedSlow
	return page.Cell{Text: shortSpan(1e3*x.ClearedFast, slow), Sort: &slow,
		Note: fmt.Sprintf("a drop of 1 mm sinks %s mm a minute in %s", shortSpan(6e4*x.Slow, 6e4*x.Fast), s.ID)}
}
