package flow

import (
	"smeltbook/assay/source"
	"smeltbook/phase/slag"
)

// Riboud1981 is the model of Riboud, Roux, Lucas & Gaye for casting powders:
//
//	η = A·T·exp(B/T)  (Pa·s)
//	ln A = −19.81 + 1.73 C + 7.02 N − 35.76 L
//	B = 31140 − 23896 C − 39159 N + 68833 L
//
// with C the mole fractions of CaO and its kin, N of the alkalis, L of Al2O3,
// all iron as FeO (our convention). The constant −17.51 met in some texts is
// for dPa·s. Fluorides are not on the melt basis, so their term is left out.
type Riboud1981 struct{}

var riboudC = [slag.NumOxides]float64{slag.CaO: 1, slag.MgO: 1, slag.FeO: 1, slag.MnO: 1, slag.BaO: 1, slag.SrO: 1,
	slag.ZnO: 1, slag.PbO: 1, slag.NiO: 1, slag.Cu2O: 1, slag.Cr2O3: 1, slag.B2O3: 1}

// riboudIron is what "little FeO" is taken to mean, in wt%; our convention.
const riboudIron = 10

// Key returns "riboud_1981".
func (Riboud1981) Key() string { return "riboud_1981" }

// Name returns authors and year.
func (Riboud1981) Name() string { return "Riboud et al. 1981" }

// Source returns where the model was published.
func (Riboud1981) Source() string {
	return "Riboud, Roux, Lucas & Gaye 1981, Fachber. Hüttenprax. Metallweiterverarb. 19:859"
}

// Law has a value for every melt.
func (Riboud1981) Law(w slag.Wt) (Law, error) {
	x := w.AllFeO().Mol()
	c, l := weighted(&riboudC, &x), x[slag.Al2O3]
	n := x[slag.Na2O] + x[slag.K2O] + x[slag.Li2O]
	return Law{A: -19.81 + 1.73*c + 7.02*n - 35.76*l, P: 1, B: 31140 - 23896*c - 39159*n + 68833*l}, nil
}

// Range warns outside SiO2 28–48, CaO 13–52, Al2O3 0–17, Na2O 0–27 wt% and
// above 10 wt% FeO.
func (m Riboud1981) Range(w slag.Wt, _ float64) (ns source.Notices) {
	for _, r := range [...]struct {
		o      slag.Oxide
		lo, hi float64
	}{{slag.SiO2, 28, 48}, {slag.CaO, 13, 52}, {slag.Al2O3, 0, 17}, {slag.Na2O, 0, 27}} {
		if x := w[r.o]; x < r.lo || x > r.hi {
			ns.Add(source.Warning, "VISCOSITY_RANGE", source.Cell{},
				"%s was fitted to melts with %g to %g wt%% %s; this one holds %.1f wt%%", m.Name(), r.lo, r.hi, r.o, x)
		}
	}
	if iron := allIron(&w); iron > riboudIron {
		ns.Add(source.Warning, "VISCOSITY_RANGE", source.Cell{},
			"%s was fitted to melts with little FeO (taken as up to %d wt%%); this one holds %.1f wt%%, and slags of much FeO were found badly described (Sridhar et al. 2001)", m.Name(), riboudIron, iron)
	}
	return ns
}
