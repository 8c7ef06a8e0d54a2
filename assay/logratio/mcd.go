package logratio

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/combin"
)

// Scatter is a centre with a covariance.
type Scatter struct {
	Centre []float64
	Cov    *mat.SymDense
	Kept   []int // samples it rests on, in order
}

// Bounds of the search for the tightest subset.
const (
	mcdSubsets = 20_000 // all subsets are tried up to this number, else as many starts as mcdStarts
	mcdStarts  = 500
	mcdSteps   = 2  // of a start, before the best of them are carried on
	mcdBest    = 10 // starts that are carried on
	mcdLast    = 20 // steps of those at most
)

// MCD returns centre and covariance of the tightest h samples of coordinates,
// those whose covariance has the least determinant (Rousseeuw 1984, JASA
// 79:871), without a factor for consistency. h of zero stands for three
// quarters of the samples. All subsets are tried where there are few enough,
// otherwise random starts are concentrated in two steps and the best ten of them to
// the end (Rousseeuw & Van Driessen 1999, Technometrics 41:212), the same for the
// same seed.
//
// Fewer than two samples a coordinate, plus one, leave no tightest subset that
// means anything; then the error is a *TooFew. Five a coordinate are wanted.
func MCD(z [][]float64, h int, seed uint64) (Scatter, error) {
	return mcd(z, h, mcdStarts, seed)
}

func mcd(z [][]float64, h, starts int, seed uint64) (Scatter, error) {
	n, p := len(z), len(z[0])
	if n < 2*p+1 {
		return Scatter{}, &TooFew{Method: "the minimum covariance determinant", Have: n, Need: 2*p + 1, Parts: p}
	}
	if h <= 0 {
		h = (3*n + 3) / 4
	}
	h = min(max(h, (n+p+1)/2), n)
	var best subset
	if combin.LogGeneralizedBinomial(float64(n), float64(h)) <= math.Log(mcdSubsets) { // the number itself overflows from some seventy samples
		best.places = tightestSubset(z, h)
	} else {
		best.places = concentrated(z, h, starts, seed)
	}
	if best.places == nil {
		return Scatter{}, &TooFew{Method: "the minimum covariance determinant", Have: n, Need: n + 1, Parts: p}
	}
	kept := rowsAt(z, best.places)
	return Scatter{Centre: Mean(kept), Cov: Covariance(kept), Kept: best.places}, nil
}

// subset is the tightest one found so far.
type subset struct {
	det    float64 // logarithm of the determinant
	places []int
}

// weigh returns a subset with its determinant; false where it spans no volume.
func weigh(z [][]float64, places []int) (subset, bool) {
	var chol mat.Cholesky
	if places == nil || !chol.Factorize(Covariance(rowsAt(z, places))) {
		return subset{}, false
	}
	return subset{chol.LogDet(), places}, true
}

// concentrated returns the tightest subset that random starts lead to; nil where
// none of them spans a volume.
func concentrated(z [][]float64, h, starts int, seed uint64) []int {
	n, p := len(z), len(z[0])
	r := rand.New(rand.NewPCG(seed, 0))
	var first []subset
	for range starts {
		if s, ok := weigh(z, concentrate(z, r.Perm(n)[:p+1], h, mcdSteps)); ok {
			first = append(first, s)
		}
	}
	slices.SortStableFunc(first, func(a, b subset) int { return cmp.Compare(a.det, b.det) })
	var best subset
	for _, s := range first[:min(mcdBest, len(first))] {
		s, ok := weigh(z, concentrate(z, s.places, h, mcdLast))
		if ok && (best.places == nil || s.det < best.det-1e-12) {
			best = s
		}
	}
	return best.places
}

// concentrate goes from a few samples to the h nearest to them, again and
// again, at most as many steps; nil where they span no volume. The places are
// in order.
func concentrate(z [][]float64, places []int, h, steps int) []int {
	for range steps {
		rows := rowsAt(z, places)
		d2, ok := Mahalanobis(z, Mean(rows), Covariance(rows))
		if !ok {
			return nil
		}
		next := order(d2)[:h]
		slices.Sort(next)
		if slices.Equal(next, places) {
			break
		}
		places = next
	}
	return places
}

// order returns the places of values from the least, equals in their order.
func order(values []float64) []int {
	out := make([]int, len(values))
	for i := range out {
		out[i] = i
	}
	slices.SortStableFunc(out, func(a, b int) int {
		switch {
		case values[a] < values[b]:
			return -1
		case values[a] > values[b]:
			return 1
		}
		return 0
	})
	return out
}

func rowsAt(z [][]float64, places []int) [][]float64 {
	out := make([][]float64, len(places))
	for k, i := range places {
		out[k] = z[i]
	}
	return out
}
