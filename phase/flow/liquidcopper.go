package flow

import (
	"math"

	"smeltbook/assay/source"
)

const (
	assael       = "Assael et al. 2010, J. Phys. Chem. Ref. Data 39:033105"
	aziz         = "Aziz, Schmon & Pottlacher 2014"
	copperMelts  = 1357.77 // K
	copperRho    = 0.012   // by which Brillo & Egry 2003 differ
	copperEtaRel = 0.10    // our estimate
	copperSigma  = 0.02    // our estimate
)

// CopperDensity returns the density of liquid copper in g/cm³ at a temperature
// in °C, 7.997 − 0.819e−3·(T − 1356.15), after Assael et al. 2010. The band of
// 1.2 % is the difference to Brillo & Egry 2003.
func CopperDensity(tc float64) Property {
	return ofCopper(copperDensity(tc), copperRho, "g/cm³", assael, tc)
}

func copperDensity(tc float64) float64 { return 7.997 - 0.819e-3*(tc+zeroCelsius-1356.15) }

// CopperViscosity returns the viscosity of liquid copper in Pa·s at a
// temperature in °C, log η(mPa·s) = −0.422 + 1393.4/T, after Assael et al.
// 2010. The band of 10 % is our estimate.
func CopperViscosity(tc float64) Property {
	return ofCopper(copperViscosity(tc), copperEtaRel, "Pa·s", assael, tc)
}

func copperViscosity(tc float64) float64 {
	return 1e-3 * math.Pow(10, -0.422+1393.4/(tc+zeroCelsius))
}

// CopperSurfaceTension returns the surface tension of liquid copper in mN/m at
// a temperature in °C, 1633 − 0.21·T, after Aziz, Schmon & Pottlacher 2014,
// 1400 to 1750 K. The band of 2 % is our estimate.
func CopperSurfaceTension(tc float64) Property {
	p := ofCopper(1633-0.21*(tc+zeroCelsius), copperSigma, "mN/m", aziz, tc)
	if T := tc + zeroCelsius; !math.IsNaN(p.Value) && (T < 1400 || T > 1750) {
		p.Notices.Add(source.Warning, "COPPER_TENSION_RANGE", source.Cell{},
			"the surface tension of copper was measured from %.0f to %.0f °C; %.0f °C is outside", 1400-zeroCelsius, 1750-zeroCelsius, tc)
	}
	return p
}

// ofCopper refuses what is no temperature and warns below the melting point.
func ofCopper(x, relative float64, unit, from string, tc float64) Property {
	p := property(x, relative, unit, from)
	if err := possible(tc); err != nil {
		p.Value, p.Lo, p.Hi = math.NaN(), math.NaN(), math.NaN()
		p.Notices.Add(source.Error, "PROPERTY_UNDEFINED", source.Cell{}, "%v", err)
	} else if tc+zeroCelsius < copperMelts {
		p.Notices.Add(source.Warning, "COPPER_SOLID", source.Cell{},
			"at %.0f °C copper is solid (it melts at %.0f °C); the value is that of the supercooled liquid", tc, copperMelts-zeroCelsius)
	}
	return p
}
