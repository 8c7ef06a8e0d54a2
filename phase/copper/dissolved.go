// Package copper says how much of the copper in a slag was dissolved in it as
// oxide while it was liquid, and how much came otherwise: as drops of metal,
// as sulphide, as ore that never reacted, or by weathering.
//
// Dissolved copper follows from the oxygen potential and the temperature:
//
//	w = c · a_Cu · (pO2/pO2*)^¼      wt% Cu
//
// with pO2* the oxygen pressure over liquid copper and liquid cuprous oxide
// (package redox) and c the capacity, the copper content at unit activity of
// CuO0.5. The quarter power, which means dissolution as CuO0.5, was found for
// silica-saturated fayalite slags at 1200 to 1250 °C. The law is for dilute
// solutions under metallic copper. At a fixed oxygen potential the dissolved
// copper falls as the temperature rises, at a fixed CO/CO2 it rises.
//
// SplitForms splits all copper into its forms as far as measurements allow and
// says what they cannot tell apart; SlagPerCopper reckons a slag heap;
// WouldHaveSaved says what more time, heat or reduction would have changed.
package copper

import (
	"fmt"
	"math"

	"smeltbook/assay/source"
	"smeltbook/phase/redox"
)

// Interval is a closed range.
type Interval struct{ Lo, Hi float64 }

// Capacity is the wt% of copper that a kind of slag would dissolve at unit
// activity of CuO0.5, as a band where the sources differ. Factor multiplies
// both ends; it is 1 unless the user has measured otherwise.
type Capacity struct {
	Lo, Hi float64 // wt% Cu
	Factor float64
	Label  string
	Source string
}

// Fayalitic is the capacity of iron silicate slags, from the iron-saturated or
// silica-poor side to silica saturation. No coefficient for lime, magnesia or
// alumina is known to us, only that they lower it in this order (Kim & Sohn
// 1998, Metall. Mater. Trans. B 29:583); use Factor where one is measured.
func Fayalitic() Capacity {
	return Capacity{Lo: 27, Hi: 35, Factor: 1, Label: "iron silicate slag, silica-poor to silica-saturated",
		Source: "35 wt% with silica saturation, 1300 °C: twice the lime-ferrite value of Palacios & Gaskell (abstract), in line with Toguri & Santander 1969 and Altman & Kellogg 1972 (from memory); " +
			"27 wt% for silica-poor slag, 1200 °C: Nagamori 1974 with Ruddle et al. 1966 (from memory, less sure)"}
}

// LimeFerrite is the capacity of slags of iron oxide and lime without silica.
func LimeFerrite() Capacity {
	return Capacity{Lo: 17.6, Hi: 17.6, Factor: 1, Label: "lime-ferrite slag", Source: "Palacios & Gaskell, abstract, 1300 °C"}
}

const (
	diluteLimit = 8.0   // wt% Cu, above which the dilute law fails
	lowestPO2   = -12.0 // log pO2 of the measurements behind the law
	highestPO2  = -6.0
)

// Dissolved returns the wt% of copper that a slag of capacity c (wt%) holds in
// solution under copper of activity aCu, at a temperature in °C and a log10 of
// the oxygen pressure in bar. It warns outside 1100–1300 °C, more than a decade
// outside log pO2 −12 to −6 (nearer it notes it) and above 8 wt%.
func Dissolved(tc, logPO2, aCu, c float64) (float64, source.Notices) {
	star, ns := redox.LiquidCopperOxide().LogFO2(tc)
	w := c * aCu * math.Pow(10, (logPO2-star)/4)
	if beyond := max(lowestPO2-logPO2, logPO2-highestPO2); beyond > 0 {
		severity := source.Note // a decade further the quarter power still holds well enough: our convention
		if beyond > 1 {
			severity = source.Warning
		}
		ns.Add(severity, "COPPER_PO2_RANGE", source.Cell{},
			"the law of dissolved copper was measured at log pO2 −12 to −6; %s is outside", signed(logPO2))
	}
	if w > diluteLimit {
		ns.Add(source.Warning, "COPPER_NOT_DILUTE", source.Cell{},
			"%.1f wt%% dissolved copper is beyond the dilute law, which holds to about %.0f wt%%", w, diluteLimit)
	}
	return w, ns
}

// LogPO2 is the inverse of Dissolved: the log10 of the oxygen pressure in bar
// at which a slag holds w wt% copper in solution. One part in ten of copper
// moves it by 0.17. With w the whole copper of a slag it is an upper limit,
// for what is not dissolved does not count.
func LogPO2(tc, w, aCu, c float64) (float64, error) {
	if !(w > 0) || !(aCu > 0) || !(c > 0) {
		return 0, fmt.Errorf("no oxygen potential from %g wt%% copper at activity %g and capacity %g wt%%: all three must be above zero", w, aCu, c)
	}
	star, ns := redox.LiquidCopperOxide().LogFO2(tc)
	if ns.Failed() {
		return 0, ns[0]
	}
	return star + 4*math.Log10(w/(c*aCu)), nil
}

// signed prints a log of the oxygen pressure with one decimal and a proper
// minus sign.
func signed(x float64) string {
	if x < 0 {
		return fmt.Sprintf("−%.1f", -x)
	}
	return fmt.Sprintf("%.1f", x)
}
