package report

import (
	"fmt"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/quantity"
)

// richFiring is what a firing of this campaign won of the copper of its ore.
type richFiring struct {
	run, stock string
	grade      quantity.Quantity // wt% Cu of the ore
	won        quantity.Quantity // share: ingot and prills, counted as copper
}

// firedOf returns the firings of some ores whose metal was weighed: the check
// of what is reckoned.
func (b *builder) firedOf(stocks []richStock) []richFiring {
	var out []richFiring
	for _, run := range b.study.Campaign.Runs {
		stock := run.Text("ore stock")
		ore, weighed := run.Mass("ore")
		for _, s := range stocks {
			if !weighed || s.name != stock {
				continue
			}
			grade, _ := meanCopper(b.study.Campaign.OfStock(stock, assay.Ore))
			metal := run.PrillsTotal()
			if ingot, ok := run.Mass("ingot"); ok {
				if ingot.Value == 0 && !ingot.HasU() {
					ingot.U = 0 // no ingot was found: nothing was weighed
				}
				if metal.Known() {
					metal = quantity.Sum("kg", ingot, metal)
				} else {
					metal = ingot
				}
			}
			if !metal.Known() || !grade.Known() || grade.Value == 0 {
				continue
			}
			out = append(out, richFiring{run.ID, stock, grade, quantity.Ratio(metal, quantity.Product(ore, grade.Scale(0.01, "1"), "kg"), "1")})
		}
	}
	return out
}

func (r *richness) firedCaption() string {
	if len(r.fired) == 0 {
		return ""
	}
	return ", and what our own firings won, ingot and prills counted as copper (± twice the standard uncertainty)"
}

// firedText sets what was won beside what was reckoned.
func (r *richness) firedText() string {
	if len(r.fired) == 0 {
		return ""
	}
	var parts, over []string
	for _, f := range r.fired {
		if f.won.Value-2*orZero(f.won.U) > 1 {
			over = append(over, f.run)
		}
		parts = append(parts, fmt.Sprintf("%s %s with %s", f.run, percent(f.won).WithUnit(), f.stock))
	}
	text := "Won in the firings, as ingot and prills: " + strings.Join(parts, "; ") + ". A firing far below the line is one whose slag did not run or did not part from its metal; no sum of grades foresees that."
	if len(over) > 0 {
		text += " More metal than the ore held copper cannot be won, and no bar stands for " + list(over) + ": look at the weights of ore and metal and their units, at the copper of the ore, and whether iron or slag was weighed with the metal."
	}
	return text
}
