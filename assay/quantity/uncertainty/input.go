// Package uncertainty carries standard uncertainties through a computation, in
// two ways that check each other: by small steps in each input (Propagate) and
// by drawing (MonteCarlo). Inputs may be correlated.
package uncertainty

import (
	"fmt"
	"math"
)

// Shape is the distribution that an input is drawn from. It has the input's
// value as its mean and the input's U as its standard deviation.
type Shape int

const (
	Normal      Shape = iota
	Rectangular       // half width U·√3 (JCGM 100:2008, 4.3.7)
	Triangular        // half width U·√6 (JCGM 100:2008, 4.3.9)
)

// Input is a number that a result is computed from.
type Input struct {
	Name  string
	Value float64
	U     float64 // standard uncertainty, in the unit of Value; 0 for an exact number
	Shape Shape   // used by MonteCarlo only
}

// Function computes a result from the values of the inputs, in their order.
type Function func(x []float64) float64

// Correlation is a symmetric matrix of correlation coefficients in the order
// of the inputs. Nil means that all inputs are independent.
type Correlation [][]float64

// Pair says how two inputs, by their place, are correlated.
type Pair struct {
	I, J int
	R    float64
}

// Correlated returns the matrix of n inputs in which the named pairs are
// correlated and all others independent.
func Correlated(n int, pairs ...Pair) Correlation {
	m := make(Correlation, n)
	for i := range m {
		m[i] = make([]float64, n)
		m[i][i] = 1
	}
	for _, p := range pairs {
		m[p.I][p.J], m[p.J][p.I] = p.R, p.R
	}
	return m
}

func check(in []Input, c Correlation) error {
	for _, x := range in {
		if math.IsNaN(x.Value) || math.IsInf(x.Value, 0) || !(x.U >= 0) || math.IsInf(x.U, 0) {
			return fmt.Errorf("input %q is %g with a standard uncertainty of %g; both must be finite, the second not negative", x.Name, x.Value, x.U)
		}
	}
	if c == nil {
		return nil
	}
	if len(c) != len(in) {
		return fmt.Errorf("there are %d inputs, but correlations of %d", len(in), len(c))
	}
	for i := range c {
		if len(c[i]) != len(in) || c[i][i] != 1 {
			return fmt.Errorf("row %d of the correlations needs %d numbers with a 1 at its own place", i+1, len(in))
		}
		for j := range c[i] {
			if c[i][j] != c[j][i] || !(math.Abs(c[i][j]) <= 1) {
				return fmt.Errorf("the correlation of inputs %q and %q must be one number from −1 to 1", in[i].Name, in[j].Name)
			}
		}
	}
	return nil
}
