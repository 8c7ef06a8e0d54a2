package phase

import (
	"context"
	"math"
	"testing"

	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
)

// Parts below their limit: what is counted for them lies between zero and the
// limit, and both ends are told.
func TestBelowLimitInEstimate(t *testing.T) {
	wt := func(id string, x float64) chem.Part {
		return chem.Part{ID: id, Quantity: quantity.WithU(x, 0.01*x, "wt%", "")}
	}
	c, err := chem.NewComposition(wt("SiO2", 30), wt("FeO", 60), wt("Al2O3", 6), chem.Part{ID: "CaO", Quantity: quantity.None(quantity.Below, 4, "wt%")})
	if err != nil {
		t.Fatal(err)
	}
	at := func(share float64) Estimate {
		t.Helper()
		e, err := estimator(t).Estimate(context.Background(), c, Conditions{TC: 1200, LogPO2: [2]float64{-11, -9}, Draws: 50, Seed: 1, LimitShare: share})
		if err != nil {
			t.Fatal(err)
		}
		return e
	}
	zero, half, limit := at(0), at(0.5), at(1)
	if zero.Liquidus.Value != zero.WithLimits[0] || limit.Liquidus.Value != zero.WithLimits[1] {
		t.Errorf("%g and %g counted, %v told", zero.Liquidus.Value, limit.Liquidus.Value, zero.WithLimits)
	}
	lo, hi := math.Min(zero.WithLimits[0], zero.WithLimits[1]), math.Max(zero.WithLimits[0], zero.WithLimits[1])
	if !(half.Liquidus.Value > lo && half.Liquidus.Value < hi) || hi-lo < 1 {
		t.Errorf("half the limit gives %g, the ends are %g and %g", half.Liquidus.Value, lo, hi)
	}
	if math.Abs(zero.Spread.SD-half.Spread.SD) > 1e-3 { // °C, what the search for the liquidus leaves open
		t.Errorf("the draws depend on what is counted: %g and %g", zero.Spread.SD, half.Spread.SD)
	}
	if _, err := estimator(t).Estimate(context.Background(), c, Conditions{LimitShare: 2}); err == nil {
		t.Error("twice the limit is counted")
	}
}
