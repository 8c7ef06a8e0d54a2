package index

import (
	"fmt"

	"smeltbook/assay/chem"
	"smeltbook/assay/source"
	"smeltbook/phase/slag"
)

const (
	silicateSource = "common practice of smelting texts, for example Hofman's Metallurgy series"
	nbotSource     = "Mysen, Virgo & Seifert 1982, Rev. Geophys. 20:353; Mills 1993, ISIJ Int. 33:148"
)

// Alumina says how SilicateDegree counts Al2O3.
type Alumina int

const (
	AluminaNeutral Alumina = iota // left out
	AluminaAcid                   // with silica
	AluminaBase                   // with the bases
)

// atoms counts the oxygen and the other atoms in each oxide's formula.
var oxygens, cations = func() (o, c [slag.NumOxides]float64) {
	for ox := range slag.NumOxides {
		f, err := chem.ParseFormula(ox.String())
		if err != nil {
			panic(fmt.Sprintf("index: %v", err))
		}
		for element, n := range f {
			if element == "O" {
				o[ox] = n
			} else {
				c[ox] += n
			}
		}
	}
	return o, c
}()

// SilicateDegree returns the oxygen in the acid oxides (SiO2, TiO2, ZrO2, P2O5,
// B2O3) over that in the basic ones (all others), x in mole fractions:
//
//	S = Σ_acid n_O x / Σ_base n_O x
//
// The old names: 1 singulosilicate (2FeO·SiO2), 1.5 sesquisilicate, 2
// bisilicate (FeO·SiO2), 3 trisilicate, below 1 subsilicate. Authors differ
// over alumina, hence the option. Common practice.
func SilicateDegree(x slag.Wt, alumina Alumina) float64 {
	var acid, base float64
	for o := range slag.NumOxides {
		oxygen := oxygens[o] * x[o]
		switch o {
		case slag.SiO2, slag.TiO2, slag.ZrO2, slag.P2O5, slag.B2O3:
			acid += oxygen
		case slag.Al2O3:
			switch alumina {
			case AluminaAcid:
				acid += oxygen
			case AluminaBase:
				base += oxygen
			}
		default:
			base += oxygen
		}
	}
	return acid / base
}

// silicateNames are the old names of smelters, each from the degree given; the
// limits lie half way between the whole degrees, our convention.
var silicateNames = [...]struct {
	from float64
	name string
}{{0, "subsilicate"}, {0.9, "singulosilicate"}, {1.25, "sesquisilicate"}, {1.75, "bisilicate"}, {2.5, "trisilicate"}, {3.5, "more siliceous than a trisilicate"}}

// SilicateName returns the old smelters' name for a silicate degree, the
// nearest of singulo- (1), sesqui- (1.5), bi- (2) and trisilicate (3), and
// subsilicate below 0.9. It is empty where there is no degree.
func SilicateName(degree float64) string {
	name := ""
	for _, s := range silicateNames {
		if degree >= s.from {
			name = s.name
		}
	}
	return name
}

// Polymerisation returns Q = 4 − NBO/T, the bridging oxygens of each
// tetrahedral cation: 0 in the orthosilicate, 4 in a full network. Mills 1993.
func Polymerisation(nbot float64) float64 { return 4 - nbot }

// NBOT returns the non-bridging oxygens per tetrahedral cation, x in mole
// fractions:
//
//	NBO/T = (2 O − 4 T)/T,  T = Si + Al + Ti + Zr + P + f·Fe³⁺
//
// with O all oxygen and the elements in atoms; f is the share of ferric iron
// in tetrahedra (see TetrahedralFerric). 4 is the orthosilicate, 2 the chain
// silicate, 0 a full network; Q = 4 − NBO/T. Sources: Mysen, Virgo & Seifert
// 1982; Mills 1993.
func NBOT(x slag.Wt, f float64) float64 { return nbot(&x, f) }

func nbot(x *slag.Wt, f float64) float64 {
	var oxygen float64
	for o := range slag.NumOxides {
		oxygen += oxygens[o] * x[o]
	}
	var t float64
	for _, o := range [...]slag.Oxide{slag.SiO2, slag.Al2O3, slag.TiO2, slag.ZrO2, slag.P2O5} {
		t += cations[o] * x[o]
	}
	t += f * cations[slag.Fe2O3] * x[slag.Fe2O3]
	return (2*oxygen - 4*t) / t
}

// TetrahedralFerric returns the share of ferric iron that sits in tetrahedra
// for a given Fe³⁺/ΣFe: 0 up to 0.3, 1 from 0.5, linear between. Ferric iron
// builds the network in oxidised melts and breaks it in reduced ones (Mysen);
// the ramp between the two is our convention.
func TetrahedralFerric(share float64) float64 {
	return min(max((share-0.3)/0.2, 0), 1)
}

// ferricShare returns Fe³⁺/ΣFe in atoms, 0 without iron.
func ferricShare(x *slag.Wt) float64 {
	ferric := 2 * x[slag.Fe2O3]
	if ferric == 0 {
		return 0
	}
	return ferric / (ferric + x[slag.FeO])
}

func checkNBOT(v *view, ns *source.Notices) {
	share := ferricShare(&v.mol)
	f := TetrahedralFerric(share)
	if f > 0 {
		ns.Add(source.Note, "NBOT_FERRIC", source.Cell{},
			"%.0f %% of the iron is ferric; %.0f %% of that is counted as network former (our convention between 30 and 50 %% ferric)", 100*share, 100*f)
	}
	if nbot(&v.mol, f) > 4+1e-9 {
		ns.Add(source.Note, "NBOT_ABOVE_4", source.Cell{},
			"NBO/T above 4: the melt holds more oxygen than single silicate tetrahedra can bind, so the excess is free oxide")
	}
}
