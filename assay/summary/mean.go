package summary

import (
	"fmt"
	"math"

	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// Mean is the mean of some quantities with the standard uncertainty of the
// mean (see Group.UMean); it holds no number where values below detection leave
// it open, but the limit that they leave.
func Mean(qs []quantity.Quantity, unit string) quantity.Quantity {
	g := Of(qs)
	var from []source.Cell
	for _, q := range qs {
		from = append(from, q.From...)
	}
	if !g.Mean.Known() || math.IsNaN(g.Mean.Value()) {
		q := quantity.None(quantity.Missing, math.NaN(), unit, from...)
		if g.Censored > 0 && g.Mean.High > 0 && !math.IsInf(g.Mean.High, 0) {
			q = quantity.None(quantity.Below, g.Mean.High, unit, from...)
		}
		return q
	}
	if u := g.UMean(); !math.IsNaN(u) {
		return quantity.WithU(g.Mean.Value(), u, unit, fmt.Sprintf("of the mean of %d", len(qs)), from...)
	}
	return quantity.New(g.Mean.Value(), unit, "none: the analyses carry none", from...)
}
