package uncertainty

import (
	"math"
	"slices"
)

// Summary describes drawn values.
type Summary struct {
	Mean, SD            float64
	Low, High           float64 // interval with equal tails
	ShortLow, ShortHigh float64 // shortest interval of the same coverage (JCGM 101:2008, 7.7.4)
}

// Summarise describes values, which need not be sorted and are not changed.
// coverage is the probability of the intervals, 0.95 for 95 %. Fewer than two
// values give NaN.
func Summarise(values []float64, coverage float64) Summary {
	nan := math.NaN()
	if len(values) < 2 {
		return Summary{nan, nan, nan, nan, nan, nan}
	}
	var m Moments
	for _, x := range values {
		m.Add(x)
	}
	s := Summary{Mean: m.Mean(), SD: m.SD()}
	sorted := slices.Sorted(slices.Values(values))
	s.Low, s.High = Quantile(sorted, (1-coverage)/2), Quantile(sorted, (1+coverage)/2)
	steps := min(max(int(coverage*float64(len(sorted))+0.5), 1), len(sorted)-1)
	best := 0
	for i := range len(sorted) - steps {
		if sorted[i+steps]-sorted[i] < sorted[best+steps]-sorted[best] {
			best = i
		}
	}
	s.ShortLow, s.ShortHigh = sorted[best], sorted[best+steps]
	return s
}

// Quantile interpolates between the order statistics of sorted values at
// (n − 1)·p; NaN without values.
func Quantile(sorted []float64, p float64) float64 {
	if len(sorted) == 0 {
		return math.NaN()
	}
	pos := p * float64(len(sorted)-1)
	i := max(min(int(pos), len(sorted)-2), 0)
	j := min(i+1, len(sorted)-1)
	t := pos - float64(i)
	return sorted[i]*(1-t) + sorted[j]*t
}

// Moments gathers mean and standard deviation as values come, without the
// cancellation of a sum of squares (Welford 1962, Technometrics 4:419).
type Moments struct{ n, mean, m2 float64 }

// Add takes one value in.
func (m *Moments) Add(x float64) {
	m.n++
	d := x - m.mean
	m.mean += d / m.n
	m.m2 += d * (x - m.mean)
}

// Mean returns the mean so far, 0 without values.
func (m *Moments) Mean() float64 { return m.mean }

// SD returns the standard deviation (n − 1) so far, NaN below two values.
func (m *Moments) SD() float64 {
	if m.n < 2 {
		return math.NaN()
	}
	return math.Sqrt(m.m2 / (m.n - 1))
}
