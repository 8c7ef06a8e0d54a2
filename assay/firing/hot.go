package firing

import (
	"math"
	"slices"
)

// Hot is what the channels together say of the hottest place.
type Hot struct {
	Channel string
	At      float64 // minutes on the clock, of the highest reading of all
	C       Span
	Others  []Elsewhere
	Spread  float64 // median of hottest less coolest channel while the hottest is above Over; NaN with one channel
	Over    float64
	Beyond  bool
}

// Elsewhere is what another channel read at that moment.
type Elsewhere struct {
	Channel string
	C       float64 // NaN where it read nothing
}

// HotZone compares the channels at the moment of the highest reading, and over
// the time in which the hottest was above a temperature.
func (f Firing) HotZone(over float64, j Judge) (h Hot, ok bool) {
	for _, c := range f.Channels {
		if p, has := c.Peak(j); has && (!ok || p.At.C > h.C.Value) {
			h, ok = Hot{Channel: c.Name, At: p.At.Min, C: p.C, Beyond: p.Beyond}, true
		}
	}
	if !ok {
		return h, false
	}
	h.Over, h.Spread = over, math.NaN()
	for _, c := range f.Channels {
		if c.Name != h.Channel {
			h.Others = append(h.Others, Elsewhere{c.Name, c.at(h.At, j)})
		}
	}
	var spreads []float64
	for _, c := range f.Channels {
		for _, x := range c.Readings {
			lo, hi, n := x.C, x.C, 1
			for _, d := range f.Channels {
				if d.Name == c.Name {
					continue
				}
				if v := d.at(x.Min, j); !math.IsNaN(v) {
					lo, hi, n = math.Min(lo, v), math.Max(hi, v), n+1
				}
			}
			if n > 1 && hi == x.C && hi >= over {
				spreads = append(spreads, hi-lo)
			}
		}
	}
	if len(spreads) > 0 {
		slices.Sort(spreads)
		h.Spread = spreads[len(spreads)/2]
	}
	return h, true
}

// at is the temperature of a channel at a time, between readings by a straight
// line; NaN in a gap and outside.
func (c Channel) at(min float64, j Judge) float64 {
	i, found := slices.BinarySearchFunc(c.Readings, min, func(r Reading, m float64) int {
		switch {
		case r.Min < m:
			return -1
		case r.Min > m:
			return 1
		}
		return 0
	})
	if found {
		return c.Readings[i].C
	}
	if i == 0 || i == len(c.Readings) {
		return math.NaN()
	}
	p, q := c.Readings[i-1], c.Readings[i]
	if q.Min-p.Min > j.Gap {
		return math.NaN()
	}
	return p.C + (q.C-p.C)*(min-p.Min)/(q.Min-p.Min)
}
