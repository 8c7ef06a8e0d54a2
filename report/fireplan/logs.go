package fireplan

import (
	"fmt"

	"smeltbook/assay"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
	"smeltbook/phase/furnace"
)

// Log is the air of a past firing held against its charcoal.
type Log struct {
	Run    string
	Air    quantity.Quantity // L/min as entered
	Hours  quantity.Quantity
	Burnt  quantity.Quantity // kg
	Budget furnace.Budget
	At     source.Cell
}

// logs makes the budget of every firing that has air, hours of blowing and
// charcoal. Air is taken as free air of a temperature in °C.
func logs(c *assay.Campaign, carbon, airTC float64) (out []Log, ns source.Notices) {
	for _, r := range c.Runs {
		air, okAir := r.Number("air", "L/min")
		hours, okHours := r.Number("blowing", "h")
		burnt, okBurnt := r.Mass("charcoal")
		if !okAir || !okHours || !okBurnt {
			continue
		}
		if left, ok := r.Mass("charcoal left"); ok {
			burnt = quantity.Difference(burnt, left)
		}
		normal := air.Scale(furnace.Normal(1, airTC, 1.01325), "L/min")
		b, err := furnace.BudgetOf(normal, hours, burnt, quantity.WithU(carbon, 0.04, "1", "assumed"))
		if err != nil {
			ns.Add(source.Warning, "NO_AIR_BUDGET", r.At, "%s: %v", r.ID, err)
			continue
		}
		for _, n := range b.Notices {
			n.At, n.Message = r.Cell("air"), fmt.Sprintf("%s: %s", r.ID, n.Message)
			ns = append(ns, n)
		}
		out = append(out, Log{r.ID, air, hours, burnt, b, r.At})
	}
	return out, ns
}
