package firing

import "math"

// Span is a number with the limits that the tolerance of the couple and the
// gaps leave.
type Span struct{ Value, Low, High float64 }

// Above is how long a channel was above a temperature.
type Above struct {
	Minutes Span
	Gaps    float64 // minutes of gaps that High counts in full
	AtLeast bool    // the channel ended while above: it may have been longer
}

// Above returns how long a channel was above t °C: readings joined by straight
// lines where they lie no farther apart than the gap. The lower limit takes
// all readings to be too high by the tolerance; the upper limit takes them to
// be too low, and counts a gap in full where either end of it is above.
func (c Channel) Above(t float64, j Judge) Above {
	var a Above
	tol, _ := j.Tolerance(c, t)
	for i := 1; i < len(c.Readings); i++ {
		p, q := c.Readings[i-1], c.Readings[i]
		dt := q.Min - p.Min
		if dt > j.Gap {
			if math.Max(p.C, q.C) >= t-tol {
				a.Gaps += dt
				a.Minutes.High += dt
			}
			continue
		}
		a.Minutes.Value += dt * shareAbove(p.C, q.C, t)
		a.Minutes.Low += dt * shareAbove(p.C, q.C, t+tol)
		a.Minutes.High += dt * shareAbove(p.C, q.C, t-tol)
	}
	if n := len(c.Readings); n > 0 && c.Readings[n-1].C > t {
		a.AtLeast = true
	}
	return a
}

// shareAbove is the share of a straight line from p to q that lies above t.
func shareAbove(p, q, t float64) float64 {
	lo, hi := math.Min(p, q), math.Max(p, q)
	switch {
	case lo >= t:
		return 1
	case hi <= t:
		return 0
	}
	return (hi - t) / (hi - lo)
}

// Gaps returns the stretches between readings that are longer than the gap.
func (c Channel) Gaps(j Judge) [][2]float64 {
	var out [][2]float64
	for i := 1; i < len(c.Readings); i++ {
		if a, b := c.Readings[i-1].Min, c.Readings[i].Min; b-a > j.Gap {
			out = append(out, [2]float64{a, b})
		}
	}
	return out
}

// Peak is the highest reading of a channel, with the limits of its couple.
type Peak struct {
	At     Reading
	C      Span
	Stated bool // the standard states a tolerance there
	Beyond bool // above what the couple bears: it may have drifted or been lost
	Lost   bool // nothing but faults after it
}

// Peak returns the highest reading; ok is false where there is none.
func (c Channel) Peak(j Judge) (p Peak, ok bool) {
	for i, x := range c.Readings {
		if i == 0 || x.C > p.At.C {
			p.At = x
		}
	}
	if len(c.Readings) == 0 {
		return p, false
	}
	tol, stated := j.Tolerance(c, p.At.C)
	p.C = Span{p.At.C, p.At.C - tol, p.At.C + tol}
	p.Stated, p.Beyond = stated, p.At.C > j.Steady(c)
	last := c.Readings[len(c.Readings)-1].Min
	behind := 0
	for _, f := range c.Faults {
		if f.Min > last {
			behind++
		}
	}
	p.Lost = behind >= 3
	return p, true
}
