package redox

import (
	"fmt"
	"math"

	"smeltbook/assay/source"
)

// Atmosphere is one atmosphere in bar.
const Atmosphere = 1.01325

// CharcoalBed is the pressure in bar of carbon monoxide and dioxide together
// in a bed of charcoal blown with air: 0.347 atm, when all oxygen of the air
// becomes CO.
const CharcoalBed = 0.347 * Atmosphere

// gasLo and gasHi are the range of the gas polynomials, °C.
const gasLo, gasHi = 300 - zeroCelsius, 3000 - zeroCelsius

// oxidation is log fO2 of 2CO + O2 = 2CO2 where CO and CO2 are equal.
func oxidation(T float64) float64 {
	return fromPotential(2*(CO2.Gibbs(T)-CO.Gibbs(T))-O2.Gibbs(T), T)
}

// FromGas returns log10 of the oxygen fugacity in bar of a gas with the given
// ratio CO/CO2 at a temperature in °C:
//
//	log fO2 = ΔG(2CO + O2 = 2CO2)/(R T ln 10) − 2 log(pCO/pCO2)
func FromGas(ratio, tc float64) (float64, error) {
	if err := checkGas(tc); err != nil {
		return math.NaN(), err
	}
	if !(ratio > 0) || math.IsInf(ratio, 1) {
		return math.NaN(), fmt.Errorf("a ratio CO/CO2 of %g is impossible; give one above 0", ratio)
	}
	return oxidation(tc+zeroCelsius) - 2*math.Log10(ratio), nil
}

// GasRatio is the inverse of FromGas: the ratio CO/CO2 in balance with a log
// of the oxygen fugacity in bar at a temperature in °C.
func GasRatio(logFO2, tc float64) (float64, error) {
	if err := checkGas(tc); err != nil {
		return math.NaN(), err
	}
	if math.IsNaN(logFO2) {
		return math.NaN(), fmt.Errorf("no oxygen potential was given")
	}
	return math.Pow(10, (oxidation(tc+zeroCelsius)-logFO2)/2), nil
}

func checkGas(tc float64) error {
	if !(tc >= gasLo && tc <= gasHi) {
		return fmt.Errorf("%g °C is outside the gas data; give a temperature from %.0f to %.0f °C", tc, gasLo, gasHi)
	}
	return nil
}

// carbonMonoxide is log fO2 of 2C + O2 = 2CO at a pressure of CO in bar.
func carbonMonoxide(T, pCO float64) float64 {
	return fromPotential(2*(CO.Gibbs(T)-Graphite.Gibbs(T))-O2.Gibbs(T), T) + 2*math.Log10(pCO)
}

// boudouard is the share CO/(CO + CO2) over carbon at p(CO) + p(CO2) = p bar.
func boudouard(T, p float64) float64 {
	k := math.Exp(-(2*CO.Gibbs(T)-Graphite.Gibbs(T)-CO2.Gibbs(T))/(gasConstant*T)) / p
	if k < 1 {
		return 0.5 * (math.Sqrt(k*k+4*k) - k)
	}
	return 2 / (1 + math.Sqrt(1+4/k)) // the same without the loss of digits
}

// Boudouard returns the share of CO in CO + CO2 in balance with carbon (C +
// CO2 = 2CO) at a temperature in °C where CO and CO2 together have the given
// pressure in bar, Atmosphere or CharcoalBed for example:
//
//	k = K/p,  CO/(CO + CO2) = ½ k (√(1 + 4/k) − 1)
func Boudouard(tc, pressure float64) (float64, error) {
	if err := checkGas(tc); err != nil {
		return math.NaN(), err
	}
	if !(pressure > 0) || math.IsInf(pressure, 1) {
		return math.NaN(), fmt.Errorf("a pressure of CO and CO2 of %g bar is impossible; give one above 0", pressure)
	}
	return boudouard(tc+zeroCelsius, pressure), nil
}

// CarbonMonoxide returns the line C–CO, 2C + O2 = 2CO with CO at 1 atm: the
// most reducing that carbon can make a gas.
func CarbonMonoxide() Buffer {
	return Buffer{ID: "c_co", Family: "c_co", Label: "carbon and CO at 1 atm", Reaction: "2C + O2 = 2CO", Source: gasSource, LoC: gasLo, HiC: gasHi,
		logFO2: func(T float64) float64 { return carbonMonoxide(T, Atmosphere) }}
}

// CharcoalGas returns the line of gas in balance with carbon in a bed of
// charcoal blown with air, CO and CO2 together at 0.347 atm: the lower end of
// what such a furnace can be.
func CharcoalGas() Buffer {
	return Buffer{ID: "charcoal_bed", Family: "charcoal_bed", Label: "gas over charcoal blown with air", Reaction: "2C + O2 = 2CO", Source: gasSource, LoC: gasLo, HiC: gasHi,
		derivation: "CO of the Boudouard balance at p(CO) + p(CO2) = 0.347 atm, all oxygen of the air as CO",
		logFO2: func(T float64) float64 {
			return carbonMonoxide(T, boudouard(T, CharcoalBed)*CharcoalBed)
		}}
}

// GasLine returns the line of a gas of one ratio CO/CO2.
func GasLine(ratio float64) (Buffer, error) {
	if _, err := FromGas(ratio, 1000); err != nil {
		return Buffer{}, err
	}
	return Buffer{ID: fmt.Sprintf("co_co2_%g", ratio), Family: "co_co2", Label: fmt.Sprintf("CO/CO2 = %g", ratio), Reaction: "2CO + O2 = 2CO2",
		Source: gasSource, LoC: gasLo, HiC: gasHi,
		logFO2: func(T float64) float64 { return oxidation(T) - 2*math.Log10(ratio) }}, nil
}

const gasSource = "NASA polynomials, McBride, Gordon & Reno 1993, NASA TM-4513"

// IronLimit returns the oxygen potential at which a slag with FeO of activity
// aFeO is in balance with iron of activity aFe (1 for iron metal), at a
// temperature in °C:
//
//	log fO2 = IW + 2 log a_FeO − 2 log a_Fe
//
// Below it iron is reduced into the metal.
func IronLimit(tc, aFeO, aFe float64) (float64, source.Notices, error) {
	if !(aFeO > 0) || aFeO > 1 || !(aFe > 0) || aFe > 1 {
		return math.NaN(), nil, fmt.Errorf("activities of FeO %g and of iron %g are impossible; both lie above 0 and up to 1", aFeO, aFe)
	}
	iw, ns := IronWustite().LogFO2(tc)
	return iw + 2*math.Log10(aFeO) - 2*math.Log10(aFe), ns, nil
}
