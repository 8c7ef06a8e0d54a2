package logratio

import (
	"fmt"
	"math"
)

// Replacement says what stands for a value below its limit.
type Replacement string

const (
	// Simple is multiplicative simple replacement: 0.65 of the limit, the
	// other parts of the sample scaled so that their sum with it is kept and
	// their ratios are (Martín-Fernández, Barceló-Vidal & Pawlowsky-Glahn 2003,
	// Mathematical Geology 35:253).
	Simple Replacement = "0.65 limit"
	// Half is the same with half the limit.
	Half Replacement = "half limit"
	// Whole is the same with the limit itself: the largest it can be.
	Whole Replacement = "limit"
	// EM is the log-ratio EM algorithm, see replaceEM; it needs more samples
	// than ratios.
	EM Replacement = "log-ratio EM"
)

// Replacements lists them all.
func Replacements() []Replacement { return []Replacement{Simple, Half, Whole, EM} }

// Complete returns the table as a matrix, with a number in place of every value
// below its limit.
func (t Table) Complete(r Replacement) (Matrix, error) {
	switch r {
	case Simple:
		return t.fraction(0.65), nil
	case Half:
		return t.fraction(0.5), nil
	case Whole:
		return t.fraction(1), nil
	case EM:
		return t.replaceEM()
	}
	return Matrix{}, fmt.Errorf("there is no replacement %q", r)
}

// fraction puts f times the limit for values below it.
func (t Table) fraction(f float64) Matrix {
	m := Matrix{Parts: t.Parts, Samples: t.Samples, X: make([][]float64, len(t.Values))}
	for i, row := range t.Values {
		x := make([]float64, len(row))
		for j, v := range row {
			x[j] = v.X
			if v.Below() {
				x[j] = f * v.Limit
			}
		}
		keepSum(row, x)
		m.X[i] = x
	}
	return m
}

// keepSum scales the measured parts so that the sample sums to what they did
// before others were put in. Where replacements would take more than the whole
// they are left beside it: no ratio of measured parts depends on this.
func keepSum(row []Value, x []float64) {
	var sum, added float64
	for j, v := range row {
		if v.Below() {
			added += x[j]
		} else {
			sum += v.X
		}
	}
	f := 1 - added/sum
	if !(f > 0) || math.IsInf(f, 0) {
		return
	}
	for j, v := range row {
		if !v.Below() {
			x[j] *= f
		}
	}
}
