package logratio

import (
	"context"
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Outliers tells how far each sample lies from the rest.
type Outliers struct {
	D2     []float64 // squared Mahalanobis distance
	Robust bool      // from the tightest three quarters of the samples
	// Cut is what the farthest of as many samples of one normal cloud exceeds
	// in one case of twenty, so that it counts for the whole group at once.
	Cut     float64
	Outside []int // samples beyond it
}

// FindOutliers looks for samples apart from the others in coordinates. Where
// there are samples enough for the minimum covariance determinant distances are
// robust: a few odd samples cannot hide each other. Their cut is that of
// simulated clouds of this very size (RobustCut), for tables of large samples
// mislead below twenty. With fewer samples it falls back to the plain distance,
// whose cut is exact (beta distribution; Gnanadesikan & Kettenring 1972,
// Biometrics 28:81), and where that fails too the error is a *TooFew.
func FindOutliers(ctx context.Context, z [][]float64, seed uint64) (Outliers, error) {
	d2, ok := robustDistances(z, mcdStarts, seed)
	if !ok {
		return plainOutliers(z)
	}
	cut, err := RobustCut(ctx, len(z), len(z[0]), seed)
	if err != nil {
		return Outliers{}, err
	}
	o := Outliers{D2: d2, Robust: true, Cut: cut}
	o.mark()
	return o, nil
}

func robustDistances(z [][]float64, starts int, seed uint64) ([]float64, bool) {
	s, err := mcd(z, 0, starts, seed)
	if err != nil {
		return nil, false
	}
	return Mahalanobis(z, s.Centre, s.Cov)
}

func plainOutliers(z [][]float64) (Outliers, error) {
	n, p := len(z), len(z[0])
	d2, ok := Mahalanobis(z, Mean(z), Covariance(z))
	if n < p+2 || !ok {
		return Outliers{}, &TooFew{Method: "a search for outliers", Have: n, Need: p + 2, Parts: p}
	}
	o := Outliers{D2: d2, Cut: CutBeta(n, p, 1-0.05/float64(n))}
	o.mark()
	return o, nil
}

func (o *Outliers) mark() {
	for i, d := range o.D2 {
		if d > o.Cut {
			o.Outside = append(o.Outside, i)
		}
	}
}

// CutBeta is the quantile of the squared Mahalanobis distance of one of n
// normal samples from their own mean in units of their own covariance, in p
// dimensions; n > p + 1.
func CutBeta(n, p int, q float64) float64 {
	m := float64(n-1) * float64(n-1) / float64(n)
	return m * distuv.Beta{Alpha: float64(p) / 2, Beta: float64(n-p-1) / 2}.Quantile(q)
}

// CutChiSquared is that quantile for very many samples. Below some fifty it is
// too wide for plain distances, and below thirty far too narrow for robust
// ones.
func CutChiSquared(p int, q float64) float64 {
	return distuv.ChiSquared{K: float64(p)}.Quantile(q)
}

// EffectiveDimension is (tr S)²/tr S², the number of directions in which
// samples spread alike (Box 1954, Annals of Mathematical Statistics 25:290);
// NaN without spread.
func EffectiveDimension(z [][]float64) float64 {
	if len(z) < 2 {
		return math.NaN()
	}
	s := Covariance(z)
	var tr, tr2 float64
	for i := range s.SymmetricDim() {
		tr += s.At(i, i)
		for j := range s.SymmetricDim() {
			tr2 += s.At(i, j) * s.At(i, j)
		}
	}
	return tr * tr / tr2
}
