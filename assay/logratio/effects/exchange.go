package effects

import (
	"context"
	"errors"

	"gonum.org/v1/gonum/mat"
)

// exchange chooses candidates, each any number of times, and returns them with
// the gain in half the logarithm of the determinant. Of equal ones the first is
// taken.
func exchange(ctx context.Context, start *mat.SymDense, candidates [][]float64, n int) (chosen []int, gain float64, err error) {
	m := mat.NewSymDense(start.SymmetricDim(), nil)
	m.CopySym(start)
	for range n {
		c, _, err := best(m, candidates)
		if err != nil {
			return nil, 0, err
		}
		addRun(m, candidates[c])
		chosen = append(chosen, c)
	}
	for range 100 {
		moved := false
		for k, old := range chosen {
			if err := ctx.Err(); err != nil {
				return nil, 0, err
			}
			without := mat.NewSymDense(start.SymmetricDim(), nil)
			without.CopySym(start)
			for i, c := range chosen {
				if i != k {
					addRun(without, candidates[c])
				}
			}
			c, worth, err := best(without, candidates)
			if err != nil {
				return nil, 0, err
			}
			if worth > leverage(without, candidates[old])*(1+1e-9) {
				chosen[k], moved = c, true
			}
		}
		if !moved {
			break
		}
	}
	before, ok := logDet(start)
	end := mat.NewSymDense(start.SymmetricDim(), nil)
	end.CopySym(start)
	for _, c := range chosen {
		addRun(end, candidates[c])
	}
	after, ok2 := logDet(end)
	if !ok || !ok2 {
		return nil, 0, errors.New("the plan has no determinate worth; widen the levels")
	}
	return chosen, (after - before) / 2, nil
}

// best is the candidate that makes the determinant of m grow most: the one with
// the largest xᵀ m⁻¹ x.
func best(m *mat.SymDense, candidates [][]float64) (place int, worth float64, err error) {
	var chol mat.Cholesky
	if !chol.Factorize(m) {
		return 0, 0, errors.New("the settings so far cannot be told apart; narrow the prior")
	}
	for c, run := range candidates {
		if w := worthOf(&chol, run); w > worth*(1+1e-9) {
			place, worth = c, w
		}
	}
	return place, worth, nil
}

func leverage(m *mat.SymDense, run []float64) float64 {
	var chol mat.Cholesky
	if !chol.Factorize(m) {
		return 0
	}
	return worthOf(&chol, run)
}

func worthOf(chol *mat.Cholesky, run []float64) float64 {
	x := mat.NewVecDense(len(run)+1, append([]float64{1}, run...))
	var solved mat.VecDense
	if chol.SolveVecTo(&solved, x) != nil {
		return 0
	}
	return mat.Dot(x, &solved)
}

func logDet(m *mat.SymDense) (float64, bool) {
	var chol mat.Cholesky
	if !chol.Factorize(m) {
		return 0, false
	}
	return chol.LogDet(), true
}
