package furnace

import "math"

// StefanBoltzmann is in W/(m² K⁴).
const StefanBoltzmann = 5.670374e-8

// SteadyLoss is the heat in W that a hemispherical pit of an inner radius (m)
// loses through its lining into the ground when all has come to rest, with the
// wall over the ground by dT (K), and by how many kelvin the back of the lining
// is over the ground:
//
//	R = (1/r1 − 1/r2)/(2π k_lining) + 1/(2π r2 k_soil)
//
// The surface of the ground is taken as insulated. It takes days to reach.
func SteadyLoss(radius, lining, kLining, kSoil, dT float64) (watts, behind float64) {
	r2 := radius + lining
	soil := 1 / (2 * math.Pi * r2 * kSoil)
	watts = dT / ((1/radius-1/r2)/(2*math.Pi*kLining) + soil)
	return watts, watts * soil
}

// SuddenLoss is the heat in W that half a sphere in uniform ground loses some
// seconds after its wall was brought to dT (K) over it (Carslaw & Jaeger 1959):
//
//	Q = 2π r² k dT (1/r + 1/√(π α t))
func SuddenLoss(radius, k, diffusivity, dT, seconds float64) float64 {
	return 2 * math.Pi * radius * radius * k * dT * (1/radius + 1/math.Sqrt(math.Pi*diffusivity*seconds))
}

// Radiated is the heat in W that an area (m²) at a temperature sends to
// surroundings, both in °C.
func Radiated(area, emissivity, tc, aroundTC float64) float64 {
	return emissivity * StefanBoltzmann * area * (fourth(tc+zero) - fourth(aroundTC+zero))
}

func fourth(x float64) float64 { return x * x * x * x }

// SingleZoneTC is the mean temperature (°C) of a bed without a charge: the heat
// of carbon burnt by a flow of air (L/min at 0 °C and 1 atm), a share of it to
// CO, less the gas that leaves at that temperature, the wall by its resistance
// (K/W) and an open top (m²) of an emissivity. Air and surroundings have one
// temperature, charcoal 25 °C.
func SingleZoneTC(normalLMin, monoxide, resistance, top, emissivity, ambientTC float64) float64 {
	n := normalLMin / 60000 / molarVolume
	c := n * oxygenShare / (1 - monoxide/2)
	in := gas{o2: n * oxygenShare, n2: n * (1 - oxygenShare)}.enthalpy(ambientTC + zero)
	out := gas{co: monoxide * c, co2: (1 - monoxide) * c, n2: n * (1 - oxygenShare)}
	lo, hi := ambientTC, 3000.0
	for range 60 {
		mid := (lo + hi) / 2
		if in-out.enthalpy(mid+zero)-(mid-ambientTC)/resistance-Radiated(top, emissivity, mid, ambientTC) > 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}
