package melt

import (
	"errors"
	"fmt"
	"math"

	"smeltbook/assay/source"
	"smeltbook/phase/slag"
)

// redoxTerm is the coefficient of an oxide in the equation of Kress &
// Carmichael, by its mole fraction with all iron as FeO.
var redoxTerms = []struct {
	oxide slag.Oxide
	d     float64
}{{slag.Al2O3, -2.243}, {slag.FeO, -1.828}, {slag.CaO, 3.201}, {slag.Na2O, 5.854}, {slag.K2O, 6.215}}

const (
	redoxOxygen   = 0.196
	redoxHeat     = 1.1492e4 // K
	redoxConstant = -6.675
	redoxCurve    = -3.36
	redoxRefT     = 1673.0 // K

	// redoxFeO is the FeO, in wt%, up to which the melts behind the equation
	// mostly went.
	redoxFeO = 20.0
)

// errNoIron tells that a melt without iron has no iron to share out.
var errNoIron = errors.New("the melt holds no iron oxide, so an oxygen potential sets nothing in it")

// WithOxygen returns w, in wt%, with its iron shared out between FeO and Fe2O3
// as the melt would hold it at an oxygen fugacity, given as log10 in bar, and a
// temperature in °C, at 1 bar, after Kress & Carmichael 1991, Contributions to
// Mineralogy and Petrology 108:82–92:
//
//	ln(X_Fe2O3/X_FeO) = 0.196 ln fO2 + 11492/T − 6.675 + Σ d_i X_i
//	                    − 3.36·(1 − 1673/T − ln(T/1673))
//
// The melts behind it are natural, mostly below 20 wt% FeO. On fayalitic slags
// it extrapolates and tends to give too little ferric iron; a notice says so.
func WithOxygen(w slag.Wt, logFO2, tc float64) (slag.Wt, source.Notices, error) {
	if err := checkMelt(w); err != nil {
		return slag.Wt{}, nil, err
	}
	if T := tc + celsius; !(T > 900 && T < 2500) || math.IsNaN(logFO2) || math.IsInf(logFO2, 0) {
		return slag.Wt{}, nil, fmt.Errorf("an oxygen fugacity of 10^%g bar at %g °C cannot be used: the temperature has to lie between 627 and 2227 °C", logFO2, tc)
	}
	w = w.AllFeO().Normalise()
	if w[slag.FeO] == 0 {
		return slag.Wt{}, nil, errNoIron
	}
	T := tc + celsius
	x := w.Mol()
	ln := redoxOxygen*logFO2*math.Ln10 + redoxHeat/T + redoxConstant +
		redoxCurve*(1-redoxRefT/T-math.Log(T/redoxRefT))
	for _, t := range redoxTerms {
		ln += t.d * x[t.oxide]
	}
	// With r = X_Fe2O3/X_FeO, of every 1 + 2r iron atoms 2r are ferric.
	share := 1 / (1 + math.Exp(-ln)/2)
	var ns source.Notices
	if w[slag.FeO] > redoxFeO {
		ns.Add(source.Warning, "FERRIC_SHARE_EXTRAPOLATED", source.Cell{}, "the ferric share (%.1f %% of the iron) comes from an equation for natural melts of less than about %.0f wt%% FeO; on iron-rich slags it extrapolates and tends to be too low", 100*share, redoxFeO)
	}
	iron := w[slag.FeO]
	w[slag.FeO] = iron * (1 - share)
	w[slag.Fe2O3] = iron * share * slag.Fe2O3.Mass() / (2 * slag.FeO.Mass())
	return w.Normalise(), ns, nil
}
