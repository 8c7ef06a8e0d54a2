package furnace

import "smeltbook/phase/redox"

// The species of a gas.
const (
	co = iota
	co2
	o2
	n2
	h2o
	h2
	species
)

// gas is a flow of gas, mol/s by species.
type gas [species]float64

var data = [species]redox.Species{co: redox.CO, co2: redox.CO2, o2: redox.O2, n2: redox.N2, h2o: redox.H2O, h2: redox.H2}

// enthalpy is that at T (K), heats of formation included, W.
func (g gas) enthalpy(T float64) float64 {
	var h float64
	for i, n := range g {
		if n != 0 {
			h += n * data[i].Enthalpy(T)
		}
	}
	return h
}

// sensible is what g holds over a temperature, W.
func (g gas) sensible(T, over float64) float64 { return g.enthalpy(T) - g.enthalpy(over) }

func (g gas) total() float64 {
	var n float64
	for _, x := range g {
		n += x
	}
	return n
}

// atEnthalpy returns the T (K) at which g has an enthalpy (W).
func (g gas) atEnthalpy(h float64) float64 {
	lo, hi := 200.0, 3500.0
	for range 60 {
		mid := (lo + hi) / 2
		if g.enthalpy(mid) < h {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

// carbon is the enthalpy of a mole of carbon at T (K), J.
func carbon(T float64) float64 { return redox.Graphite.Enthalpy(T) }
