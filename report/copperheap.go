package report

import (
	"fmt"
	"math"
	"slices"

	"smeltbook/assay"
	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
	"smeltbook/assay/summary"
	"smeltbook/phase/copper"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
)

// toSlag are oxides of the ore that charcoal does not reduce and the metal does
// not take (common practice); iron may go into the copper.
var toSlag = []string{"SiO2", "Al2O3", "TiO2"}

// heapTable counts the slags of the right page back to the ore; nil where the
// notebook names no ore.
func (b *builder) heapTable(e *notebook.Entry, groups pair, o copperOptions, a *assumer) (*page.Table, source.Notices, bool) {
	if o.Ore == "" {
		if len(o.ToSlag)+len(o.OnlyFromOre) > 0 {
			b.fail(e, "NO_ORE", "to_slag and only_from_ore compare slag with an ore; name the group of the ore with ore:")
			return nil, nil, false
		}
		return nil, nil, true
	}
	gs, ok := b.groups(e, []string{o.Ore})
	if !ok {
		return nil, nil, false
	}
	ore := gs[0]
	if len(o.ToSlag) == 0 {
		o.ToSlag = toSlag
		a.assume("to_slag", fmt.Sprintf("all %s of the ore went to the slag", formulaText(list(toSlag))))
	}
	names := slices.Clone(o.ToSlag)
	for _, n := range o.OnlyFromOre {
		if !slices.Contains(names, n) {
			names = append(names, n)
		}
	}
	for _, n := range names {
		if _, ok := chem.LookupAnalyte(n); !ok {
			b.fail(e, "UNKNOWN_OXIDE", "there is no oxide or element %q to trace the ore by", n)
			return nil, nil, false
		}
	}
	oreCu, n := meanCopper(ore.Samples)
	if !oreCu.Known() {
		b.lack(e, "ORE_WITHOUT_COPPER", "the group %q holds no ore whose copper is analysed, so slag cannot be counted back to it", ore.Name)
		return nil, nil, true
	}
	t := &page.Table{
		Caption: fmt.Sprintf("Slag that belongs to one kilogram of copper, if the ore of the slags of %s was like %s (%d analyses, %s Cu).", groups[1].Name, ore.Label(), n, oreCu.WithUnit()),
		Columns: []page.Column{{Head: "sample"}}, Sortable: true, Filterable: true,
		Notes: []string{"Slag for a kilogram of ore by each oxide is its content in the ore over that in the slag, ± one standard uncertainty; the bounds behind take it twice. An oxide that all went to the slag bounds it from below, because lining, flux and ash only add slag; one that only the ore brought bounds it from above. The ore is the one analysed here: no one knows what was charged then."},
	}
	for _, n := range names {
		t.Columns = append(t.Columns, page.Column{Head: "by " + formulaText(n), Unit: "kg slag/kg ore", Sub: boundWord(n, o), Numeric: true})
	}
	t.Columns = append(t.Columns, page.Column{Head: "slag for 1 kg Cu", Unit: "kg", Numeric: true}, page.Column{Head: "of the ore's Cu won", Unit: "%", Numeric: true})
	var told sampleNotices
	for _, s := range groups[1].Samples {
		row, ns := heapRow(s, ore, oreCu, names, o)
		told.add(s.ID, ns)
		t.Rows = append(t.Rows, row)
	}
	return b.table(t), told.list(len(groups[1].Samples)), true
}

func boundWord(name string, o copperOptions) string {
	low, high := slices.Contains(o.ToSlag, name), slices.Contains(o.OnlyFromOre, name)
	switch {
	case low && high:
		return "at least and at most"
	case low:
		return "at least"
	}
	return "at most"
}

func heapRow(s *assay.Sample, ore assay.Group, oreCu quantity.Quantity, names []string, o copperOptions) (page.Row, source.Notices) {
	row := page.Row{Sample: s.ID, Side: page.Dug, Cells: []page.Cell{sampleCell(s)}}
	absent := func(why string) page.Cell { return page.Cell{Text: "–", Class: page.Absent, Note: why} }
	var tracers []copper.Tracer
	for _, n := range names {
		inOre, inSlag := meanPart(ore.Samples, n), asOxide(s, n)
		if !inOre.Known() || !inSlag.Known() || inSlag.Value <= 0 || inOre.Value <= 0 {
			row.Cells = append(row.Cells, absent(n+" is not known of ore and slag alike"))
			continue
		}
		t := copper.Tracer{Name: n, Ore: inOre, Slag: inSlag, AllToSlag: slices.Contains(o.ToSlag, n), OnlyFromOre: slices.Contains(o.OnlyFromOre, n)}
		tracers = append(tracers, t)
		x := inOre.Value / inSlag.Value
		u := x * math.Hypot(orZero(inOre.U)/inOre.Value, orZero(inSlag.U)/inSlag.Value)
		row.Cells = append(row.Cells, cellOf(quantity.WithU(x, u, "1", "analyses of ore and slag, taken as independent")))
	}
	slagCu, ok := copper.TotalCopper(s.AsReported)
	if !ok {
		row.Cells = append(row.Cells, absent("copper was not determined"), absent("copper was not determined"))
		return row, nil
	}
	y, err := copper.SlagPerCopper(oreCu, slagCu, tracers)
	if err != nil {
		row.Cells = append(row.Cells, absent(err.Error()), absent(err.Error()))
		var ns source.Notices
		ns.Add(source.Warning, "NO_YIELD", source.Cell{}, "no slag to a kilogram of copper: %v", err)
		return row, ns
	}
	lo := y.SlagPerCopper.Lo
	row.Cells = append(row.Cells, page.Cell{Text: shortSpan(lo, y.SlagPerCopper.Hi), Sort: &lo}, wonCell(y.Recovered))
	return row, y.Notices
}

func wonCell(i copper.Interval) page.Cell {
	hi := 100 * i.Hi
	if i.Lo <= 0 {
		return page.Cell{Text: fmt.Sprintf("≤ %.0f", hi), Sort: &hi}
	}
	return page.Cell{Text: fmt.Sprintf("%.0f–%.0f", 100*i.Lo, hi), Sort: &hi}
}

func orZero(x float64) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return x
}

// asOxide returns a part of a sample as reported, iron as FeO.
func asOxide(s *assay.Sample, id string) quantity.Quantity {
	q, ok := s.AsReported.AsOxides(chem.AsFeO).Get(id)
	if !ok {
		return quantity.None(quantity.Missing, math.NaN(), "wt%")
	}
	return q
}

// meanPart is the mean of a part over samples as reported, iron as FeO.
func meanPart(samples []*assay.Sample, id string) quantity.Quantity {
	var qs []quantity.Quantity
	for _, s := range samples {
		qs = append(qs, asOxide(s, id))
	}
	return summary.Mean(qs, "wt%")
}
