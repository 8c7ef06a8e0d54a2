package quality

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Agreement describes how far two methods differ, without a line: the mean of
// the differences and the range that holds 95 in 100 of them.
type Agreement struct {
	N           int
	Mean, SD    float64 // of y − x
	Low, High   float64 // Mean ∓ 1.96 SD
	T           float64 // Mean over its standard error, n − 1 degrees of freedom
	Concordance float64 // Lin's coefficient, variances with n − 1
}

// AgreementOf compares two methods. ok is false with fewer than two pairs.
func AgreementOf(xs, ys []float64) (Agreement, bool) {
	n := float64(len(xs))
	if len(xs) < 2 {
		return Agreement{}, false
	}
	d := make(Repeats, len(xs))
	for i := range xs {
		d[i] = ys[i] - xs[i]
	}
	a := Agreement{N: len(xs), Mean: d.Mean(), SD: math.Sqrt(d.squares() / (n - 1))}
	a.Low, a.High = a.Mean-1.96*a.SD, a.Mean+1.96*a.SD
	a.T = a.Mean / (a.SD / math.Sqrt(n))
	s := centred(xs, ys)
	a.Concordance = 2 * s.xy / (s.xx + s.yy + (n-1)*(s.x-s.y)*(s.x-s.y))
	return a, true
}

// Ratio describes how far two methods differ where the spread grows with the
// content: y over x, by logarithms.
type Ratio struct {
	N         int
	Mean      float64 // geometric mean of y/x
	Low, High float64 // holds 95 in 100 of the ratios
	U         float64 // relative standard error of Mean
}

// RatioOf compares two methods by their ratios; pairs that are not both
// positive are left out.
func RatioOf(xs, ys []float64) (Ratio, bool) {
	var logs Repeats
	for i := range xs {
		if xs[i] > 0 && ys[i] > 0 {
			logs = append(logs, math.Log(ys[i]/xs[i]))
		}
	}
	if len(logs) < 2 {
		return Ratio{}, false
	}
	n := float64(len(logs))
	m, sd := logs.Mean(), math.Sqrt(logs.squares()/(n-1))
	return Ratio{N: len(logs), Mean: math.Exp(m), Low: math.Exp(m - 1.96*sd), High: math.Exp(m + 1.96*sd), U: sd / math.Sqrt(n)}, true
}

// Clear reports whether the mean ratio differs from 1 by more than its 95 %
// interval and by more than the given share.
func (r Ratio) Clear(share float64) bool {
	if r.N < 2 {
		return false
	}
	t := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(r.N - 1)}.Quantile(0.975)
	return math.Abs(math.Log(r.Mean)) > math.Max(t*r.U, math.Log(1+share))
}
