package furnace

import (
	"fmt"
	"math"
)

// AirFor returns the L/min at 0 °C and 1 atm with which the burning zone has a
// temperature in °C; an error where 10 to 3000 L/min do not.
func AirFor(f Furnace, tc float64) (float64, State, error) {
	at := func(air float64) (State, error) {
		f.Air.Normal = air
		return f.Solve()
	}
	lo, hi := 10.0, 3000.0
	st, err := at(hi)
	if err != nil {
		return 0, st, err
	}
	if st.HotTC() < tc {
		return 0, st, fmt.Errorf("no blast up to %.0f L/min brings the burning zone of this bowl to %.0f °C", hi, tc)
	}
	for hi-lo > 0.01*hi {
		mid := math.Sqrt(lo * hi)
		s, err := at(mid)
		if err != nil {
			return 0, s, err
		}
		if s.HotTC() < tc {
			lo = mid
		} else {
			hi, st = mid, s
		}
	}
	return hi, st, nil
}

// MostCharge returns the charge in kg/h with which the burning zone still has a
// temperature in °C, 0 where it has not without one, at most 100.
func MostCharge(f Furnace, tc float64) (float64, error) {
	hot := func(rate float64) (bool, error) {
		f.Charge.KgPerHour = rate
		st, err := f.Solve()
		return st.HotTC() >= tc, err
	}
	lo, hi := 0.0, 100.0
	for _, end := range []float64{lo, hi} {
		ok, err := hot(end)
		if err != nil {
			return 0, err
		}
		if ok == (end == hi) {
			return end, nil
		}
	}
	for hi-lo > 0.02 {
		mid := (lo + hi) / 2
		ok, err := hot(mid)
		if err != nil {
			return 0, err
		}
		if ok {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo, nil
}

// Size is a bowl of the same proportions and what it asks for.
type Size struct {
	Diameter    float64 // m
	Air         float64 // L/min at 0 °C and 1 atm; NaN where no blast does
	CharcoalKgH float64
	LossShare   float64 // of the heat released that wall and top take
}

// Sizes scales the bowl to other diameters (m), lining and charge kept, and asks
// what brings its burning zone to a temperature in °C.
func Sizes(f Furnace, tc float64, diameters []float64) []Size {
	var out []Size
	for _, d := range diameters {
		g := f
		k := d / f.Bowl.Diameter
		g.Bowl.Diameter, g.Bowl.Depth = d, k*f.Bowl.Depth
		g.Bowl.PipeHeight, g.Bowl.Heap = k*f.Bowl.PipeHeight, k*f.Bowl.Heap
		air, st, err := AirFor(g, tc)
		if err != nil {
			out = append(out, Size{d, math.NaN(), math.NaN(), math.NaN()})
			continue
		}
		out = append(out, Size{d, air, st.CharcoalKgH, (st.Wall + st.Top) / st.Released})
	}
	return out
}
