package index

import (
	"smeltbook/assay/source"
	"smeltbook/phase/slag"
)

const (
	opticalSource   = "Duffy & Ingram 1976, J. Non-Cryst. Solids 21:373, with the values of Mills 1993, ISIJ Int. 33:148"
	correctedSource = "Mills 1993, ISIJ Int. 33:148; order of the donors after CaO our convention"
)

// opticalBasicity holds Λ of the pure oxides as Mills 1993 collected them (from
// memory, sure; SrO less so). The older electronegativity values (FeO 0.51)
// must not be mixed with these.
var opticalBasicity = [slag.NumOxides]float64{
	slag.SiO2: 0.48, slag.TiO2: 0.61, slag.ZrO2: 0.60, slag.P2O5: 0.40, slag.Al2O3: 0.60, slag.Fe2O3: 0.75, slag.Cr2O3: 0.69, slag.B2O3: 0.42,
	slag.FeO: 1.00, slag.MnO: 1.00, slag.MgO: 0.78, slag.CaO: 1.00, slag.BaO: 1.15, slag.SrO: 1.07, slag.ZnO: 0.95, slag.PbO: 1.00, slag.NiO: 1.00,
	slag.Na2O: 1.15, slag.K2O: 1.40, slag.Li2O: 1.00, slag.Cu2O: 1.10,
}

// doubtful are the oxides over whose Λ the collections differ.
var doubtful = [...]slag.Oxide{slag.Cu2O, slag.ZnO, slag.PbO, slag.NiO, slag.ZrO2}

// doubtfulLimit is the mole fraction of doubtful oxides above which a warning
// is given; our convention.
const doubtfulLimit = 0.05

// donors is the order in which basic oxides are used up to balance the charge
// of aluminium in tetrahedra. K, Na, (Ba,) Ca is Mills 1993; the order after
// CaO is our convention.
var donors = [...]slag.Oxide{slag.K2O, slag.Na2O, slag.Li2O, slag.BaO, slag.SrO, slag.CaO, slag.MnO, slag.FeO, slag.MgO}

// OpticalBasicity returns the mean of the oxides' optical basicities, weighted
// by the oxygen each brings, x in mole fractions:
//
//	Λ = Σ n_O x Λ_i / Σ n_O x
//
// Sources: Duffy & Ingram 1976; values of Mills 1993.
func OpticalBasicity(x slag.Wt) float64 { return optical(&x) }

func optical(x *slag.Wt) float64 {
	var sum, oxygen float64
	for o := range slag.NumOxides {
		n := oxygens[o] * x[o]
		sum += n * opticalBasicity[o]
		oxygen += n
	}
	return sum / oxygen
}

// CompensatedBasicity returns the optical basicity after each mole of Al2O3
// has taken up one mole of a basic oxide to balance the charge of AlO4⁵⁻
// (Mills 1993): the oxides K2O, Na2O, Li2O, BaO, SrO, CaO, MnO, FeO, MgO are
// lowered in that order by x(Al2O3) in all, and Λ is formed of what is left.
// x is in mole fractions.
func CompensatedBasicity(x slag.Wt) float64 {
	left, _ := compensated(x)
	return optical(&left)
}

// compensated returns the mole fractions left and the share of Al2O3, as mole
// fraction, that found no donor.
func compensated(x slag.Wt) (left slag.Wt, short float64) {
	short = x[slag.Al2O3]
	for _, o := range donors {
		taken := min(x[o], short)
		x[o] -= taken
		short -= taken
	}
	return x, short
}

func checkOptical(v *view, ns *source.Notices) {
	var x float64
	for _, o := range doubtful {
		x += v.mol[o]
	}
	if x > doubtfulLimit {
		ns.Add(source.Warning, "OPTICAL_DOUBTFUL_OXIDES", source.Cell{},
			"%.1f mol%% of the melt are Cu2O, ZnO, PbO, NiO or ZrO2, over whose optical basicity the sources differ", 100*x)
	}
}

func checkCorrected(v *view, ns *source.Notices) {
	checkOptical(v, ns)
	if _, short := compensated(v.mol); short > 1e-9 {
		ns.Add(source.Warning, "OPTICAL_NO_DONOR", source.Cell{},
			"the melt holds %.1f mol%% Al2O3 more than its basic oxides can balance; the correction does not reach that far", 100*short)
	}
}
