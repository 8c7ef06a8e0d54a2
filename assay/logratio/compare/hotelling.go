package compare

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"smeltbook/assay/logratio"
)

// Hotelling is the test of two means that takes both groups for normal clouds
// of one shape.
type Hotelling struct {
	T2, F    float64
	D2       float64 // squared Mahalanobis distance of the means
	DF1, DF2 int
	P        float64
	Why      string // why there is no test; empty otherwise
}

// TestHotelling gives Hotelling's T² of two groups in any basis (Hotelling
// 1931, Annals of Mathematical Statistics 2:360):
//
//	T² = n₁n₂/(n₁+n₂) · D²,  F = (n₁+n₂−p−1)/((n₁+n₂−2)p) · T²
//
// It is legitimate only where n₁ + n₂ − 2 > p, and then rests on the few samples
// for p(p+1)/2 covariances; with few to spare it is fragile.
func TestHotelling(z [][]float64, group []int) Hotelling {
	h := Hotelling{T2: math.NaN(), F: math.NaN(), D2: math.NaN(), P: math.NaN()}
	var rows [2][][]float64
	for i, row := range z {
		rows[group[i]] = append(rows[group[i]], row)
	}
	n1, n2, p := len(rows[0]), len(rows[1]), len(z[0])
	if n1+n2-2 <= p {
		h.Why = fmt.Sprintf("%d samples less two do not exceed %d ratios", n1+n2, p)
		return h
	}
	if n1 < 2 || n2 < 2 {
		h.Why = "a group of one has no shape"
		return h
	}
	pooled := mat.NewSymDense(p, nil)
	for _, r := range rows {
		c := logratio.Covariance(r)
		for i := range p {
			for j := i; j < p; j++ {
				pooled.SetSym(i, j, pooled.At(i, j)+c.At(i, j)*float64(len(r)-1)/float64(n1+n2-2))
			}
		}
	}
	d2, ok := logratio.Mahalanobis([][]float64{logratio.Mean(rows[0])}, logratio.Mean(rows[1]), pooled)
	if !ok {
		h.Why = "the samples do not spread in every direction"
		return h
	}
	n := float64(n1 + n2)
	h.D2 = d2[0]
	h.T2 = float64(n1) * float64(n2) / n * h.D2
	h.DF1, h.DF2 = p, n1+n2-p-1
	h.F = float64(h.DF2) / ((n - 2) * float64(p)) * h.T2
	h.P = distuv.F{D1: float64(h.DF1), D2: float64(h.DF2)}.Survival(h.F)
	return h
}
