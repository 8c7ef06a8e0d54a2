package firing

import (
	"math"

	"gonum.org/v1/gonum/stat"
)

// Rate is a rate of heating in °C/min.
type Rate struct {
	PerMin   Span
	From, To float64 // minutes on the clock
}

// Heating returns the mean rate from the first passing of one temperature to
// the first passing of the other after it; ok is false where the channel did
// not pass both, or a gap lies across a passing. The limits take all readings
// to be off by the tolerance one way.
func (c Channel) Heating(from, to float64, j Judge) (r Rate, ok bool) {
	var rates [3]float64
	for i, sign := range []float64{0, 1, -1} {
		a, b := from, to
		ta, _ := j.Tolerance(c, a)
		tb, _ := j.Tolerance(c, b)
		t0, ok0 := c.passes(a+sign*ta, math.Inf(-1), j)
		t1, ok1 := c.passes(b+sign*tb, t0, j)
		if !ok0 || !ok1 || t1 <= t0 {
			if sign == 0 {
				return r, false
			}
			rates[i] = rates[0]
			continue
		}
		rates[i] = (to - from) / (t1 - t0)
		if sign == 0 {
			r.From, r.To = t0, t1
		}
	}
	r.PerMin = Span{rates[0], min(rates[0], rates[1], rates[2]), max(rates[0], rates[1], rates[2])}
	return r, true
}

// passes is when a channel first comes up to t after a time.
func (c Channel) passes(t, after float64, j Judge) (float64, bool) {
	for i := 1; i < len(c.Readings); i++ {
		p, q := c.Readings[i-1], c.Readings[i]
		if q.Min < after || p.C >= t || q.C < t {
			continue
		}
		if q.Min-p.Min > j.Gap {
			return 0, false
		}
		return p.Min + (q.Min-p.Min)*(t-p.C)/(q.C-p.C), true
	}
	return 0, false
}

// Steepest returns the steepest rise over a window of minutes: the slope of a
// straight line through its readings, four at least and no gap among them. The
// limits are twice the standard error of the slope, and the tolerance as a
// share of it.
func (c Channel) Steepest(window float64, j Judge) (r Rate, ok bool) {
	best := math.Inf(-1)
	for i, end := 0, 0; i < len(c.Readings); i++ {
		for end < len(c.Readings) && c.Readings[end].Min-c.Readings[i].Min <= window+1e-9 && (end <= i || c.Readings[end].Min-c.Readings[end-1].Min <= j.Gap) {
			end++
		}
		w := c.Readings[i:max(end, i)]
		if len(w) < 4 || w[len(w)-1].Min-w[0].Min < 0.7*window {
			end = max(end, i+1)
			continue
		}
		xs, ys := make([]float64, len(w)), make([]float64, len(w))
		for k, x := range w {
			xs[k], ys[k] = x.Min-w[0].Min, x.C
		}
		a, slope := stat.LinearRegression(xs, ys, nil, false)
		if slope <= best {
			continue
		}
		best = slope
		var rest, spread float64
		mean := stat.Mean(xs, nil)
		for k := range xs {
			d := ys[k] - a - slope*xs[k]
			rest += d * d
			spread += (xs[k] - mean) * (xs[k] - mean)
		}
		se := math.Sqrt(rest / float64(len(w)-2) / spread)
		mid := w[len(w)/2].C
		tol, _ := j.Tolerance(c, mid)
		off := math.Hypot(2*se, slope*tol/math.Max(mid, 1))
		r = Rate{Span{slope, slope - off, slope + off}, w[0].Min, w[len(w)-1].Min}
		ok = true
	}
	return r, ok
}
