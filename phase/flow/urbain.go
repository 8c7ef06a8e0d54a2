package flow

import (
	"errors"
	"math"

	"smeltbook/assay/source"
	"smeltbook/phase/slag"
)

var errNoModifier = errors.New("the model of Urbain has no value for a melt without modifying oxides: its ratio of modifiers to amphoterics is 0/0")

// The groups of Urbain's models in mole fractions: glass formers, modifiers
// (TiO2 and ZrO2 count twice) and amphoterics. ZnO, PbO and Cu2O among the
// modifiers are by analogy, our convention.
var (
	urbainFormers   = [slag.NumOxides]float64{slag.SiO2: 1, slag.P2O5: 1}
	urbainAmphoters = [slag.NumOxides]float64{slag.Al2O3: 1, slag.Fe2O3: 1, slag.Cr2O3: 1, slag.B2O3: 1}
	urbainModifiers = [slag.NumOxides]float64{slag.FeO: 1, slag.MnO: 1, slag.MgO: 1, slag.CaO: 1, slag.BaO: 1, slag.SrO: 1, slag.ZnO: 1,
		slag.PbO: 1, slag.NiO: 1, slag.Na2O: 1, slag.K2O: 1, slag.Li2O: 1, slag.Cu2O: 1, slag.TiO2: 2, slag.ZrO2: 2}
)

// urbainGroups returns g and α of mole fractions x. α = m/(m+a) is undefined
// in pure silica.
func urbainGroups(x *slag.Wt) (g, alpha float64, err error) {
	former, modifier, amphoter := weighted(&urbainFormers, x), weighted(&urbainModifiers, x), weighted(&urbainAmphoters, x)
	if modifier+amphoter <= 0 {
		return 0, 0, errNoModifier
	}
	return former / (former + modifier + amphoter), modifier / (modifier + amphoter), nil
}

// urbainIron is the wt% of FeO, all iron so stated, up to which the model of
// 1981 should be used: above it overstates the viscosity, tenfold in fayalite.
const urbainIron = 15

// Urbain1981 is the model of Urbain, Cambier, Deletter & Anseau:
//
//	η = A·T·exp(1000 B/T),  −ln A = 0.2693 B + 13.9751  (Pa·s)
//	B = Σ_j (c0 + c1 α + c2 α²)·g^j
//
// of the glass formers' share g and the modifiers' share α of the rest. It is
// for CaO–Al2O3–SiO2 melts. The coefficient of α² in B1 is 129.9978: only with
// it does pure silica not depend on α; 139.9978 is a misprint met in many
// places.
type Urbain1981 struct{}

var urbain1981 = [4][3]float64{
	{13.8, 39.9355, -44.049},
	{30.481, -117.1505, 129.9978},
	{-40.9429, 234.0486, -300.04},
	{60.7619, -153.9276, 211.1616},
}

// Key returns "urbain_1981".
func (Urbain1981) Key() string { return "urbain_1981" }

// Name returns authors and year.
func (Urbain1981) Name() string { return "Urbain 1981" }

// Source returns where the model was published.
func (Urbain1981) Source() string {
	return "Urbain, Cambier, Deletter & Anseau 1981, Trans. J. Br. Ceram. Soc. 80:139"
}

// Law refuses a melt without modifying and amphoteric oxides.
func (Urbain1981) Law(w slag.Wt) (Law, error) {
	x := w.Mol()
	g, alpha, err := urbainGroups(&x)
	if err != nil {
		return Law{}, err
	}
	b := urbainB1981(g, alpha)
	return Law{A: -(0.2693*b + 13.9751), P: 1, B: 1000 * b}, nil
}

func urbainB1981(g, alpha float64) (b float64) {
	for j := len(urbain1981) - 1; j >= 0; j-- {
		c := &urbain1981[j]
		b = b*g + c[0] + alpha*(c[1]+alpha*c[2])
	}
	return b
}

// Range warns above 15 wt% FeO.
func (m Urbain1981) Range(w slag.Wt, _ float64) (ns source.Notices) {
	if iron := allIron(&w); iron > urbainIron {
		ns.Add(source.Warning, "VISCOSITY_RANGE", source.Cell{},
			"%s is for slags of up to about %d wt%% FeO; this one holds %.1f wt%%, where the model makes slags too stiff, up to tenfold", m.Name(), urbainIron, iron)
	}
	return ns
}

// Urbain1987 is Urbain's later model, with a fit of its own for calcium-,
// magnesium- and manganese-like modifiers:
//
//	B_k = Σ_j (a_j + b_kj α + c_kj α²)·g^j,  B = Σ x_k B_k / Σ x_k
//	η = A·T·exp(1000 B/T),  −ln A = 0.29 B + 11.57 + ln 10  (Pa·s)
//
// FeO, NiO, ZnO, PbO and Cu2O count with MnO (usual practice; the last three
// our convention). TiO2 and ZrO2 enter g and α alone.
type Urbain1987 struct{}

var urbain1987a = [4]float64{13.2, 30.5, -40.4, 60.8}

// urbain1987 holds b and c of the groups Ca, Mg, Mn.
var urbain1987 = [3][2][4]float64{
	{{41.5, -117.2, 232.1, -156.4}, {-45.0, 130.0, -298.6, 213.6}},
	{{15.9, -54.1, 138.0, -99.8}, {-18.6, 33.0, -112.0, 97.6}},
	{{20.0, 26.0, -110.3, 64.3}, {-25.6, -56.0, 186.2, -104.6}},
}

var urbain1987groups = [3][slag.NumOxides]float64{
	{slag.CaO: 1, slag.BaO: 1, slag.SrO: 1, slag.Na2O: 1, slag.K2O: 1, slag.Li2O: 1},
	{slag.MgO: 1},
	{slag.MnO: 1, slag.FeO: 1, slag.NiO: 1, slag.ZnO: 1, slag.PbO: 1, slag.Cu2O: 1},
}

// Key returns "urbain_1987".
func (Urbain1987) Key() string { return "urbain_1987" }

// Name returns author and year.
func (Urbain1987) Name() string { return "Urbain 1987" }

// Source returns where the model was published.
func (Urbain1987) Source() string { return "Urbain 1987, Steel Research 58:111" }

// Law refuses a melt without any of the oxides of the three groups.
func (Urbain1987) Law(w slag.Wt) (Law, error) {
	x := w.Mol()
	g, alpha, err := urbainGroups(&x)
	if err != nil {
		return Law{}, err
	}
	bs, xs := urbainB1987(&x, g, alpha)
	var sum, b float64
	for k := range bs {
		sum += xs[k]
		b += xs[k] * bs[k]
	}
	if sum <= 0 {
		return Law{}, errors.New("the model of Urbain 1987 has no value for a melt without oxides of calcium, magnesium, manganese or their kin")
	}
	b /= sum
	return Law{A: -(0.29*b + 11.57 + math.Ln10), P: 1, B: 1000 * b}, nil
}

// urbainB1987 returns B and the mole fraction of each group.
func urbainB1987(x *slag.Wt, g, alpha float64) (bs, xs [3]float64) {
	for k := range bs {
		xs[k] = weighted(&urbain1987groups[k], x)
		b, c := &urbain1987[k][0], &urbain1987[k][1]
		for j := len(urbain1987a) - 1; j >= 0; j-- {
			bs[k] = bs[k]*g + urbain1987a[j] + alpha*(b[j]+alpha*c[j])
		}
	}
	return bs, xs
}

// Range notes iron counted as manganese where there is more of it than the
// model of 1981 bears.
func (m Urbain1987) Range(w slag.Wt, _ float64) (ns source.Notices) {
	if iron := allIron(&w); iron > urbainIron {
		ns.Add(source.Note, "VISCOSITY_IRON_AS_MANGANESE", source.Cell{},
			"%s has no fit for iron; its %.1f wt%% FeO count with MnO, as is usual", m.Name(), iron)
	}
	return ns
}
