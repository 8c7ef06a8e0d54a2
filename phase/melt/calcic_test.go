package melt

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestCalcicSite compares the two-start solution with a dense search over the
// share of calcium, and the bounds with both.
func TestCalcicSite(t *testing.T) {
	r := rand.New(rand.NewPCG(47, 4))
	gaps := 0
	for range 3000 {
		site := calcicSite{n: 1 + r.IntN(3), w: 5 * r.Float64()}
		var sum float64
		for i := range site.n {
			site.p[i] = 4*r.Float64() - 3
			site.b[i] = 6*r.Float64() - 4
			sum += math.Exp(site.p[i])
		}
		site.r = math.Log(sum)
		want := overShares(site.value)
		if got := site.best(); math.Abs(got-want) > 1e-7*(1+math.Abs(want)) {
			t.Errorf("%+v: S = %.10f, dense search %.10f", site, got, want)
		}
		if b := site.bound(); b < want-1e-9 {
			t.Errorf("%+v: bound %g below S = %g", site, b, want)
		}
		if b := site.roughBound(); b < want-1e-9 {
			t.Errorf("%+v: rough bound %g below S = %g", site, b, want)
		}
		if math.Abs(site.stationary(0)-site.stationary(1)) > 0.1 {
			gaps++
		}
	}
	if gaps < 100 {
		t.Errorf("only %d of the sites had a gap", gaps)
	}
}
