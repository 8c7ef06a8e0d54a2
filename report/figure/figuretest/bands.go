package figuretest

import (
	"fmt"

	"smeltbook/report/figure"
)

// Bands is where copper went in some firings; in the last more came out than
// went in.
func Bands(rows int) figure.Figure {
	b := &figure.Bands{Places: []string{"slag", "ingot", "prills", "sweepings", "unaccounted for", "matte"}}
	for i := range rows {
		slag := 0.2 + 0.1*wave(i, 1)
		shares := []float64{0.4 - 0.5*slag + 0.05*wave(i, 2), 0.3, 0.006, slag, 0.02, 0}
		left := 1.0
		for _, s := range shares {
			left -= s
		}
		shares[5] = left
		if i == rows-1 {
			shares[5], shares[0] = -0.03, shares[0]+left+0.03
		}
		r := figure.BandRow{Name: fmt.Sprintf("KR-F%d", i+1), Total: "740 ± 8 g"}
		for k, place := range []int{1, 2, 5, 0, 3, 4} {
			r.Parts = append(r.Parts, figure.BandPart{Place: place, Share: shares[k], Label: fmt.Sprintf("%s %.1f %%", b.Places[place], 100*shares[k]),
				Details: []figure.Detail{{Label: "copper", Value: fmt.Sprintf("%.0f g", 740*shares[k])}}})
		}
		b.Rows = append(b.Rows, r)
	}
	return figure.Figure{ID: "whereabouts", Body: b, Caption: "Where the copper went.", Alt: "Bands from the copper charged to metal, slag and losses."}
}
