package furnace

import (
	"fmt"
	"math"

	"smeltbook/phase/redox"
)

// Dry wood as CH1.44O0.66 with a higher heating value of 19.8 MJ/kg (handbooks
// of wood fuel, from memory).
const (
	woodH, woodO = 1.44, 0.66
	woodMass     = 12.011 + woodH*1.008 + woodO*15.999 // g per mole of carbon
	woodHeat     = 19.8e3 * woodMass                   // J per mole of carbon
	// Heat of formation, of water as a liquid.
	woodForm = woodHeat - 393.51e3 - woodH/2*285.83e3
)

// WoodFire is a fire of wood as a gas.
type WoodFire struct {
	TC                     float64 // °C, where nothing but the gas takes heat
	CO, CO2, H2, H2O, Free float64 // shares of the gas by volume; Free is oxygen
	Ratio                  float64 // CO/CO2
	LogPO2                 float64 // log10 of the oxygen pressure in bar; NaN where air and wood just match
	Own                    float64 // oxygen of wood and moisture for an oxygen that turns all carbon to CO
}

// Wood burns wood with a water content (kg in a kg of moist wood) in a multiple
// of the air that burns it wholly. Below 1 the gas is in balance after CO + H2O
// = CO2 + H2, carbon and tar left aside; above 1 it holds free oxygen. An open
// fire draws one and a half to three times the air it needs (common practice).
func Wood(moisture, air float64) (WoodFire, error) {
	if !(moisture >= 0 && moisture <= 0.6) || !(air >= 0.35 && air <= 5) {
		return WoodFire{}, fmt.Errorf("wood with %g of its weight water in %g times its air is outside this model", moisture, air)
	}
	water := moisture / (1 - moisture) * woodMass / (waterMass * 1000)
	need := 1 + woodH/4 - woodO/2
	oxygen := air * need
	nitrogen := oxygen * (1 - oxygenShare) / oxygenShare
	in := gas{o2: oxygen, n2: nitrogen}.enthalpy(room) + woodForm - 285.83e3*water
	hydrogen := woodH/2 + water
	at := func(T float64) gas {
		g := gas{n2: nitrogen}
		if air >= 1 {
			g[co2], g[h2o], g[o2] = 1, hydrogen, oxygen-need
			return g
		}
		// Oxygen atoms on carbon and hydrogen: CO2 + CO = 1, H2O + H2 known.
		total := woodO + water + 2*oxygen
		k := math.Exp(-(redox.CO2.Gibbs(T) + redox.H2.Gibbs(T) - redox.CO.Gibbs(T) - redox.H2O.Gibbs(T)) / (gasConstant * T))
		lo, hi := max(0, total-1-hydrogen), min(1, total-1)
		for range 60 {
			x := (lo + hi) / 2 // CO2
			w := total - 1 - x // H2O
			if x*(hydrogen-w) < k*(1-x)*w {
				lo = x
			} else {
				hi = x
			}
		}
		g[co2], g[co] = lo, 1-lo
		g[h2o] = total - 1 - lo
		g[h2] = hydrogen - g[h2o]
		return g
	}
	lo, hi := 400.0, 3000.0
	for range 60 {
		mid := (lo + hi) / 2
		if g := at(mid); g.enthalpy(mid) < in {
			lo = mid
		} else {
			hi = mid
		}
	}
	g := at(lo)
	n := g.total()
	w := WoodFire{TC: lo - zero, CO: g[co] / n, CO2: g[co2] / n, H2: g[h2] / n, H2O: g[h2o] / n, Free: g[o2] / n,
		Ratio: g[co] / g[co2], Own: woodO + water}
	switch {
	case air == 1:
		w.LogPO2 = math.NaN()
		return w, nil
	case air > 1:
		w.LogPO2 = math.Log10(w.Free * redox.Atmosphere)
		return w, nil
	}
	var err error
	w.LogPO2, err = redox.FromGas(w.Ratio, w.TC)
	return w, err
}
