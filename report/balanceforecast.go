package report

import (
	"fmt"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/balance"
	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/summary"
	"smeltbook/report/page"
)

// forecastOxides are those of the slag told beside what was found.
var forecastOxides = []string{"SiO2", "Al2O3", "FeO", "CaO", "MgO", "K2O"}

// forecastTable sets what the charge should have given beside what was found.
func (b *builder) forecastTable(fired []firedBalance) *page.Table {
	how := balance.Usual()
	t := &page.Table{
		Caption: "What the charge should have given by stoichiometry, and below what was found.",
		Columns: byFiring("", fired, ""),
		Notes: []string{fmt.Sprintf("The forecast knows weights and analyses of what went in, not the firing: copper to the metal except what matte and slag take, iron to the slag as FeO, volatiles gone. Assumed: %s Cu and %s S in the slag, %s of the sulphur kept, %s of the alkalis kept. A firing that did not melt through gives less metal and more slag.",
			how.CopperInSlag.WithUnit(), how.SlagSulphur.WithUnit(), how.SulphurKept.Text(), how.AlkalisKept.Text())},
	}
	b.balances.forecast = true
	row := func(name string, of func(firedBalance) (forecast, found quantity.Quantity)) {
		r := page.Row{Cells: []page.Cell{textCell(name)}}
		for _, x := range fired {
			if x.why != "" {
				r.Cells = append(r.Cells, noCell(x.why))
				continue
			}
			q, found := of(x)
			c := inOneLine(cellOf(withoutCells(q)))
			v, u := quantity.Number(found.Value, found.U)
			c.Sub = "found " + v
			c.Note = strings.Join(nonEmpty(c.Note, "found "+v+" ± "+u), "; ")
			r.Cells = append(r.Cells, c)
		}
		t.Rows = append(t.Rows, r)
	}
	row("slag (kg)", func(x firedBalance) (forecast, found quantity.Quantity) {
		return x.forecast.SlagMass, x.weighed(assay.Slag, assay.Dust)
	})
	row("metal (kg)", func(x firedBalance) (forecast, found quantity.Quantity) {
		return x.forecast.MetalMass, x.weighed(assay.Metal, assay.Prill)
	})
	row("matte (g)", func(x firedBalance) (forecast, found quantity.Quantity) {
		return x.forecast.MatteMass.Scale(1000, "g"), x.weighed(assay.Matte).Scale(1000, "g")
	})
	for _, id := range forecastOxides {
		row(formulaText(id)+" of the slag (wt%)", func(x firedBalance) (forecast, found quantity.Quantity) {
			q, _ := x.forecast.Slag.Get(id)
			return q, b.foundOxide(x, id)
		})
	}
	return b.table(t)
}

// weighed is what came out of some kinds, in kg.
func (x firedBalance) weighed(kinds ...string) quantity.Quantity {
	var qs []quantity.Quantity
	for _, s := range x.Streams {
		for _, k := range kinds {
			if s.Out && s.Kind == k {
				qs = append(qs, s.Mass)
			}
		}
	}
	return quantity.Sum("kg", qs...)
}

// foundOxide is the mean of an oxide over the slag pieces of a firing, all parts
// that do not leave on ignition summing to 100.
func (b *builder) foundOxide(x firedBalance, id string) quantity.Quantity {
	var qs []quantity.Quantity
	for _, s := range b.study.Campaign.Samples {
		if s.Run != x.run.ID || s.Kind != assay.Slag || s.Incomplete != "" {
			continue
		}
		if c, err := s.AsReported.AsOxides(chem.AsFeO).On(chem.Normalised); err == nil {
			if q, ok := c.Get(id); ok {
				qs = append(qs, q)
			}
		}
	}
	return summary.Mean(qs, "wt%")
}
