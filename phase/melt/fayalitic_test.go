package melt

import (
	"math/rand/v2"
	"testing"

	"smeltbook/phase/slag"
)

// TestFayaliticSlagsBeginWithoutFeldspar: in slags rich in iron and poor in
// silica olivine, wüstite or spinel comes first (common practice: feldspar is a
// late mineral of such slags, if there at all). The fit was given other slags
// of this kind.
func TestFayaliticSlagsBeginWithoutFeldspar(t *testing.T) {
	m := testModel(t)
	r := rand.New(rand.NewPCG(71, 3))
	tried, late := 0, 0
	for range 3000 {
		w := smelting(r)
		if w[slag.FeO] <= 40 || w[slag.SiO2] >= 36 {
			continue
		}
		l, err := m.Liquidus(w)
		if err != nil {
			t.Fatal(err)
		}
		tried++
		if l.First == Anorthite || l.First == Melilite {
			late++
			if late <= 3 {
				t.Logf("%v: %.0f °C %s, near %v", w, l.TC, l.First, l.Near)
			}
		}
	}
	if tried < 1000 || late*200 > tried {
		t.Errorf("of %d slags %d begin with feldspar or melilite", tried, late)
	}
}
