package melt

import (
	"math"
	"testing"

	"smeltbook/phase/slag"
)

// TestWithOxygen compares the ferric share with one worked by hand for slag
// PB-31 of Wątroba 2012 (MSc dissertation, UCL, table 15; melt basis) at
// 1250 °C and log fO2 = −10 from the equation of Kress & Carmichael 1991.
func TestWithOxygen(t *testing.T) {
	w := slag.Wt{slag.SiO2: 34.539, slag.TiO2: 0.502, slag.Al2O3: 6.827, slag.FeO: 49.198, slag.MnO: 2.209,
		slag.MgO: 1.205, slag.CaO: 1.606, slag.K2O: 1.205, slag.Cu2O: 2.709}
	got, ns, err := WithOxygen(w, -10, 1250)
	if err != nil {
		t.Fatal(err)
	}
	ferric := got[slag.Fe2O3] * 2 / slag.Fe2O3.Mass()
	ferrous := got[slag.FeO] / slag.FeO.Mass()
	if share := ferric / (ferric + ferrous); math.Abs(share-0.0223) > 0.0001 {
		t.Errorf("ferric share %.5f, want 0.0223", share)
	}
	if len(ns) != 1 || ns[0].Code != "FERRIC_SHARE_EXTRAPOLATED" {
		t.Errorf("notices %v", ns)
	}
	if back := got.AllFeO(); math.Abs(back[slag.FeO]-w.Normalise()[slag.FeO]) > 1e-9 {
		t.Errorf("iron was lost: %g of %g wt%% FeO", back[slag.FeO], w[slag.FeO])
	}
	more, _, err := WithOxygen(w, -6, 1250)
	if err != nil || more[slag.Fe2O3] <= got[slag.Fe2O3] {
		t.Errorf("more oxygen gave %g wt%% Fe2O3 after %g (%v)", more[slag.Fe2O3], got[slag.Fe2O3], err)
	}
	for name, err := range map[string]error{
		"no iron":       func() error { _, _, err := WithOxygen(slag.Wt{slag.SiO2: 100}, -10, 1250); return err }(),
		"no number":     func() error { _, _, err := WithOxygen(w, math.NaN(), 1250); return err }(),
		"far too cold":  func() error { _, _, err := WithOxygen(w, -10, -300); return err }(),
		"not an amount": func() error { _, _, err := WithOxygen(slag.Wt{slag.FeO: -1}, -10, 1250); return err }(),
	} {
		if err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}
