package report

import (
	"math"

	"smeltbook/report/figure"
)

// axisFor returns an axis that holds all finite values with a little room,
// ending on round numbers.
func axisFor(label, unit string, values []float64) figure.Axis {
	lo, hi := extent(values)
	if math.IsInf(lo, 0) {
		lo, hi = 0, 1
	}
	if hi-lo < 1e-9*math.Max(math.Abs(hi), 1) {
		pad := math.Max(math.Abs(hi)*0.05, 0.5)
		lo, hi = lo-pad, hi+pad
	}
	step := roundStep((hi - lo) / 6)
	a := figure.Axis{Label: label, Unit: unit, Min: math.Floor((lo-0.04*(hi-lo))/step) * step, Max: math.Ceil((hi+0.04*(hi-lo))/step) * step}
	if lo >= 0 && a.Min < 0 {
		a.Min = 0
	}
	return a
}

// logAxisFor returns a logarithmic axis ending on 1, 2 or 5 times a power of
// ten.
func logAxisFor(label, unit string, values []float64) figure.Axis {
	var positive []float64
	for _, v := range values {
		if v > 0 {
			positive = append(positive, v)
		}
	}
	lo, hi := extent(positive)
	if math.IsInf(lo, 0) {
		lo, hi = 0.1, 100
	}
	return figure.Axis{Label: label, Unit: unit, Min: roundLog(lo/1.08, false), Max: roundLog(hi*1.08, true), Log: true}
}

func extent(values []float64) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, v := range values {
		if !math.IsNaN(v) && !math.IsInf(v, 0) {
			lo, hi = math.Min(lo, v), math.Max(hi, v)
		}
	}
	return lo, hi
}

// roundStep returns the least of 1, 2, 5 times a power of ten that is not
// below x.
func roundStep(x float64) float64 { return roundLog(x, true) }

func roundLog(x float64, up bool) float64 {
	p := math.Pow(10, math.Floor(math.Log10(x)))
	steps := []float64{1, 2, 5, 10}
	if up {
		for _, s := range steps {
			if s*p >= x*(1-1e-12) {
				return s * p
			}
		}
		return 10 * p
	}
	best := p
	for _, s := range steps {
		if s*p <= x*(1+1e-12) {
			best = s * p
		}
	}
	return best
}
