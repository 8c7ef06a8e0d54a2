package wetlab

import (
	"fmt"
	"math"
)

// Line is a straight calibration line through standards, signal = A + B·x, by
// least squares.
type Line struct {
	A, B  float64
	Syx   float64 // standard deviation of the signals about the line
	N     int     // standards
	MeanY float64
	Sxx   float64 // Σ(x − x̄)²
	Lo    float64 // least and greatest x
	Hi    float64
}

// FitLine fits a line. It fails with fewer than three standards, standards of
// one concentration only, numbers that are not finite, and a flat line.
func FitLine(x, y []float64) (Line, error) {
	if len(x) != len(y) || len(x) < 3 {
		return Line{}, fmt.Errorf("a calibration line needs three standards or more, not %d", min(len(x), len(y)))
	}
	n := float64(len(x))
	l := Line{N: len(x), Lo: math.Inf(1), Hi: math.Inf(-1)}
	var meanX float64
	for i := range x {
		meanX += x[i] / n
		l.MeanY += y[i] / n
		l.Lo, l.Hi = math.Min(l.Lo, x[i]), math.Max(l.Hi, x[i])
	}
	var sxy float64
	for i := range x {
		l.Sxx += (x[i] - meanX) * (x[i] - meanX)
		sxy += (x[i] - meanX) * (y[i] - l.MeanY)
	}
	if !(l.Sxx > 0) || math.IsInf(l.Sxx, 0) {
		return Line{}, fmt.Errorf("the standards of a calibration line must differ")
	}
	l.B = sxy / l.Sxx
	l.A = l.MeanY - l.B*meanX
	var rest float64
	for i := range x {
		d := y[i] - l.A - l.B*x[i]
		rest += d * d
	}
	l.Syx = math.Sqrt(rest / (n - 2))
	if l.B == 0 || math.IsNaN(l.B) || math.IsInf(l.B, 0) || math.IsNaN(l.Syx) || math.IsInf(l.Syx, 0) {
		return Line{}, fmt.Errorf("the signal does not change with the concentration of the standards")
	}
	return l, nil
}

// At returns the x that belongs to a signal, the mean of p readings, with
//
//	s(x) = s(y/x)/|b| · √(1/p + 1/n + (y − ȳ)²/(b²·Sxx))
//
// (Miller & Miller, Statistics and Chemometrics for Analytical Chemistry; from
// memory, sure).
func (l Line) At(y float64, p int) (x, s float64) {
	d := y - l.MeanY
	return (y - l.A) / l.B, l.Syx / math.Abs(l.B) * math.Sqrt(1/float64(p)+1/float64(l.N)+d*d/(l.B*l.B*l.Sxx))
}

// Added returns what the sample held before any addition, x₀ = a/b, for a line
// through standard additions, with
//
//	s(x₀) = s(y/x)/|b| · √(1/n + ȳ²/(b²·Sxx))
//
// There is no 1/p under the root: the signal at nought is not read, it is
// where the line meets the axis (IUPAC note on standard addition; formula by
// memory, sure: Miller & Miller). Standard addition removes effects of the
// matrix on the slope, not an offset.
func (l Line) Added() (x, s float64) {
	return l.A / l.B, l.Syx / math.Abs(l.B) * math.Sqrt(1/float64(l.N)+l.MeanY*l.MeanY/(l.B*l.B*l.Sxx))
}
