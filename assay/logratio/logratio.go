// Package logratio holds statistics that respect closure: the parts of an
// analysis sum to a constant, so only their ratios carry information, and every
// figure here is computed from logarithms of ratios (Aitchison 1986, The
// Statistical Analysis of Compositional Data).
//
// A Table holds what the laboratory gave, parts below a limit included. Replace
// makes a Matrix of it that has a number everywhere, a Drawing possible ones; transforms,
// distances and summaries work on a Matrix. Package compare asks whether two
// groups differ, likeness which sample resembles which, effects what moved a
// result between firings.
//
// The package believes that three to ten samples are the rule. It refuses a
// method that needs more with a *TooFew that says how many it needs.
package logratio

import (
	"fmt"
	"math"
)

// Value is one part of one sample, in any unit that its table shares.
type Value struct {
	X     float64 // amount, above zero; NaN when below the limit
	U     float64 // standard uncertainty of X; 0 or NaN when unknown
	Limit float64 // upper bound of a value that is below detection
}

// Measured returns a value with its standard uncertainty; NaN or 0 when unknown.
func Measured(x, u float64) Value { return Value{X: x, U: u, Limit: math.NaN()} }

// Under returns a value that is somewhere between zero and the limit.
func Under(limit float64) Value { return Value{X: math.NaN(), U: math.NaN(), Limit: limit} }

// Below reports whether the value is below its limit.
func (v Value) Below() bool { return math.IsNaN(v.X) }

// spread is the standard deviation of ln X: for u much smaller than X it is
// u/X, and in general that of the lognormal law of this relative spread.
func (v Value) spread() float64 {
	if v.Below() || !(v.U > 0) {
		return 0
	}
	return math.Sqrt(math.Log1p(v.U / v.X * v.U / v.X))
}

// Table is a set of samples by parts, a row a sample.
type Table struct {
	Parts   []string
	Samples []string
	Values  [][]Value
}

// NewTable checks the shape and every value: a number is above zero and finite,
// a value below detection has a limit above zero, and every sample has a number
// for at least one part. An amount of zero has no logarithm; state the limit of
// detection in its place.
func NewTable(parts, samples []string, values [][]Value) (Table, error) {
	if len(parts) < 2 {
		return Table{}, fmt.Errorf("ratios need two parts or more, not %d", len(parts))
	}
	seen := map[string]bool{}
	for _, p := range parts {
		if seen[p] {
			return Table{}, fmt.Errorf("the part %s is named twice", p)
		}
		seen[p] = true
	}
	if len(samples) != len(values) {
		return Table{}, fmt.Errorf("%d samples are named for %d rows", len(samples), len(values))
	}
	for i, row := range values {
		if len(row) != len(parts) {
			return Table{}, fmt.Errorf("%s has %d values for %d parts", samples[i], len(row), len(parts))
		}
		numbers := 0
		for j, v := range row {
			switch {
			case v.Below() && !(v.Limit > 0 && !math.IsInf(v.Limit, 0)):
				return Table{}, fmt.Errorf("%s of %s is below detection without a limit; state the limit or leave the part out", parts[j], samples[i])
			case !v.Below() && (!(v.X > 0) || math.IsInf(v.X, 0)):
				return Table{}, fmt.Errorf("%s of %s is %g, which has no logarithm; state the limit of detection or leave the part out", parts[j], samples[i], v.X)
			case v.U < 0 || math.IsInf(v.U, 0):
				return Table{}, fmt.Errorf("%s of %s has the uncertainty %g", parts[j], samples[i], v.U)
			}
			if !v.Below() {
				numbers++
			}
		}
		if numbers == 0 {
			return Table{}, fmt.Errorf("%s has every part below detection", samples[i])
		}
	}
	return Table{Parts: parts, Samples: samples, Values: values}, nil
}

// Sub returns the table with the parts at the given places, in that order.
func (t Table) Sub(places []int) (Table, error) {
	parts := make([]string, len(places))
	for k, j := range places {
		parts[k] = t.Parts[j]
	}
	values := make([][]Value, len(t.Values))
	for i, row := range t.Values {
		values[i] = make([]Value, len(places))
		for k, j := range places {
			values[i][k] = row[j]
		}
	}
	return NewTable(parts, t.Samples, values)
}

// Rows returns the table with the samples at the given places, in that order.
func (t Table) Rows(places []int) Table {
	out := Table{Parts: t.Parts}
	for _, i := range places {
		out.Samples = append(out.Samples, t.Samples[i])
		out.Values = append(out.Values, t.Values[i])
	}
	return out
}

// Censored counts, part by part, the values below detection.
func (t Table) Censored() []int {
	out := make([]int, len(t.Parts))
	for _, row := range t.Values {
		for j, v := range row {
			if v.Below() {
				out[j]++
			}
		}
	}
	return out
}

// HasSpread reports whether any value carries an uncertainty or a limit, so
// that drawing makes a difference.
func (t Table) HasSpread() bool {
	for _, row := range t.Values {
		for _, v := range row {
			if v.Below() || v.U > 0 {
				return true
			}
		}
	}
	return false
}

// Matrix is a table with a number above zero everywhere.
type Matrix struct {
	Parts   []string
	Samples []string
	X       [][]float64
}

// TooFew says that a method needs more samples than there are.
type TooFew struct {
	Method string
	Have   int
	Need   int
	Parts  int // dimension that asks for them: ratios that can vary freely
}

func (e *TooFew) Error() string {
	return fmt.Sprintf("%s needs %d samples or more for %d independent ratios; there are %d", e.Method, e.Need, e.Parts, e.Have)
}
