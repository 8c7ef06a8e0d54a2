package balance

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"gonum.org/v1/gonum/stat"

	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// Forecast is what a charge should give. Masses are in kg with standard
// uncertainties from weights, analyses and behaviour, by Monte Carlo (JCGM
// 101:2008).
type Forecast struct {
	Slag      chem.Composition // wt%, sums to 100; iron as FeO, copper in all forms as Cu2O, its sulphur as S
	SlagMass  quantity.Quantity
	MetalMass quantity.Quantity // copper with the iron reduced into it
	Matte     chem.Composition  // wt% Cu, Fe, S; without parts where there is none
	MatteMass quantity.Quantity
	GasMass   quantity.Quantity // of the charge itself: moisture, ignition loss, oxygen, sulphur and alkalis that leave
	Copper    []Place           // where the copper of the charge goes
	Sources   []Source          // what the oxides of the slag come from
	Notices   source.Notices
}

// Place is some of the copper of a charge: Kg of it and its Share, 0 to 1.
type Place struct {
	Name  string
	Kg    quantity.Quantity
	Share quantity.Quantity
}

// Source is a material and its share of the slag's oxides (copper left out), 0
// to 1.
type Source struct {
	Name, Kind string
	Share      quantity.Quantity
}

// Masses of formulas that the reactions need, in g/mol (CIAAW 2024).
const (
	cuMass, feMass, sMass, oMass = 63.546, 55.845, 32.06, 15.999
	cuPerS                       = 2 * cuMass / sMass // Cu2S
	fePerS                       = feMass / sMass     // FeS
	feoPerFe                     = (feMass + oMass) / feMass
	cu2oPerCu                    = (2*cuMass + oMass) / (2 * cuMass)
)

// Predict forecasts what a charge gives:
//
//   - what ignition drives off, and the metals that leave with the gas (Zn, Pb,
//     As, Sb, halogens), is gone;
//   - the sulphur kept goes to the slag as far as that dissolves it; the rest
//     binds copper as Cu2S first, then iron as FeS: the matte;
//   - the copper that the slag holds (Behaviour) goes to it, all other copper
//     to the metal, with the iron that is reduced;
//   - the rest of the iron goes to the slag as FeO, with all other oxides.
//
// It holds for a charge that melts through and parts: it does not know whether
// the slag runs. It fails where a weight or an analysis is missing or nothing
// would become slag.
func Predict(charge []Material, how Behaviour) (Forecast, error) {
	if err := how.check(); err != nil {
		return Forecast{}, err
	}
	if len(charge) == 0 {
		return Forecast{}, fmt.Errorf("nothing is charged")
	}
	var in []melting
	for _, m := range charge {
		if err := m.check(); err != nil {
			return Forecast{}, err
		}
		in = append(in, meltingOf(m))
	}
	central := react(in, how.central())
	if !(central.slag > 0) {
		return Forecast{}, fmt.Errorf("no part of this charge becomes slag")
	}
	n := how.Draws
	if n <= 0 {
		n = defaultDraws
	}
	r := rand.New(rand.NewPCG(how.Seed, 0x6368617267650000)) // "charge"
	var drawn []products
	for range n {
		var some []melting
		for _, m := range in {
			some = append(some, m.draw(r))
		}
		drawn = append(drawn, react(some, how.draw(r)))
	}
	return forecastOf(charge, central, drawn), nil
}

// forecastOf states the central products with the spread of the drawn ones.
func forecastOf(charge []Material, c products, drawn []products) Forecast {
	q := func(unit string, of func(products) float64) quantity.Quantity {
		return quantity.WithU(of(c), spread(drawn, of), unit, "weights, analyses and behaviour, by Monte Carlo")
	}
	f := Forecast{
		SlagMass:  q("kg", func(p products) float64 { return p.slag }),
		MetalMass: q("kg", func(p products) float64 { return p.metalCu + p.metalFe }),
		MatteMass: q("kg", func(p products) float64 { return p.matteCu + p.matteFe + p.matteS }),
		GasMass: q("kg", func(p products) float64 {
			return p.charged - p.slag - p.metalCu - p.metalFe - p.matteCu - p.matteFe - p.matteS
		}),
		Notices: c.notices(),
	}
	var slag []chem.Part
	for _, at := range c.oxides.sorted() {
		slag = append(slag, chem.Part{ID: slagParts[at], Quantity: q("wt%", func(p products) float64 { return 100 * p.oxides[at] / p.slag })})
	}
	f.Slag = composed(slag)
	if c.matteS > 0 {
		total := func(p products) float64 { return p.matteCu + p.matteFe + p.matteS }
		f.Matte = composed([]chem.Part{
			{ID: "Cu", Quantity: q("wt%", func(p products) float64 { return 100 * p.matteCu / total(p) })},
			{ID: "Fe", Quantity: q("wt%", func(p products) float64 { return 100 * p.matteFe / total(p) })},
			{ID: "S", Quantity: q("wt%", func(p products) float64 { return 100 * p.matteS / total(p) })},
		})
	}
	for _, x := range []struct {
		name string
		of   func(products) float64
	}{
		{"metal", func(p products) float64 { return p.metalCu }},
		{"matte", func(p products) float64 { return p.matteCu }},
		{"slag", func(p products) float64 { return p.slagCu }},
	} {
		place := Place{Name: x.name, Kg: q("kg", x.of), Share: quantity.None(quantity.Missing, math.NaN(), "1")}
		if c.cu > 0 {
			place.Share = q("1", func(p products) float64 { return x.of(p) / p.cu })
		}
		f.Copper = append(f.Copper, place)
	}
	for i, m := range charge {
		f.Sources = append(f.Sources, Source{m.Name, m.Kind, q("1", func(p products) float64 { return p.from[i] / (p.slag - p.slagCu*cu2oPerCu - p.slagS) })})
	}
	return f
}

// composed makes a composition of parts that are known to be good.
func composed(parts []chem.Part) chem.Composition {
	c, err := chem.NewComposition(parts...)
	if err != nil {
		panic(fmt.Sprintf("balance: %v", err)) // unreachable: oxides of the table, once each, above zero
	}
	return c
}

// spread is the standard deviation of what was drawn; draws that give no number
// (a matte that is not there) are left out.
func spread(drawn []products, of func(products) float64) float64 {
	var xs []float64
	for _, p := range drawn {
		xs = append(xs, of(p))
	}
	return deviation(xs)
}

// deviation is the standard deviation of the draws that gave a number.
func deviation(xs []float64) float64 {
	xs = slices.DeleteFunc(xs, func(x float64) bool { return math.IsNaN(x) || math.IsInf(x, 0) })
	if len(xs) < 2 {
		return math.NaN()
	}
	return stat.StdDev(xs, nil)
}

// sorted returns the places of the parts that there are, by their formulas.
func (p *slagKg) sorted() []int {
	var out []int
	for i, x := range p {
		if x > 0 {
			out = append(out, i)
		}
	}
	slices.SortFunc(out, func(a, b int) int { return strings.Compare(slagParts[a], slagParts[b]) })
	return out
}
