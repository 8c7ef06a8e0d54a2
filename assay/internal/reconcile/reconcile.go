// Package reconcile adjusts readings so that they obey their balances.
//
// Weights and assays of a closed circuit, or of a firing, never balance to the
// last figure. Solve changes each reading as little as its uncertainty allows,
// until all balances hold: least squares with constraints,
//
//	minimise  Σ ((x − m)/u)²   so that   f(x) = 0
//
// with readings m, standard uncertainties u and balances f that are sums of
// products (mass, or mass times content). What was not read is estimated where
// the balances determine it and named where they do not. The scheme is that of
// successive linearisation with the unread quantities projected out
// (Knepper & Gorman 1980, AIChE Journal 26:260; Crowe 1986, AIChE Journal
// 32:616; both from memory); it ends where the Lagrange conditions hold
// exactly.
package reconcile

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Reading is one quantity of the balances.
type Reading struct {
	Name  string
	Value float64 // as read; for a quantity that was not read, where the search starts
	// U is the standard uncertainty: above zero for a reading, zero for what is
	// known exactly, +Inf for what was not read.
	U float64
}

// Read reports whether the quantity was read or is known.
func (r Reading) Read() bool { return !math.IsInf(r.U, 1) }

// Term is a product of quantities times a factor; Of are indices into the
// readings. An empty Of is a constant.
type Term struct {
	Factor float64
	Of     []int
}

// Balance is a sum of terms that should be zero.
type Balance struct {
	Name  string
	Terms []Term
}

// Result is a solution. Slices are as long as the readings.
type Result struct {
	Value      []float64 // adjusted or estimated; NaN where not determined
	U          []float64 // its standard uncertainty; NaN where not determined
	Determined []bool    // false for what was not read and no balance fixes
	Cov        *mat.SymDense
	Chi2       float64 // Σ((x − m)/u)²
	DoF        int     // independent balances left after estimating what was not read
	P          float64 // chance of a Chi2 at least this large if all uncertainties are right; NaN without redundancy
	Tests      []Test
	Iterations int
}

const (
	mostIterations = 100
	tolerance      = 1e-11 // of a step, relative to the size of the quantity
	rankTolerance  = 1e-8  // of singular values, relative to the largest
)

// ErrNoSolution tells that the balances cannot be met near the readings.
var ErrNoSolution = errors.New("no values near the readings obey the balances")

// Solve reconciles readings with balances. It fails on an index out of range,
// a value or an uncertainty that is no number, balances that cannot be met, or
// when the search does not settle.
func Solve(readings []Reading, balances []Balance) (Result, error) {
	if err := check(readings, balances); err != nil {
		return Result{}, err
	}
	p := newProblem(readings, balances)
	for i := 1; i <= mostIterations; i++ {
		l, err := p.linearise()
		if err != nil {
			return Result{}, err
		}
		moved := l.step()
		if math.IsNaN(moved) || math.IsInf(moved, 0) {
			return Result{}, ErrNoSolution
		}
		if moved < tolerance {
			if l, err = p.linearise(); err != nil {
				return Result{}, err
			}
			if l.misfit() > 1e-6 {
				return Result{}, ErrNoSolution
			}
			return l.result(i), nil
		}
	}
	return Result{}, fmt.Errorf("%w: the search did not settle in %d steps", ErrNoSolution, mostIterations)
}

func check(readings []Reading, balances []Balance) error {
	for _, r := range readings {
		if math.IsNaN(r.Value) || math.IsInf(r.Value, 0) || math.IsNaN(r.U) || r.U < 0 {
			return fmt.Errorf("%s: %g with standard uncertainty %g cannot be reconciled", r.Name, r.Value, r.U)
		}
	}
	for _, b := range balances {
		for _, t := range b.Terms {
			for _, i := range t.Of {
				if i < 0 || i >= len(readings) {
					return fmt.Errorf("balance %s names quantity %d of %d", b.Name, i, len(readings))
				}
			}
		}
	}
	return nil
}
