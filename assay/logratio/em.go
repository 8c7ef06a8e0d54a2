package logratio

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Limits of the EM iteration: it stops when no replaced logarithm moves by more
// than the tolerance.
const (
	emRounds    = 500
	emTolerance = 1e-8
)

// replaceEM puts for each value below its limit the value expected of it from
// the parts measured in the same sample, given that it is below the limit:
//
//	E[y | y < ψ] = μ − σ φ(t)/Φ(t),  t = (ψ − μ)/σ
//
// where y is the log-ratio to a part measured in every sample, and μ and σ come
// from a regression on the sample's other log-ratios with the mean and the
// covariance of all samples, found by iteration (Palarea-Albaladejo &
// Martín-Fernández 2008, Computers & Geosciences 34:902). It takes the samples
// as one normal cloud and needs more samples than ratios.
func (t Table) replaceEM() (Matrix, error) {
	base := -1
	for j, n := range t.Censored() {
		if n == 0 {
			base = j
			break
		}
	}
	d := len(t.Parts) - 1
	switch {
	case base < 0:
		return Matrix{}, errors.New("log-ratio EM needs a part that is measured in every sample")
	case len(t.Values) <= d+1:
		return Matrix{}, &TooFew{Method: "log-ratio EM", Have: len(t.Values), Need: d + 2, Parts: d}
	}
	var free []int // places of the other parts
	for j := range t.Parts {
		if j != base {
			free = append(free, j)
		}
	}
	start := t.fraction(0.65)
	y := make([][]float64, len(t.Values))
	for i, row := range start.X {
		y[i] = make([]float64, d)
		for k, j := range free {
			y[i][k] = math.Log(row[j] / row[base])
			if !t.Values[i][j].Below() {
				y[i][k] = math.Log(t.Values[i][j].X / t.Values[i][base].X)
			}
		}
	}
	if err := t.iterate(y, free, base); err != nil {
		return Matrix{}, err
	}
	m := Matrix{Parts: t.Parts, Samples: t.Samples, X: make([][]float64, len(t.Values))}
	for i, row := range t.Values {
		x := make([]float64, len(row))
		x[base] = row[base].X
		for k, j := range free {
			x[j] = row[base].X * math.Exp(y[i][k])
		}
		var measured float64
		for _, v := range row {
			if !v.Below() {
				measured += v.X
			}
		}
		m.X[i] = Close(x, measured)
	}
	return m, nil
}

// iterate updates the censored entries of y in place.
func (t Table) iterate(y [][]float64, free []int, base int) error {
	n, d := len(y), len(free)
	extra := mat.NewSymDense(d, nil) // variance that the expected values lack
	for range emRounds {
		mean, cov := Mean(y), Covariance(y)
		for a := range d {
			for b := a; b < d; b++ {
				cov.SetSym(a, b, cov.At(a, b)+extra.At(a, b)/float64(n-1))
			}
		}
		extra.Zero()
		var moved float64
		for i := range y {
			var seen, below []int
			for k, j := range free {
				if t.Values[i][j].Below() {
					below = append(below, k)
				} else {
					seen = append(seen, k)
				}
			}
			for _, k := range below {
				mu, variance, err := conditional(y[i], k, seen, mean, cov)
				if err != nil {
					return err
				}
				sigma := math.Sqrt(variance)
				if !(sigma > 0) {
					return errors.New("log-ratio EM: the parts measured leave a part below its limit no freedom; use another replacement")
				}
				limit := math.Log(t.Values[i][free[k]].Limit / t.Values[i][base].X)
				expected, left := truncated(mu, sigma, limit)
				moved = math.Max(moved, math.Abs(expected-y[i][k]))
				y[i][k] = expected
				extra.SetSym(k, k, extra.At(k, k)+left)
			}
		}
		if moved < emTolerance {
			return nil
		}
	}
	return errors.New("log-ratio EM did not settle; use another replacement")
}

// conditional returns mean and variance of coordinate k given those seen.
func conditional(y []float64, k int, seen []int, mean []float64, cov mat.Symmetric) (mu, variance float64, err error) {
	mu, variance = mean[k], cov.At(k, k)
	if len(seen) == 0 {
		return mu, variance, nil
	}
	s := mat.NewSymDense(len(seen), nil)
	c, diff := mat.NewVecDense(len(seen), nil), mat.NewVecDense(len(seen), nil)
	for a, i := range seen {
		c.SetVec(a, cov.At(k, i))
		diff.SetVec(a, y[i]-mean[i])
		for b := a; b < len(seen); b++ {
			s.SetSym(a, b, cov.At(i, seen[b]))
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(s) {
		return 0, 0, errors.New("log-ratio EM: the samples do not spread in every direction; use another replacement")
	}
	beta := mat.NewVecDense(len(seen), nil)
	if err := chol.SolveVecTo(beta, c); err != nil {
		return 0, 0, errors.New("log-ratio EM: the samples hardly spread in some direction; use another replacement")
	}
	return mu + mat.Dot(beta, diff), variance - mat.Dot(beta, c), nil
}

// truncated returns mean and variance of a normal variable below a limit.
func truncated(mu, sigma, limit float64) (mean, variance float64) {
	t := (limit - mu) / sigma
	if t < -30 { // Φ underflows; the mean of the far tail is the limit
		return limit + sigma/t, sigma * sigma / (t * t)
	}
	hazard := distuv.UnitNormal.Prob(t) / distuv.UnitNormal.CDF(t)
	return mu - sigma*hazard, sigma * sigma * (1 - t*hazard - hazard*hazard)
}
