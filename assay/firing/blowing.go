package firing

import (
	"math"

	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// Blowing returns the stretches in which the air was on. open is set where the
// last was never ended; it then ends with the log.
func (f Firing) Blowing() (spans [][2]float64, open bool) {
	on := math.NaN()
	for _, e := range f.Events {
		switch {
		case e.Kind == AirOn && math.IsNaN(on):
			on = e.Min
		case e.Kind == AirOff && !math.IsNaN(on):
			spans = append(spans, [2]float64{on, e.Min})
			on = math.NaN()
		}
	}
	if !math.IsNaN(on) {
		if end, ok := f.End(); ok && end > on {
			spans, open = append(spans, [2]float64{on, end}), true
		}
	}
	return spans, open
}

// clockError is the standard uncertainty in hours of a time that was read from
// a watch to the minute: half a minute either way, all alike, over √3 (JCGM
// 100:2008, 4.3.7).
const clockError = 0.5 / 60 / 1.7320508

// BlownHours returns how long the air was on; Missing where no event says so.
func (f Firing) BlownHours() quantity.Quantity {
	spans, _ := f.Blowing()
	if len(spans) == 0 {
		return quantity.None(quantity.Missing, math.NaN(), "h")
	}
	var cells []source.Cell
	for _, e := range f.Events {
		if e.Kind == AirOn || e.Kind == AirOff {
			cells = append(cells, e.At)
		}
	}
	sum := 0.0
	for _, s := range spans {
		sum += s[1] - s[0]
	}
	return quantity.WithU(sum/60, clockError*math.Sqrt(2*float64(len(spans))), "h", "times read to the minute", cells...)
}

// Charged sums what went in.
func (f Firing) Charged() (ore, flux, charcoal quantity.Quantity, charges int) {
	var o, fl, c []quantity.Quantity
	for _, e := range f.Events {
		if e.Kind == Charge {
			charges++
		}
		for _, x := range []struct {
			q  quantity.Quantity
			to *[]quantity.Quantity
		}{{e.Ore, &o}, {e.Flux, &fl}, {e.Charcoal, &c}} {
			if x.q.Known() {
				*x.to = append(*x.to, x.q)
			}
		}
	}
	return sumOf(o), sumOf(fl), sumOf(c), charges
}

func sumOf(qs []quantity.Quantity) quantity.Quantity {
	if len(qs) == 0 {
		return quantity.None(quantity.Missing, math.NaN(), "kg")
	}
	q := quantity.Sum("kg", qs...)
	if !q.HasU() {
		q.UNote = "the sheet states no uncertainty of the charges"
	}
	return q
}

// LevelRate returns how fast charcoal went in, in kg/h, from the first charge
// with the air on to the last: with the bed kept at one level that is how fast
// it burnt. The level is judged by eye, to half a charge either way at both
// ends. ok is false with fewer than three such charges.
func (f Firing) LevelRate() (q quantity.Quantity, ok bool) {
	spans, _ := f.Blowing()
	if len(spans) == 0 {
		return q, false
	}
	var times, weights []float64
	var cells []source.Cell
	for _, e := range f.Events {
		if e.Charcoal.Known() && e.Charcoal.Value > 0 && e.Min >= spans[0][0] && e.Min <= spans[len(spans)-1][1] {
			times, weights, cells = append(times, e.Min), append(weights, e.Charcoal.Value), append(cells, e.Charcoal.From...)
		}
	}
	n := len(times)
	if n < 3 || times[n-1] <= times[0] {
		return q, false
	}
	hours, sum := 0.0, 0.0
	for _, s := range spans {
		hours += math.Max(0, math.Min(s[1], times[n-1])-math.Max(s[0], times[0])) / 60
	}
	for _, w := range weights[1:] {
		sum += w
	}
	if hours <= 0 {
		return q, false
	}
	level := sum / float64(n-1) / 2 / math.Sqrt(3) * math.Sqrt2
	return quantity.WithU(sum/hours, level/hours, "kg/h", "level of the bed judged by eye to half a charge", cells...), true
}
