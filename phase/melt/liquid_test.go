package melt

import (
	"math"
	"math/rand/v2"
	"testing"
)

// randomFractions draws mole fractions of all components, none below about
// least.
func randomFractions(r *rand.Rand, least float64) (x vector) {
	var sum float64
	for i := range numComponents {
		x[i] = math.Pow(r.Float64(), 3) + 2*least
		sum += x[i]
	}
	for i := range x {
		x[i] /= sum
	}
	return x
}

// gibbs returns G/RT of n moles of one-cation units by summation over the
// pairs, with no use of the activity formula. G = Σ n ln x + pairs, where the
// pairs bring Σ_{i≤j} N_ij ln(share/random) + Σ_{i<j} N_ij g_ij/2RT per b.
func gibbs(terms liquid, n vector, T float64) float64 {
	var total float64
	for _, v := range n {
		total += v
	}
	x := n
	for i := range x {
		x[i] /= total
	}
	var mix mixture
	mix.prepare(terms, &x)
	mix.solvePairs(T)
	var g, weight float64
	for i := range mix.n {
		g += mix.x[i] * math.Log(mix.x[i])
		weight += mix.b[i] * mix.x[i]
	}
	var pairs float64
	for i := range mix.n {
		p := mix.state.pair[i][i]
		pairs += p * math.Log(p/(mix.y[i]*mix.y[i]))
	}
	for e := range mix.np {
		pair := &mix.pairs[e]
		p := 2 * mix.state.pair[pair.i][pair.j]
		pairs += p * (math.Log(p/(2*mix.y[pair.i]*mix.y[pair.j])) + (pair.h+pair.s*T)/(2*gasConstant*T))
	}
	return total * mix.share * (g + weight*pairs)
}

// TestActivitiesAreDerivatives checks the activity formula against the Gibbs
// energy found by summation: Σ n ln a must equal it, and ln a must be its
// derivative.
func TestActivitiesAreDerivatives(t *testing.T) {
	m := testModel(t)
	r := rand.New(rand.NewPCG(11, 2))
	for range 60 {
		x, T := randomFractions(r, 1e-4), 1200+1500*r.Float64()
		var mix mixture
		mix.prepare(m.terms, &x)
		var lna vector
		mix.activities(T, &lna)
		var sum float64
		for i := range x {
			sum += x[i] * lna[i]
		}
		if g := gibbs(m.terms, x, T); math.Abs(sum-g) > 1e-9*(1+math.Abs(g)) {
			t.Fatalf("Σ x ln a = %.12g, G/RT = %.12g at %v", sum, g, x)
		}
		for i := range numComponents {
			up, down, h := x, x, 1e-4*x[i]
			up[i] += h
			down[i] -= h
			slope := (gibbs(m.terms, up, T) - gibbs(m.terms, down, T)) / (2 * h)
			if math.Abs(slope-lna[i]) > 1e-5*(1+math.Abs(lna[i])) {
				t.Errorf("ln a(%v) = %.9g, the derivative of G is %.9g", component(i), lna[i], slope)
			}
		}
	}
}

// TestGibbsDuhem checks Σ x d ln a = 0 along random directions.
func TestGibbsDuhem(t *testing.T) {
	m := testModel(t)
	r := rand.New(rand.NewPCG(13, 2))
	at := func(x vector, T float64) (lna vector) {
		var mix mixture
		mix.prepare(m.terms, &x)
		mix.activities(T, &lna)
		return lna
	}
	for range 200 {
		x, to, T := randomFractions(r, 0.02), randomFractions(r, 0.02), 1200+1500*r.Float64()
		const h = 3e-6
		up, down := x, x
		for i := range x {
			up[i] += h * (to[i] - x[i])
			down[i] -= h * (to[i] - x[i])
		}
		a, b := at(up, T), at(down, T)
		var sum, size float64
		for i := range x {
			d := x[i] * (a[i] - b[i]) / (2 * h)
			sum += d
			size += math.Abs(d)
		}
		if math.Abs(sum) > 1e-6*size {
			t.Errorf("Σ x d ln a = %g of %g at %v", sum, size, x)
		}
	}
}

// TestDilution checks that ln a − ln x of a vanishing component settles, and
// that a component at zero gives no NaN to the others.
func TestDilution(t *testing.T) {
	m := testModel(t)
	base := vector{si: 0.35, fe: 0.4, ca: 0.1, al: 0.08, mg: 0.04, mn: 0.02, k: 0.01}
	for c := range numComponents {
		var excess [3]float64
		for step, amount := range []float64{1e-5, 1e-7, 1e-9} {
			x := base
			x[c] = amount
			var lna vector
			var mix mixture
			mix.prepare(m.terms, &x)
			mix.activities(1500, &lna)
			excess[step] = lna[c] - math.Log(amount)
		}
		if math.IsNaN(excess[2]) || math.Abs(excess[2]-excess[1]) > 1e-3 || math.Abs(excess[1]-excess[0]) > 1e-1 {
			t.Errorf("%v: ln a − ln x at 1e-5, 1e-7, 1e-9: %v", component(c), excess)
		}
		x := base
		x[c] = 0
		var lna vector
		var mix mixture
		mix.prepare(m.terms, &x)
		mix.activities(1500, &lna)
		for i, v := range lna {
			if math.IsNaN(v) || (component(i) == c && v != 0) {
				t.Errorf("without %v: ln a(%v) = %g", component(c), component(i), v)
			}
		}
	}
}

// TestPairEquations checks that the pair fractions of each component sum to
// its equivalent fraction, from a cold start and after a jump in temperature.
func TestPairEquations(t *testing.T) {
	m := testModel(t)
	r := rand.New(rand.NewPCG(17, 2))
	for range 200 {
		x := randomFractions(r, 1e-4)
		var mix mixture
		mix.prepare(m.terms, &x)
		for _, T := range []float64{3200, 3180, 3160, 1400, 700} {
			mix.solvePairs(T)
			for i := range mix.n {
				var sum float64
				for j := range mix.n {
					sum += mix.state.pair[i][j]
				}
				if math.Abs(sum-mix.y[i]) > 1e-9*mix.y[i] {
					t.Errorf("%g K: pairs of %v sum to %g, not %g", T, mix.which[i], sum, mix.y[i])
				}
			}
		}
	}
}
