package melt

import (
	"math"
	"math/rand/v2"
	"testing"

	"smeltbook/phase/slag"
)

// TestResponse compares the activities of melts close by with those computed
// anew: the error of a step d has to fall as d², and the second derivatives of
// the Gibbs energy have to be symmetric.
func TestResponse(t *testing.T) {
	m := testModel(t)
	r := rand.New(rand.NewPCG(71, 2))
	var answer response
	for range 300 {
		w := smelting(r)
		if r.IntN(3) == 0 {
			w[slag.K2O], w[slag.Na2O] = 6*r.Float64(), 6*r.Float64() // as much as alumina binds, and more
		}
		x, ok := cationFractions(w)
		if !ok {
			continue
		}
		T := 1300 + 500*r.Float64()
		var mix, other mixture
		var lna, anew vector
		mix.prepare(m.terms, &x)
		mix.activities(T, &lna)
		answer.of(&mix, &m.terms, &lna, T)
		for i := range mix.n {
			for j := range i {
				a, b := answer.by[i][j], answer.by[j][i]
				if math.Abs(a-b) > 1e-5*(1+math.Abs(a)) {
					t.Fatalf("%v at %.0f K: ∂ln a of %v by %v %.8g, the other way %.8g", w, T, mix.which[i], mix.which[j], a, b)
				}
			}
		}
		for c, share := range x {
			if share == 0 {
				continue
			}
			var off [2]float64
			for k, d := range []float64{1e-3, 1e-4} {
				z := x
				z[c] *= 1 + d
				for i := range z {
					z[i] /= 1 + d*share
				}
				other.prepare(m.terms, &z)
				other.activities(T, &anew)
				near := answer.near(&mix, &m.terms, &z)
				for i := range x {
					if x[i] > 0 {
						off[k] = max(off[k], math.Abs(near[i]-anew[i]))
					}
				}
			}
			if off[0] > 5e-5 || off[1] > off[0]/50+1e-10 {
				t.Errorf("%v at %.0f K, %v: off by %.2g at a thousandth, %.2g at a tenth of that", w, T, component(c), off[0], off[1])
			}
		}
	}
}
