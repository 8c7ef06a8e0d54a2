package logratio

import (
	"math"

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
		h = subsetSize(n, p)
	}
	h = min(max(h, (n+p+1)/2), n)
	var places []int
	if combin.LogGeneralizedBinomial(float64(n), float64(h)) <= math.Log(mcdSubsets) { // the number itself overflows from some seventy samples
		places = tightestSubset(z, h)
	} else {
		places = newConcentration(z, h).tightest(starts, seed)
	}
	if places == nil {
		return Scatter{}, &TooFew{Method: "the minimum covariance determinant", Have: n, Need: n + 1, Parts: p}
	}
	kept := rowsAt(z, places)
	return Scatter{Centre: Mean(kept), Cov: Covariance(kept), Kept: places}, nil
}

// subsetSize is three quarters of the samples, or as many as keep a subset from
// being flat.
func subsetSize(n, p int) int { return min(max((3*n+3)/4, (n+p+1)/2), n) }

func rowsAt(z [][]float64, places []int) [][]float64 {
	out := make([][]float64, len(places))
	for k, i := range places {
		out[k] = z[i]
	}
	return out
}
