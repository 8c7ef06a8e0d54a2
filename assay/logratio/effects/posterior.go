package effects

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// posterior is what is believed of standardised effects after the firings.
type posterior struct {
	mean       []float64
	v          *mat.SymDense // covariance in units of σ²
	sigma, df  float64
	resolution *mat.Dense
}

// solve gives the posterior of the normal model with its conjugate prior and a
// flat intercept (Gelman et al., Bayesian Data Analysis, ch. 14; from memory).
// With X standardised and y centred:
//
//	V = (XᵀX + I/τ²)⁻¹,  m = V Xᵀy,  ν = ν₀ + n − 1
//	σ² = (ν₀s₀² + yᵀy − mᵀXᵀy)/ν,  effect ~ m + t(ν)·σ·√V
//
// What comes of true effects β is R β with the resolution R = V XᵀX.
func solve(x [][]float64, y []float64, prior Prior, repeat float64) (*posterior, error) {
	p, n := len(x), len(y)
	gram, xy := mat.NewSymDense(p, nil), mat.NewVecDense(p, nil)
	precision := mat.NewSymDense(p, nil)
	for i := range p {
		xy.SetVec(i, floats.Dot(x[i], y))
		for j := i; j < p; j++ {
			g := floats.Dot(x[i], x[j])
			gram.SetSym(i, j, g)
			if i == j {
				g += 1 / (prior.Tau * prior.Tau)
			}
			precision.SetSym(i, j, g)
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(precision) {
		return nil, errors.New("the settings cannot be told apart at all; narrow the prior")
	}
	q := &posterior{v: mat.NewSymDense(p, nil), resolution: mat.NewDense(p, p, nil), df: float64(n - 1)}
	m := mat.NewVecDense(p, nil)
	if err := chol.SolveVecTo(m, xy); err != nil {
		return nil, errors.New("the settings hardly differ from each other; narrow the prior")
	}
	if err := chol.InverseTo(q.v); err != nil {
		return nil, errors.New("the settings hardly differ from each other; narrow the prior")
	}
	q.resolution.Mul(q.v, gram)
	q.mean = m.RawVector().Data
	sum := floats.Dot(y, y) - mat.Dot(m, xy)
	if repeat > 0 {
		q.df += prior.DF
		sum += prior.DF * repeat * repeat
	}
	q.sigma = math.Sqrt(math.Max(sum, 0) / q.df)
	return q, nil
}

func (q *posterior) scale(j int) float64 { return q.sigma * math.Sqrt(q.v.At(j, j)) }

func (q *posterior) t(j int) distuv.StudentsT {
	return distuv.StudentsT{Mu: q.mean[j], Sigma: q.scale(j), Nu: q.df}
}

func (q *posterior) interval(j int) (lo, hi float64) {
	if q.scale(j) == 0 {
		return q.mean[j], q.mean[j]
	}
	return q.t(j).Quantile(0.025), q.t(j).Quantile(0.975)
}

// above is the probability that effect j is above zero.
func (q *posterior) above(j int) float64 {
	if q.scale(j) == 0 {
		switch {
		case q.mean[j] > 0:
			return 1
		case q.mean[j] < 0:
			return 0
		}
		return 0.5
	}
	return q.t(j).Survival(0)
}
