package phase

import (
	"context"
	"math"
	"strings"
	"testing"

	"smeltbook/assay/chem"
)

func TestEstimateFollowsTheFreezing(t *testing.T) {
	e, err := New()
	if err != nil {
		t.Fatal(err)
	}
	c, err := chem.ParseComposition("SiO2=34.4 Al2O3=6.8 FeO=49 MgO=1.2 CaO=1.6")
	if err != nil {
		t.Fatal(err)
	}
	est, err := e.Estimate(context.Background(), c, Conditions{TC: 1200})
	if err != nil {
		t.Fatal(err)
	}
	if est.Path == nil || est.Activities == nil || est.Reductions == nil {
		t.Fatalf("path %v, activities %v, reductions %v", est.Path, est.Activities, est.Reductions)
	}
	t90, half := est.MoltenAt(0.9), est.MoltenAt(0.5)
	if !(est.Liquidus.Value > t90.Value && t90.Value > half.Value) {
		t.Errorf("liquidus %s, 90 %% molten %s, half %s: not in order", est.Liquidus.Text(), t90.Text(), half.Text())
	}
	if t90.U != est.Liquidus.U || !strings.Contains(t90.UNote, "liquidus") {
		t.Errorf("± of the molten share: %g, %q", t90.U, t90.UNote)
	}
	if got := est.Path.FractionLiquid(t90.Value); math.Abs(got-0.9) > 1e-3 {
		t.Errorf("at the temperature with 90 %% molten %.4f is liquid", got)
	}
	if s := est.Solidus(); !s.Known() && s.UNote == "" {
		t.Error("no solidus and no reason")
	}
	if est.Activities.TC != 1200 {
		t.Errorf("activities at %g °C, want the working temperature", est.Activities.TC)
	}
}
