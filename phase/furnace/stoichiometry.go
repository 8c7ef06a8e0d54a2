package furnace

import (
	"fmt"

	"smeltbook/phase/redox"
)

const (
	zero        = 273.15      // K
	room        = 298.15      // K
	gasConstant = 8.314462618 // J/(mol K)
	molarVolume = 22.41397e-3 // m³/mol at 0 °C and 1 atm
	oxygenShare = 0.2095      // of dry air
	airMass     = 28.965e-3   // kg/mol
	carbonMass  = 12.011e-3   // kg/mol
	waterMass   = 18.015e-3   // kg/mol
)

// AirForCarbon returns the kilograms of dry air, and its cubic metres at 0 °C
// and 1 atm, that burn a kilogram of carbon with a share of it leaving as CO.
func AirForCarbon(monoxide float64) (kg, cubic float64) {
	mol := (1 - monoxide/2) / oxygenShare / carbonMass
	return mol * airMass, mol * molarVolume
}

// BurntByAir returns the kilograms of carbon in an hour that a flow of air burns
// (L/min at 0 °C and 1 atm) with a share of it leaving as CO.
func BurntByAir(normalLMin, monoxide float64) float64 {
	_, cubic := AirForCarbon(monoxide)
	return normalLMin * 60 / 1000 / cubic
}

// Normal turns a flow or volume of free air at a temperature in °C and a
// pressure in bar into that at 0 °C and 1 atm.
func Normal(free, tc, bar float64) float64 {
	return free * zero / (tc + zero) * bar / redox.Atmosphere
}

// FlameTC is the temperature in °C of the gas of carbon (at 25 °C) burnt with
// dry air of a temperature in °C where nothing else takes heat, dissociation
// left aside.
func FlameTC(monoxide, airTC float64) (float64, error) {
	if !(monoxide >= 0 && monoxide <= 1) || !(airTC >= -50 && airTC <= 1000) {
		return 0, fmt.Errorf("carbon with a share of %g to CO in air of %g °C is no fire", monoxide, airTC)
	}
	oxygen := 1 - monoxide/2
	in := gas{o2: oxygen, n2: oxygen * (1 - oxygenShare) / oxygenShare}.enthalpy(airTC + zero)
	return gas{co: monoxide, co2: 1 - monoxide, n2: oxygen * (1 - oxygenShare) / oxygenShare}.atEnthalpy(in) - zero, nil
}
