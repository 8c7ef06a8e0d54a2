package furnace

import "math"

// Properties of the gas in the burning zone, taken at one temperature: transfer
// depends on it by less than its square root.
const (
	filmT      = 1600.0 // K
	porosity   = 0.45   // of a bed of lumps
	oxygenAway = 3.0    // e-folds of oxygen over the burning zone: a twentieth is left
)

// diffusivity is that of oxygen in nitrogen, m²/s, 2.0·10⁻⁵ at 298 K, rising
// with T^1.75 (Fuller, Schettler & Giddings 1966; from memory).
func diffusivity(T float64) float64 { return 2.0e-5 * math.Pow(T/room, 1.75) }

// viscosity is the kinematic viscosity of nitrogen, m²/s: 1.5·10⁻⁵ at 298 K,
// rising with T^1.7 (from tables of air, from memory).
func viscosity(T float64) float64 { return 1.5e-5 * math.Pow(T/room, 1.7) }

// transfer is the coefficient of mass transfer to lumps of size d (m) in a bed
// with a superficial velocity u (m/s), m/s (Wakao & Funazkri 1978):
//
//	Sh = 2 + 1.1 Re^0.6 Sc^⅓, Re from 3 to 10⁴
func transfer(u, d float64) float64 {
	D, nu := diffusivity(filmT), viscosity(filmT)
	return (2 + 1.1*math.Pow(u*d/nu, 0.6)*math.Cbrt(nu/D)) * D / d
}

// surface is the outer surface of lumps in a cubic metre of bed, m².
func surface(d float64) float64 { return 6 * (1 - porosity) / d }

// dioxideRate is the rate constant of C + CO2 = 2CO, and of steam, over the
// outer surface of wood charcoal, m/s: 589 T exp(−26800/T) (Bryden & Ragland
// 1996, from memory).
func dioxideRate(T float64) float64 { return 589 * T * math.Exp(-26800/T) }

// series is the rate of transfer and reaction one after the other.
func series(a, b float64) float64 { return a * b / (a + b) }

// burning is the zone in which oxygen burns.
type burning struct {
	volume   float64 // m³ of bed
	reach    float64 // m: radius of the half sphere before the pipe
	transfer float64 // m/s at its middle
}

// burningZone finds how far oxygen reaches into lumps of size d from a pipe
// whose air spreads as a half sphere: oxygen falls e-fold for every u/(k a).
func burningZone(molPerS, d float64) burning {
	flow := molPerS * molarVolume * filmT / zero
	b := burning{reach: 0.05}
	for range 12 {
		// Half of the volume lies within 0.79 of the radius.
		u := flow / (2 * math.Pi * math.Pow(0.79*b.reach, 2))
		b.transfer = transfer(u, d)
		b.volume = oxygenAway * flow / (b.transfer * surface(d))
		b.reach = math.Cbrt(3 * b.volume / (2 * math.Pi))
	}
	return b
}

// OxygenDepth is the depth in m of a flat bed of lumps (m) in which a flow of
// air (m³ at 0 °C and 1 atm on a square metre in a second) loses all but a
// twentieth of its oxygen.
func OxygenDepth(flux, lump float64) float64 {
	u := flux * filmT / zero
	return oxygenAway * u / (transfer(u, lump) * surface(lump))
}
