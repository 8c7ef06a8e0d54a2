package quality

import (
	"fmt"
	"math"
)

// TotalVerdict says what a sum tells of an analysis.
type TotalVerdict string

const (
	TotalGood       TotalVerdict = "good"
	TotalAccepted   TotalVerdict = "accepted"
	TotalLook       TotalVerdict = "look for a cause"
	TotalRefused    TotalVerdict = "do not normalise"
	TotalNormalised TotalVerdict = "already normalised"
	TotalUntested   TotalVerdict = "tests nothing"
)

// TotalLimits are the bounds of a sum in wt%, each pair inside the next. A zero
// value tests nothing.
type TotalLimits struct {
	Good, Accept, Use [2]float64
}

// FullAnalysis returns the limits for a complete analysis, wet or by fused
// bead, with its ignition loss; common practice, they differ by house.
func FullAnalysis() TotalLimits {
	return TotalLimits{Good: [2]float64{99, 101}, Accept: [2]float64{98.5, 101.5}, Use: [2]float64{95, 105}}
}

// AreaScan returns the limits for energy-dispersive area scans, whose raw sums
// depend on polish, pores and beam current: the printed raw sums of sound slag
// run from 81 to 107 (Wątroba 2012, MSc dissertation, UCL, tables 9, 13, 15).
// The inner limits are common practice.
func AreaScan() TotalLimits {
	return TotalLimits{Good: [2]float64{97, 103}, Accept: [2]float64{95, 105}, Use: [2]float64{80, 110}}
}

// Judge tells what a sum means. lo and hi are the sum with parts below
// detection counted as zero and as their limit; it is good where either is.
func (l TotalLimits) Judge(lo, hi float64) TotalVerdict {
	in := func(b [2]float64) bool { return hi >= b[0] && lo <= b[1] }
	switch {
	case l == TotalLimits{} || math.IsNaN(lo):
		return TotalUntested
	case in(l.Good):
		return TotalGood
	case in(l.Accept):
		return TotalAccepted
	case in(l.Use):
		return TotalLook
	}
	return TotalRefused
}

// Check reports limits that cannot be.
func (l TotalLimits) Check() error {
	for _, b := range [][2]float64{l.Good, l.Accept, l.Use} {
		if !(b[0] < b[1]) {
			return fmt.Errorf("limits of a total are two rising numbers, not %g and %g", b[0], b[1])
		}
	}
	if l.Good[0] < l.Accept[0] || l.Good[1] > l.Accept[1] || l.Accept[0] < l.Use[0] || l.Accept[1] > l.Use[1] {
		return fmt.Errorf("limits of a total must lie inside each other, but %g–%g, %g–%g and %g–%g do not", l.Good[0], l.Good[1], l.Accept[0], l.Accept[1], l.Use[0], l.Use[1])
	}
	return nil
}

// Sum is the sum of one row and how far rounding of its parts may have moved it.
type Sum struct {
	Value    float64
	Rounding float64 // standard deviation from rounding
}

// RoundingSD is the standard deviation of a sum of numbers printed to the given
// steps: each part is off by a rectangular error of half a step.
func RoundingSD(steps []float64) float64 {
	var v float64
	for _, s := range steps {
		v += s * s / 12
	}
	return math.Sqrt(v)
}

// leastRows is how many rows must agree before chance is ruled out.
const leastRows = 3

// Normalised reports whether all rows sum to 100 to within what rounding
// allows: then the laboratory or its instrument has forced them there and the
// sums test nothing. It needs three rows.
func Normalised(sums []Sum) bool {
	if len(sums) < leastRows {
		return false
	}
	for _, s := range sums {
		if math.Abs(s.Value-100) > 3*s.Rounding+0.005 {
			return false
		}
	}
	return true
}
