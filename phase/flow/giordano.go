package flow

import (
	"errors"
	"math"

	"smeltbook/assay/source"
	"smeltbook/phase/slag"
)

// Giordano2008 is the model of Giordano, Russell & Dingwell for natural melts,
// in its dry form. It is here because archaeometallurgical papers quote it; on
// slags rich in iron it is far too stiff.
//
//	log η = −4.55 + B/(T − C)  (Pa·s)
//
// with B and C linear in mol% and in some of their products, all iron as FeO.
type Giordano2008 struct{}

// giordanoIron is the mol% of FeO + MnO above which a warning is given.
const giordanoIron = 20

// giordanoOxides are those the model counts.
var giordanoOxides = [...]slag.Oxide{slag.SiO2, slag.TiO2, slag.Al2O3, slag.FeO, slag.MnO, slag.MgO, slag.CaO, slag.Na2O, slag.K2O, slag.P2O5}

// Key returns "giordano_2008".
func (Giordano2008) Key() string { return "giordano_2008" }

// Name returns authors and year.
func (Giordano2008) Name() string { return "Giordano et al. 2008" }

// Source returns where the model was published.
func (Giordano2008) Source() string {
	return "Giordano, Russell & Dingwell 2008, Earth Planet. Sci. Lett. 271:123"
}

// giordanoMol returns mol% over the oxides that the model counts.
func giordanoMol(w slag.Wt) (x slag.Wt, ok bool) {
	all := w.AllFeO()
	var sum float64
	for _, o := range giordanoOxides {
		x[o] = all[o] / o.Mass()
		sum += x[o]
	}
	if sum <= 0 {
		return x, false
	}
	for _, o := range giordanoOxides {
		x[o] *= 100 / sum
	}
	return x, true
}

// Law refuses a melt without any oxide of the model.
func (Giordano2008) Law(w slag.Wt) (Law, error) {
	x, ok := giordanoMol(w)
	if !ok {
		return Law{}, errors.New("the model of Giordano et al. has no value for a melt without any of its oxides")
	}
	si, ti, al, p := x[slag.SiO2], x[slag.TiO2], x[slag.Al2O3], x[slag.P2O5]
	fe, mn, mg, ca := x[slag.FeO], x[slag.MnO], x[slag.MgO], x[slag.CaO]
	fm, ta, nk := fe+mn+mg, ti+al, x[slag.Na2O]+x[slag.K2O]
	b := 159.6*(si+ti) - 173.3*al + 72.1*(fe+mn+p) + 75.7*mg - 39.0*ca - 84.1*x[slag.Na2O] -
		2.43*(si+ti)*fm - 0.91*(si+ta+p)*nk + 17.6*al*nk
	c := 2.75*si + 15.7*ta + 8.3*fm + 10.2*ca - 12.3*nk + 0.30*(al+fm+ca-p)*nk
	return Law{A: -4.55 * math.Ln10, B: b * math.Ln10, C: c}, nil
}

// Range warns above 20 mol% FeO + MnO.
func (m Giordano2008) Range(w slag.Wt, _ float64) (ns source.Notices) {
	if x, _ := giordanoMol(w); x[slag.FeO]+x[slag.MnO] > giordanoIron {
		ns.Add(source.Warning, "VISCOSITY_RANGE", source.Cell{},
			"%s was fitted to natural melts of little iron; this one holds %.0f mol%% FeO + MnO, and above %d mol%% the model is far too stiff: for comparison with papers only",
			m.Name(), x[slag.FeO]+x[slag.MnO], giordanoIron)
	}
	return ns
}
