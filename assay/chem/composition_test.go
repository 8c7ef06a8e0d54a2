package chem

import (
	"math"
	"strings"
	"testing"

	"smeltbook/assay/quantity"
	"smeltbook/assay/source/checkdata"
)

func parse(t *testing.T, text string) Composition {
	t.Helper()
	c, err := ParseComposition(text)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func TestTotalPassesOnBoundsAndUncertainty(t *testing.T) {
	c, err := NewComposition(
		Part{"SiO2", quantity.WithU(40, 0.3, "wt%", "")},
		Part{"FeO", quantity.WithU(50, 0.4, "wt%", "")},
		Part{"CaO", quantity.None(quantity.Below, 0.5, "wt%")},
		Part{"MgO", quantity.None(quantity.NotFound, math.NaN(), "wt%")})
	if err != nil {
		t.Fatal(err)
	}
	s := c.Total()
	checkdata.Near(t, "measured", s.Measured, 90, 0)
	checkdata.Near(t, "with limits", s.WithLimits, 90.5, 0)
	checkdata.Near(t, "u", s.U, 0.5, 1e-12)
	c.Parts[0].Quantity = quantity.New(40, "wt%", "none")
	if u := c.Total().U; !math.IsNaN(u) {
		t.Errorf("u of a total with an unknown u = %v", u)
	}
}

func TestNewCompositionRefuses(t *testing.T) {
	wt := func(x float64) quantity.Quantity { return quantity.New(x, "wt%", "") }
	tests := []struct {
		name  string
		parts []Part
		say   string
	}{
		{"unknown", []Part{{"SiO3", wt(1)}}, `"SiO3"`},
		{"twice", []Part{{"SiO2", wt(1)}, {"SiO2", wt(2)}}, "twice"},
		{"negative", []Part{{"CaO", wt(-0.1)}}, "negative"},
		{"ppm", []Part{{"Zn", quantity.New(300, "ppm", "")}}, "ppm"},
		{"infinite", []Part{{"CaO", wt(math.Inf(1))}}, "finite"},
	}
	for _, tt := range tests {
		if _, err := NewComposition(tt.parts...); err == nil || !strings.Contains(err.Error(), tt.say) {
			t.Errorf("%s: error %v, want one with %q", tt.name, err, tt.say)
		}
	}
	if _, err := NewComposition(Part{"LOI", wt(-3)}, Part{"O=S", wt(-0.2)}); err != nil {
		t.Errorf("a gain on ignition and a printed correction may be negative: %v", err)
	}
}

func TestParseCompositionRefuses(t *testing.T) {
	for _, s := range []string{"", "SiO2", "SiO2=x", "SiO2=0x1p4", "SiO2=1_0", "SiO2=NaN", "SiO2=Inf", "SiO2=30,5 FeO=2", "SiO2=", "Sio2=3"} {
		if c, err := ParseComposition(s); err == nil {
			t.Errorf("ParseComposition(%q) = %v, want an error", s, c)
		}
	}
}

// Whatever is typed, a composition that is accepted can be summed, restated
// and normalised without surprise.
func FuzzParseComposition(f *testing.F) {
	for _, s := range []string{constructedSlag, "SiO2=30 FeO=50 CaO=10", "LOI=-4 FeO=48", "SiO2=30,5", "Fe=40;FeO=50", "SiO2=1e308 CaO=1e308", "GOI=2 C=1 CO2=3"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		c, err := ParseComposition(s)
		if err != nil {
			return
		}
		o := c.AsOxides(AsFeO)
		seen := map[string]bool{}
		for _, p := range o.Parts {
			if seen[p.ID] {
				t.Errorf("%q: %s twice after AsOxides", s, p.ID)
			}
			seen[p.ID] = true
		}
		if again := o.AsOxides(AsFeO); len(again.Parts) != len(o.Parts) {
			t.Errorf("%q: restating twice gives %d parts after %d", s, len(again.Parts), len(o.Parts))
		}
		n, err := o.On(Normalised)
		if err != nil || math.IsInf(o.Total().Measured, 0) {
			return
		}
		if sum := n.Total().Measured; math.Abs(sum-100) > 1e-6 {
			t.Errorf("%q: normalised to %v", s, sum)
		}
	})
}
