package melt

import (
	"math"
	"math/rand/v2"
	"testing"

	"smeltbook/phase/slag"
)

// wide draws a melt from the whole span of smelting slags and far beyond.
// Each oxide is left out of about one melt in four.
func wide(r *rand.Rand) (w slag.Wt) {
	for _, o := range []struct {
		oxide slag.Oxide
		max   float64
	}{{slag.SiO2, 100}, {slag.FeO, 100}, {slag.CaO, 60}, {slag.Al2O3, 40}, {slag.MgO, 20}, {slag.MnO, 40}, {slag.K2O, 12}, {slag.Na2O, 8}} {
		if r.IntN(4) > 0 {
			w[o.oxide] = o.max * r.Float64()
		}
	}
	return w
}

// TestFastAgainstPlain proves the shortcuts of the search against the plain
// method on random melts.
func TestFastAgainstPlain(t *testing.T) {
	m := testModel(t)
	r := rand.New(rand.NewPCG(7, 1))
	n := 400
	if testing.Short() {
		n = 60
	}
	compared := 0
	for range n {
		w := wide(r)
		if compared%3 == 0 {
			w = anything(r)
		}
		if w[slag.CaO] > 0 {
			w[slag.MnO] = 0
		}
		x, ok := cationFractions(m.restated(w))
		if !ok {
			continue
		}
		var s search
		s.start(m, &x)
		T, at, ok := s.liquidus()
		wantT, wantAt, wantOK := plainLiquidus(m, w)
		if ok != wantOK {
			t.Errorf("%v: found %v (%g K), plain %v (%g K)", w, ok, T, wantOK, wantT)
			continue
		}
		if !ok {
			continue
		}
		compared++
		if math.Abs(T-wantT) > 0.02 {
			t.Errorf("%v: %.3f K %s, plain %.3f K %s", w, T, m.solids[at].name, wantT, m.solids[wantAt].name)
		} else if at != wantAt && !level(m, &x, T, at, wantAt) {
			t.Errorf("%v: first %s, plain %s", w, m.solids[at].name, m.solids[wantAt].name)
		}
	}
	if compared < n*3/4 {
		t.Errorf("only %d of %d melts had a liquidus", compared, n)
	}
}

// level reports whether two minerals are equally saturated at T, so that
// either may be named first.
func level(m *Model, x *vector, T float64, a, b int) bool {
	var s search
	s.start(m, x)
	s.at(T)
	return math.Abs(s.supersaturation(a, T, lacking)-s.supersaturation(b, T, lacking)) < 1e-4
}
