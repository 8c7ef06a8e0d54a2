package index

import (
	"smeltbook/assay/chem"
	"smeltbook/phase/slag"
)

const (
	commonPractice = "common practice"
	bachmannSource = "Bachmann 1982, The Identification of Slags from Archaeological Sites, London"
)

// LimeSilica returns CaO/SiO2 (B1). Given wt% it is the ratio by weight, given
// mole fractions (slag.Wt.Mol) the molar one. Common practice.
func LimeSilica(w slag.Wt) float64 { return w[slag.CaO] / w[slag.SiO2] }

// EarthsSilica returns (CaO+MgO)/SiO2 (B2), by weight or molar as LimeSilica.
// Common practice.
func EarthsSilica(w slag.Wt) float64 { return (w[slag.CaO] + w[slag.MgO]) / w[slag.SiO2] }

// EarthsAcids returns (CaO+MgO)/(SiO2+Al2O3) (B4), by weight or molar as
// LimeSilica; Al2O3 counts as one mole. Common practice.
func EarthsAcids(w slag.Wt) float64 {
	return (w[slag.CaO] + w[slag.MgO]) / (w[slag.SiO2] + w[slag.Al2O3])
}

// FerrousSilica returns FeO/SiO2 by weight with all iron as FeO. Common
// practice.
func FerrousSilica(w slag.Wt) float64 {
	w = w.AllFeO()
	return w[slag.FeO] / w[slag.SiO2]
}

// IronSilica returns Fe/SiO2 by weight, all iron counted, as the smelters of
// copper state it. Common practice.
func IronSilica(w slag.Wt) float64 { return ironShare * FerrousSilica(w) }

// ironShare is Fe in FeO by weight.
var ironShare = func() float64 {
	w, _, _ := chem.AtomicWeight("Fe")
	return w / slag.FeO.Mass()
}()

// Bachmann returns Bachmann's viscosity index by weight, all iron as FeO:
//
//	k_v = (CaO + MgO + FeO + MnO + Na2O + K2O + BaO) / (SiO2 + Al2O3)
//
// A higher index means a more fluid slag at the same temperature. Some authors
// leave out BaO or add other alkaline earths; the form is that of Bachmann
// 1982.
func Bachmann(w slag.Wt) float64 {
	w = w.AllFeO()
	return bachmann(&w)
}

func bachmann(w *slag.Wt) float64 {
	return (w[slag.CaO] + w[slag.MgO] + w[slag.FeO] + w[slag.MnO] + w[slag.Na2O] + w[slag.K2O] + w[slag.BaO]) /
		(w[slag.SiO2] + w[slag.Al2O3])
}

// ViscosityModulus returns the modulus by which copper smelters state the same
// idea as Bachmann, with iron as it was analysed, so that ferric iron counts
// with its own oxygen, as that of magnetite does:
//
//	(CaO + MgO + FeO + Fe2O3 + MnO + Na2O + K2O + BaO) / (SiO2 + Al2O3)
//
// by weight. FeO and Fe2O3 together are the FeO and Fe3O4 of the smelters.
// Without ferric iron it is Bachmann's index. Common practice of copper works.
func ViscosityModulus(w slag.Wt) float64 {
	return bachmann(&w) + w[slag.Fe2O3]/(w[slag.SiO2]+w[slag.Al2O3])
}
