package quality

import (
	"errors"
	"math"
	"slices"
)

// RobustLine is a line that a few wild points do not turn: a slope from the
// slopes of all pairs of points, with its 95 % interval.
type RobustLine struct {
	A, B float64
	BLow float64
	BTop float64
	ALow float64
	ATop float64
	N    int
}

// PassingBablok fits two methods without taking either for the truth (Passing
// & Bablok 1983, Journal of Clinical Chemistry and Clinical Biochemistry
// 21:709; from memory). It is for results that rise together.
func PassingBablok(xs, ys []float64) (RobustLine, error) {
	slopes, err := pairSlopes(xs, ys)
	if err != nil {
		return RobustLine{}, err
	}
	shift := 0
	kept := slopes[:0]
	for _, s := range slopes {
		if s == -1 {
			continue
		}
		if s < -1 {
			shift++
		}
		kept = append(kept, s)
	}
	slices.Sort(kept)
	n := float64(len(xs))
	l, ok := middleSlope(kept, shift, n)
	if !ok || !(l.B > 0) || math.IsInf(l.B, 0) {
		return RobustLine{}, errors.New("the two methods do not rise together")
	}
	l.N = len(xs)
	l.A = medianIntercept(xs, ys, l.B)
	l.ALow, l.ATop = medianIntercept(xs, ys, l.BTop), medianIntercept(xs, ys, l.BLow)
	return l, nil
}

// TheilSen is the median of the slopes of all pairs, x taken as free of error
// (Sen 1968, Journal of the American Statistical Association 63:1379).
func TheilSen(xs, ys []float64) (RobustLine, error) {
	slopes, err := pairSlopes(xs, ys)
	if err != nil {
		return RobustLine{}, err
	}
	slopes = slices.DeleteFunc(slopes, func(s float64) bool { return math.IsInf(s, 0) })
	slices.Sort(slopes)
	l, ok := middleSlope(slopes, 0, float64(len(xs)))
	if !ok {
		return RobustLine{}, ErrNoSpread
	}
	l.N = len(xs)
	l.A = medianIntercept(xs, ys, l.B)
	l.ALow, l.ATop = medianIntercept(xs, ys, l.BTop), medianIntercept(xs, ys, l.BLow)
	return l, nil
}

// pairSlopes are the slopes of all pairs of unequal points; infinite where the
// points stand above each other.
func pairSlopes(xs, ys []float64) ([]float64, error) {
	if len(xs) < 3 {
		return nil, ErrFew
	}
	var slopes []float64
	for i := range xs {
		for j := range i {
			dx, dy := xs[i]-xs[j], ys[i]-ys[j]
			switch {
			case dx == 0 && dy == 0:
			case dx == 0:
				slopes = append(slopes, math.Inf(1))
			default:
				slopes = append(slopes, dy/dx)
			}
		}
	}
	if len(slopes) == 0 {
		return nil, ErrNoSpread
	}
	return slopes, nil
}

// middleSlope takes the shifted median of sorted slopes and its 95 % interval
// by the normal approximation of Kendall's statistic.
func middleSlope(sorted []float64, shift int, n float64) (RobustLine, bool) {
	m := len(sorted)
	at := func(i int) float64 { return sorted[min(max(i+shift, 0), m-1)] }
	if m == 0 || (m-1)/2+shift >= m {
		return RobustLine{}, false
	}
	c := 1.959964 * math.Sqrt(n*(n-1)*(2*n+5)/18)
	low := int(math.Round((float64(m) - c) / 2))
	return RobustLine{B: (at((m-1)/2) + at(m/2)) / 2, BLow: at(low - 1), BTop: at(m - low)}, true
}

func medianIntercept(xs, ys []float64, b float64) float64 {
	rest := make([]float64, len(xs))
	for i := range xs {
		rest[i] = ys[i] - b*xs[i]
	}
	return medianOf(rest)
}
