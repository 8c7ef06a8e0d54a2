package index

import (
	"math"
	"testing"

	"smeltbook/assay/source/checkdata"
	"smeltbook/phase/internal/worked"
	"smeltbook/phase/slag"
)

// The names stand for the stoichiometric silicates they describe (common
// practice of smelting texts).
func TestSilicateNames(t *testing.T) {
	for degree, want := range map[float64]string{0.5: "subsilicate", 1: "singulosilicate", 1.5: "sesquisilicate", 2: "bisilicate", 3: "trisilicate", 9: "more siliceous than a trisilicate"} {
		if got := SilicateName(degree); got != want {
			t.Errorf("degree %v is a %s, want %s", degree, got, want)
		}
	}
	if got := SilicateName(math.NaN()); got != "" {
		t.Errorf("no degree has the name %q", got)
	}
}

func TestModulusAndPolymerisation(t *testing.T) {
	ferrous := worked.Melt(t, pb31text).Wt
	checkdata.Near(t, "modulus without ferric iron", ViscosityModulus(ferrous), Bachmann(ferrous), 1e-12)
	w := slag.Wt{slag.SiO2: 30, slag.FeO: 40, slag.Fe2O3: 20, slag.CaO: 10}
	checkdata.Near(t, "modulus", ViscosityModulus(w), 70.0/30, 1e-12)
	checkdata.Near(t, "Q of a chain silicate", Polymerisation(2), 2, 0)
}

const pb31text = "SiO2=34.4 TiO2=0.5 Al2O3=6.8 FeO=49.0 MnO=2.2 MgO=1.2 CaO=1.6 K2O=1.2 SO3=0.3 CuO=3.0"
