// Package quantity holds a number as a laboratory means it: a value with its
// unit, its standard uncertainty or the reason why there is none, its state
// when it is no number (below detection, not analysed, …), and the cells it
// came from.
package quantity

import (
	"math"

	"smeltbook/assay/source"
)

// Class says why a cell holds no plain number. The words are those of
// the JSON output.
type Class string

const (
	Measured Class = ""        // a number
	Below    Class = "lt"      // below a limit; Limit holds it when it was stated
	Above    Class = "gt"      // above the calibrated range; Limit holds it
	NotFound Class = "nd"      // looked for and not detected
	NotRun   Class = "na"      // not analysed
	Trace    Class = "tr"      // seen but not measured
	Missing  Class = "missing" // empty, a dash, or a formula without a value
	Unusable Class = "error"   // spreadsheet error, date for a number, unreadable text
)

// ClassWords says what the words of the classes mean.
const ClassWords = "lt below a limit, gt above a limit, nd not detected, na not analysed, tr trace, missing empty, error unreadable"

// Censored reports whether the class says "too little to measure": such a
// part exists, or may exist, below some limit.
func (c Class) Censored() bool { return c == Below || c == NotFound || c == Trace }

// Quantity is a value with everything that has to travel with it. Value and U
// are in Unit; both are NaN where there is no number.
type Quantity struct {
	Value float64 // NaN unless Class is Measured
	U     float64 // standard uncertainty (k = 1); NaN when unknown
	Unit  string  // "wt%", "°C", "1" for ratios
	UNote string  // where U comes from, or why there is none
	Class Class
	Limit float64       // for Below and Above, in Unit; NaN when not stated
	From  []source.Cell // the cells behind the value
}

// New returns a measured quantity without uncertainty; why says why.
func New(value float64, unit, why string, from ...source.Cell) Quantity {
	return Quantity{Value: value, U: math.NaN(), Unit: unit, UNote: why, Limit: math.NaN(), From: from}
}

// WithU returns a measured quantity with the standard uncertainty u; note
// says where u comes from.
func WithU(value, u float64, unit, note string, from ...source.Cell) Quantity {
	return Quantity{Value: value, U: u, Unit: unit, UNote: note, Limit: math.NaN(), From: from}
}

// None returns a quantity that holds no number. limit is NaN when unknown.
func None(class Class, limit float64, unit string, from ...source.Cell) Quantity {
	return Quantity{Value: math.NaN(), U: math.NaN(), Unit: unit, Class: class, Limit: limit, From: from}
}

// Known reports whether q holds a number.
func (q Quantity) Known() bool { return q.Class == Measured && !math.IsNaN(q.Value) }

// HasU reports whether q holds a number with a standard uncertainty.
func (q Quantity) HasU() bool { return q.Known() && !math.IsNaN(q.U) }

// Or returns the value, or other where there is no number.
func (q Quantity) Or(other float64) float64 {
	if q.Known() {
		return q.Value
	}
	return other
}

// Bounds returns the least and the greatest value that q may stand for: a
// measured value for both, [0, limit] below a limit, [limit, +Inf] above one.
// Where nothing is known both are NaN.
func (q Quantity) Bounds() (lo, hi float64) {
	switch {
	case q.Known():
		return q.Value, q.Value
	case q.Class.Censored() && !math.IsNaN(q.Limit):
		return 0, q.Limit
	case q.Class == Above && !math.IsNaN(q.Limit):
		return q.Limit, math.Inf(1)
	}
	return math.NaN(), math.NaN()
}

// Scale returns q times f, in the given unit; limit and uncertainty follow.
func (q Quantity) Scale(f float64, unit string) Quantity {
	q.Value *= f
	q.U *= math.Abs(f)
	q.Limit *= f
	q.Unit = unit
	return q
}
