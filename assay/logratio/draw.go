package logratio

import (
	"math"
	"math/rand/v2"
)

// Draw returns one possible matrix: each measured value lognormal about its
// value with its relative uncertainty, so that it stays above zero, each value
// below a limit uniform from zero to the limit (JCGM 101:2008, 6.4), all
// independent.
func (t Table) Draw(r *rand.Rand) Matrix {
	m := Matrix{Parts: t.Parts, Samples: t.Samples, X: make([][]float64, len(t.Values))}
	flat := make([]float64, len(t.Values)*len(t.Parts))
	for i, row := range t.Values {
		m.X[i] = flat[i*len(row) : (i+1)*len(row)]
		for j, v := range row {
			switch s := v.spread(); {
			case v.Below():
				m.X[i][j] = v.Limit * (1 - r.Float64())
			case s > 0:
				m.X[i][j] = v.X * math.Exp(s*r.NormFloat64())
			default:
				m.X[i][j] = v.X
			}
		}
	}
	return m
}
