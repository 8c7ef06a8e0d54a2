package chem

import (
	"slices"
	"testing"
)

func TestOfElement(t *testing.T) {
	c, err := ParseComposition("SiO2=30 FeO=20 Fe2O3=10 CuO=1 Cu2O=2 MgO=1 LOI=3 H2O-=1")
	if err != nil {
		t.Fatal(err)
	}
	// By formula masses: Si 28.085/60.083, Fe 55.845/71.844 and 111.69/159.687,
	// Cu 63.546/79.545 and 127.092/143.091 (CIAAW 2024).
	for element, want := range map[string]float64{
		"Si": 30 * 28.085 / 60.083,
		"Fe": 20*55.845/71.844 + 10*111.69/159.687,
		"Cu": 63.546/79.545 + 2*127.092/143.091,
	} {
		q, ok := c.OfElement(element)
		if !ok || q.Value < want*(1-1e-6) || q.Value > want*(1+1e-6) || q.Unit != "wt%" {
			t.Errorf("%s = %v, want %v", element, q.Value, want)
		}
	}
	if q, ok := c.OfElement("Al"); ok || q.Known() {
		t.Errorf("aluminium from nowhere: %v", q)
	}
	if got := c.Elements(); !slices.Equal(got, []string{"Si", "Fe", "Mg", "Cu"}) {
		t.Errorf("elements %v", got)
	}
}
