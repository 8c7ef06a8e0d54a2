package copper_test

import (
	"fmt"

	"smeltbook/assay/quantity"
	"smeltbook/phase/copper"
)

// A slag with 2.4 wt% copper whose sections show 0.5 % of their area as copper
// and whose sulphur was analysed.
func ExampleSplitForms() {
	cond := copper.UnderCopper(1250, -10.5, -10)
	f, err := copper.SplitForms(copper.Finds{
		Total:      quantity.WithU(2.4, 0.05, "wt%", "duplicates"),
		Conditions: &cond,
		Prills:     &copper.Prills{Area: quantity.WithU(0.005, 0.0005, "1", "12 sections")},
		Sulphur:    quantity.WithU(0.02, 0.002, "wt%", "combustion"),
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range f.All() {
		fmt.Printf("%s: %.2f to %.2f wt%%\n", p.Label, p.Wt.Lo, p.Wt.Hi)
	}
	// Output:
	// dissolved as oxide: 0.58 to 1.00 wt%
	// bound to sulphur: 0.00 to 0.10 wt%
	// entrained metal: 0.92 to 1.68 wt%
	// unreduced or weathered: 0.00 to 1.00 wt%
}
