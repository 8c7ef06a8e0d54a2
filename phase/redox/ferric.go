package redox

import (
	"fmt"
	"math"

	"smeltbook/assay/source"
	"smeltbook/phase/slag"
)

// KressCarmichael is where the balance of ferrous and ferric iron comes from.
const KressCarmichael = "Kress & Carmichael 1991, Contrib. Mineral. Petrol. 108:82"

// The coefficients of Kress & Carmichael 1991.
const (
	kcA, kcB, kcC, kcE = 0.196, 1.1492e4, -6.675, -3.36
	kcT0               = 1673.0
	kcF, kcG, kcH      = -7.01e-7, -1.54e-10, 3.85e-17
	kcP                = 1e5 // Pa: furnaces stand in the open
)

var kcOxides = [slag.NumOxides]float64{slag.Al2O3: -2.243, slag.FeO: -1.828, slag.CaO: 3.201, slag.Na2O: 5.854, slag.K2O: 6.215}

// The range of the calibration: wt% of all iron as FeO that most of its melts
// stayed below, and °C.
const kcIron, kcLoC, kcHiC = 20.0, 1200.0, 1630.0

// Iron is all iron of a melt split into its two forms.
type Iron struct {
	R           float64 // X(Fe2O3)/X(FeO)
	FerricShare float64 // Fe(III) of all iron, by atoms, 0 to 1
	Wt          slag.Wt // the melt with its iron so split, sums to 100
	Notices     source.Notices
}

// kcRest is everything but the term of oxygen in ln(X_Fe2O3/X_FeO).
func kcRest(w *slag.Wt, T float64) float64 {
	x := w.AllFeO().Mol()
	sum := kcB/T + kcC + kcE*(1-kcT0/T-math.Log(T/kcT0)) + kcF*kcP/T + kcG*(T-kcT0)*kcP/T + kcH*kcP*kcP/T
	for o, d := range kcOxides {
		sum += d * x[o]
	}
	return sum
}

// SplitIron splits all iron of w (wt%) at a temperature in °C and a log10 of
// the oxygen fugacity in bar:
//
//	ln(X_Fe2O3/X_FeO) = a ln fO2 + b/T + c + Σ d_i X_i + e[1 − T0/T − ln(T/T0)] + pressure
//
// with X mole fractions, all iron as FeO, and the pressure 1 bar. The model
// was fitted to natural melts; on slags rich in iron it is an extrapolation
// that gives little ferric iron, and it says so.
func SplitIron(w slag.Wt, tc, logFO2 float64) (Iron, error) {
	if err := checkIron(w, tc); err != nil {
		return Iron{}, err
	}
	if math.IsNaN(logFO2) || math.IsInf(logFO2, 0) {
		return Iron{}, fmt.Errorf("an oxygen potential of %g is none; give log10 of bar, for example -10", logFO2)
	}
	i := Iron{R: math.Exp(kcA*logFO2*math.Ln10 + kcRest(&w, tc+zeroCelsius))}
	i.FerricShare = 2 * i.R / (1 + 2*i.R)
	feo := toFeO(&w)
	i.Wt = w
	i.Wt[slag.FeO] = feo * (1 - i.FerricShare)
	i.Wt[slag.Fe2O3] = feo * i.FerricShare * slag.Fe2O3.Mass() / (2 * slag.FeO.Mass())
	i.Wt = i.Wt.Normalise()
	i.Notices = rangeIron(&w, tc)
	return i, nil
}

// FromIron is the inverse of SplitIron: log10 of the oxygen fugacity in bar at
// which a melt of the composition w (wt%) holds its FeO and Fe2O3 in balance
// at a temperature in °C. Both must be above zero.
func FromIron(w slag.Wt, tc float64) (float64, source.Notices, error) {
	if err := checkIron(w, tc); err != nil {
		return math.NaN(), nil, err
	}
	if !(w[slag.FeO] > 0) || !(w[slag.Fe2O3] > 0) {
		return math.NaN(), nil, fmt.Errorf("an oxygen potential from iron needs FeO and Fe2O3 both above zero; found %g and %g wt%%", w[slag.FeO], w[slag.Fe2O3])
	}
	ns := rangeIron(&w, tc)
	ns.Add(source.Warning, "IRON_AFTER_COOLING", source.Cell{},
		"analysed FeO and Fe2O3 also record cooling and weathering, which mostly oxidise; take the oxygen potential as an upper bound of the furnace's")
	r := w[slag.Fe2O3] / slag.Fe2O3.Mass() / (w[slag.FeO] / slag.FeO.Mass())
	return fromRatio(&w, tc, r), ns, nil
}

// FromFerricShare is FromIron with the share of Fe(III) in all iron given, 0
// to 1 exclusive, whatever the form in which w states its iron.
func FromFerricShare(w slag.Wt, tc, share float64) (float64, source.Notices, error) {
	if err := checkIron(w, tc); err != nil {
		return math.NaN(), nil, err
	}
	if !(share > 0 && share < 1) {
		return math.NaN(), nil, fmt.Errorf("a share of ferric iron of %g gives no oxygen potential; give one between 0 and 1", share)
	}
	return fromRatio(&w, tc, share/(2*(1-share))), rangeIron(&w, tc), nil
}

func fromRatio(w *slag.Wt, tc, r float64) float64 {
	return (math.Log(r) - kcRest(w, tc+zeroCelsius)) / (kcA * math.Ln10)
}

// toFeO returns all iron as wt% FeO.
func toFeO(w *slag.Wt) float64 {
	return w[slag.FeO] + w[slag.Fe2O3]*2*slag.FeO.Mass()/slag.Fe2O3.Mass()
}

func checkIron(w slag.Wt, tc float64) error {
	if !(tc > -zeroCelsius) || math.IsInf(tc, 1) {
		return fmt.Errorf("%g °C is no temperature; give one in °C, for example 1250", tc)
	}
	for o, x := range w {
		if x < 0 || math.IsNaN(x) || math.IsInf(x, 0) {
			return fmt.Errorf("%s of %g wt%% is impossible", slag.Oxide(o), x)
		}
	}
	if toFeO(&w) <= 0 {
		return fmt.Errorf("the melt holds no iron, so its iron tells nothing about oxygen")
	}
	return nil
}

func rangeIron(w *slag.Wt, tc float64) (ns source.Notices) {
	all := w.AllFeO().Normalise()
	if iron := all[slag.FeO]; iron > kcIron {
		ns.Add(source.Warning, "IRON_BALANCE_RANGE", source.Cell{},
			"the balance of ferric and ferrous iron (%s) was fitted to natural melts, mostly below %.0f wt%% FeO; at %.0f wt%% it is an extrapolation and gives little ferric iron", KressCarmichael, kcIron, iron)
	}
	if tc < kcLoC || tc > kcHiC {
		ns.Add(source.Note, "IRON_BALANCE_TEMPERATURE", source.Cell{},
			"the balance of ferric and ferrous iron was fitted from about %.0f to %.0f °C (from memory); %.0f °C is outside", kcLoC, kcHiC, tc)
	}
	return ns
}
