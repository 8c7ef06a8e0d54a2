package phase

import (
	"context"
	"math"
	"testing"

	"smeltbook/assay/chem"
	"smeltbook/phase/flow"
	"smeltbook/phase/slag"
)

// TestViscosityIsOneCurve follows a slag through its liquidus: no jump there,
// crystals stiffen it below, and copper oxide, which no crystal takes, stays
// in the liquid.
func TestViscosityIsOneCurve(t *testing.T) {
	e, err := New()
	if err != nil {
		t.Fatal(err)
	}
	c, err := chem.ParseComposition("SiO2=33 Al2O3=5 FeO=54 CaO=4 MgO=1 Cu2O=3")
	if err != nil {
		t.Fatal(err)
	}
	est, err := e.Estimate(context.Background(), c, Conditions{TC: 1200})
	if err != nil {
		t.Fatal(err)
	}
	cr := est.Crystals()
	if cr == nil {
		t.Fatal("no crystals")
	}
	liquidus := est.Path.Liquidus.TC
	if f := cr.SolidFraction(liquidus + 1); f != 0 {
		t.Errorf("above the liquidus %g is solid", f)
	}
	if got, want := cr.Liquid(liquidus + 1)[slag.Cu2O], est.Melt.Wt[slag.Cu2O]; math.Abs(got-want) > 1e-6 {
		t.Errorf("Cu2O of the liquid above the liquidus is %g, of the slag %g", got, want)
	}
	half := est.MoltenAt(0.5).Value
	f, w := cr.SolidFraction(half), cr.Liquid(half)
	if kept := w[slag.Cu2O] * (1 - f); math.Abs(kept-est.Melt.Wt[slag.Cu2O]) > 0.01 {
		t.Errorf("Cu2O in the liquid comes to %g wt%% of the slag, want %g", kept, est.Melt.Wt[slag.Cu2O])
	}
	s, err := flow.New(est.Melt.Wt, flow.Settings{Crystals: cr})
	if err != nil {
		t.Fatal(err)
	}
	eta := func(tc float64) float64 {
		v, err := s.At(tc)
		if err != nil {
			t.Fatal(err)
		}
		return v.Eta
	}
	above, below := eta(liquidus+0.5), eta(liquidus-0.5)
	if r := below / above; r < 0.95 || r > 1.1 {
		t.Errorf("viscosity jumps by a factor of %g at the liquidus", r)
	}
	if stiff := eta(liquidus - 40); !(stiff > 1.5*above) {
		t.Errorf("40 °C below the liquidus the slag has %g Pa·s, above it %g", stiff, above)
	}
}
