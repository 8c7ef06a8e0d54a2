package melt

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestNearAgainstWhole: melts drawn around a known one, near and far, get by the
// short way the liquidus that the search from 3200 K gives them, to the last bit.
func TestNearAgainstWhole(t *testing.T) {
	m := testModel(t)
	r := rand.New(rand.NewPCG(83, 3))
	known := 150
	if testing.Short() {
		known = 20
	}
	var s search
	short, all := 0, 0
	for range known {
		w := smelting(r)
		n, ok := m.around(&s, &w)
		if !ok {
			continue
		}
		spread := 0.005 + 0.05*r.Float64()
		for range 40 {
			v := w
			for o := range v {
				v[o] *= math.Exp(spread * r.NormFloat64())
			}
			x, _ := cationFractions(v)
			s.start(m, &x)
			all++
			if s.within(&n) {
				short++
			}
			near, errN := m.onsetNear(&s, &v, &n)
			whole, errW := m.onset(&s, &v)
			if errN != nil || errW != nil || near != whole {
				t.Errorf("%v: near %.4f K %v, whole %.4f K %v", v, near.T, errN, whole.T, errW)
			}
		}
	}
	t.Logf("%d of %d went the short way", short, all)
	if short*2 < all {
		t.Errorf("only %d of %d melts went the short way", short, all)
	}
}
