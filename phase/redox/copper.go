package redox

import "math"

const (
	copperSource = "O'Neill & Pownceby 1993, Contrib. Mineral. Petrol. 114:296"

	copperMelts   = 1357.77 // K
	copperFusion  = 13138.0 // J/mol Cu (from memory, sure)
	cupriteMelts  = 1509.0  // K
	cupriteFusion = 64800.0 // J/mol Cu2O (from memory, less sure)
)

// solidCopperOxide is μ(O2) of 4Cu(s) + O2 = 2Cu2O(s), fitted 750–1330 K.
func solidCopperOxide(T float64) float64 {
	return -347705 + 246.096*T - 12.9053*T*math.Log(T)
}

// liquidCopper is what melting four moles of copper adds to μ.
func liquidCopper(T float64) float64 { return -4 * copperFusion * (1 - T/copperMelts) }

// liquidCuprite is what melting two moles of Cu2O adds to μ.
func liquidCuprite(T float64) float64 { return 2 * cupriteFusion * (1 - T/cupriteMelts) }

// CopperCuprite returns the buffer 4Cu + O2 = 2Cu2O between the stable forms:
// the solid line of O'Neill & Pownceby 1993, with copper liquid above 1084.62
// °C and Cu2O above 1236 °C.
func CopperCuprite() Buffer {
	return Buffer{ID: "cu_cu2o", Family: "cu_cu2o", Label: "copper and cuprous oxide", Reaction: "4Cu + O2 = 2Cu2O", Source: copperSource,
		LoC: 750 - zeroCelsius, HiC: 1330 - zeroCelsius,
		derivation: "above the melting points the heats of fusion are added to the solid line, which is used beyond its own range",
		logFO2: func(T float64) float64 {
			mu := solidCopperOxide(T)
			if T > copperMelts {
				mu += liquidCopper(T)
			}
			if T > cupriteMelts {
				mu += liquidCuprite(T)
			}
			return fromPotential(mu, T)
		}}
}

// LiquidCopperOxide returns log pO2* of 4Cu(l) + O2 = 2Cu2O(l) at every
// temperature, supercooled liquids where need be: the standard state for
// copper oxide dissolved in slag. The range is that in which its inputs are
// used with slags, 1100 to 1300 °C.
func LiquidCopperOxide() Buffer {
	return Buffer{ID: "cu_cu2o_liquid", Family: "cu_cu2o_liquid", Label: "liquid copper and liquid cuprous oxide", Reaction: "4Cu(l) + O2 = 2Cu2O(l)", Source: copperSource,
		LoC: 1100, HiC: 1300,
		derivation: "heats of fusion of copper (13.14 kJ/mol) and Cu2O (64.8 kJ/mol) added to the solid line, which was fitted from 477 to 1057 °C",
		logFO2: func(T float64) float64 {
			return fromPotential(solidCopperOxide(T)+liquidCopper(T)+liquidCuprite(T), T)
		}}
}
