package reconcile

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Test is the measurement test of one reading: its adjustment against the
// standard deviation that the adjustment should have.
type Test struct {
	Reading int     // index into the readings
	Z       float64 // standardised adjustment, standard normal if all uncertainties are right
	P       float64 // two-sided, corrected for testing all readings (Šidák)
	// Others is what the other readings alone say of this one, with its
	// standard uncertainty: to first order.
	Others, OthersU float64
	// Like lists the other readings whose adjustments are bound to this one's,
	// so that the balances cannot tell which of them is off.
	Like []int
}

// bound is the correlation above which two adjustments say the same.
const bound = 1 - 1e-6

// tests makes the test of every reading that a balance checks. A reading that
// none checks is left out: it is not adjusted, and nothing can be said of it.
// With a diagonal covariance of the readings this is the test of greatest
// power for a single gross error (Tamhane 1982, Biometrika 69:585; Mah &
// Tamhane 1982, AIChE Journal 28:828; from memory).
func (l *linear) tests(change *mat.Dense) []Test {
	p := l.p
	var out []Test
	var place []int // in p.read
	for a, i := range p.read {
		u := p.readings[i].U
		sd := math.Sqrt(math.Max(change.At(a, a), 0))
		if l.g == nil || u == 0 || sd < 1e-4*u {
			continue
		}
		shift := p.x[i] - p.readings[i].Value
		out = append(out, Test{Reading: i, Z: shift / sd,
			Others: p.readings[i].Value + shift*u*u/(sd*sd), OthersU: math.Sqrt(math.Max(u*u*u*u/(sd*sd)-u*u, 0))})
		place = append(place, a)
	}
	for k := range out {
		one := 2 * distuv.UnitNormal.Survival(math.Abs(out[k].Z))
		// 1 − (1 − p)ⁿ, accurate for small p.
		out[k].P = -math.Expm1(float64(len(out)) * math.Log1p(-math.Min(one, 1-1e-16)))
		for j := range out {
			c := change.At(place[k], place[j]) / math.Sqrt(change.At(place[k], place[k])*change.At(place[j], place[j]))
			if j != k && math.Abs(c) > bound {
				out[k].Like = append(out[k].Like, out[j].Reading)
			}
		}
	}
	return out
}

// Suspect returns the test of the reading that is most likely off, where its P
// is below the level (0.05 is usual); ok is false where none is.
func (r Result) Suspect(level float64) (t Test, ok bool) {
	for _, x := range r.Tests {
		if !ok || math.Abs(x.Z) > math.Abs(t.Z)+1e-9 {
			t, ok = x, true
		}
	}
	return t, ok && t.P < level
}
