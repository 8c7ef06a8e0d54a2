package report

import (
	"math"
	"testing"

	"smeltbook/assay"
	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
)

// 20 wt% Cu and 30 SiO2 in the ore, 1 wt% Cu and 40 SiO2 in the slag: at least
// 0.75 kg of slag for a kilogram of ore, so at least 0.0075/0.20 = 3.75 % of the
// copper lost, less what twice the uncertainties leave.
func TestLeastLossByHand(t *testing.T) {
	of := func(kind string, cu, silica float64) *assay.Sample {
		c, err := chem.NewComposition(chem.Part{ID: "SiO2", Quantity: quantity.WithU(silica, 1e-6, "wt%", "")}, chem.Part{ID: "Cu", Quantity: quantity.WithU(cu, 1e-9, "wt%", "")})
		if err != nil {
			t.Fatal(err)
		}
		return &assay.Sample{ID: kind, Kind: kind, AsReported: c}
	}
	got := leastLoss(of(assay.Slag, 1, 40), assay.Group{Samples: []*assay.Sample{of(assay.Ore, 20, 30)}})
	if math.Abs(got-3.75) > 0.01 {
		t.Errorf("at least %g %% lost, want 3.75", got)
	}
	if got := leastLoss(&assay.Sample{}, assay.Group{}); !math.IsNaN(got) {
		t.Errorf("a loss of nothing: %g", got)
	}
}
