// Package index computes the ratios by which slags are compared: basicity,
// iron to silica, Bachmann's viscosity index, silicate degree, NBO/T and
// optical basicity.
//
// Every index is a plain function of a melt on the melt basis of package slag;
// its comment holds the formula and the source. Table gives all of them with
// uncertainties.
//
// Uncertainties come from drawing whole melts (JCGM 101:2008), not from the
// law of propagation: an oxide stands both above and below the line of most
// indices, silica may be uncertain by several per cent, and parts below their
// limit have no normal error at all. The indices are definitions, so they have
// no model error; what they say about a slag's behaviour is another matter.
package index

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"

	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
	"smeltbook/phase/slag"
)

// Draws and Seed are what Table draws with. The standard deviation of 2000
// draws is good to 1.6 %.
const (
	Draws = 2000
	Seed  = 1
)

// Value is one index of one melt.
type Value struct {
	Key      string // stable name, "cao_sio2"
	Label    string // for people, "CaO/SiO2"
	Quantity quantity.Quantity
	Source   string // where the definition comes from
	Notices  source.Notices
}

// Table returns all indices of m in a fixed order.
func Table(m slag.Melt) []Value { return TableOf(m, Draws, Seed) }

// TableOf is Table with a number of draws and a seed of the caller's. Fewer
// than two draws leave the values without uncertainty.
func TableOf(m slag.Melt, draws int, seed uint64) []Value {
	best := newView(m.Wt)
	sd, why := spread(m, &best, draws, seed)
	out := make([]Value, len(definitions))
	for i, d := range definitions {
		v := Value{Key: d.key, Label: d.label, Source: d.source}
		x := d.of(&best)
		switch {
		case math.IsNaN(x) || math.IsInf(x, 0):
			v.Quantity = quantity.None(quantity.Missing, math.NaN(), "1")
			v.Quantity.UNote = "the melt holds nothing to divide by"
			v.Notices.Add(source.Warning, "INDEX_UNDEFINED", source.Cell{}, "%s cannot be formed: the melt holds nothing to divide by", d.label)
		case math.IsNaN(sd[i]):
			v.Quantity = quantity.New(x, "1", why)
		default:
			v.Quantity = quantity.WithU(x, sd[i], "1", why)
		}
		if d.check != nil && v.Quantity.Known() {
			d.check(&best, &v.Notices)
		}
		out[i] = v
	}
	return out
}

// view is a melt in the forms that the indices need.
type view struct {
	wt, feo slag.Wt // as given, and with all iron as FeO
	mol     slag.Wt // mole fractions of wt
}

func newView(w slag.Wt) view { return view{w, w.AllFeO(), w.Mol()} }

type definition struct {
	key, label, source string
	of                 func(*view) float64
	check              func(*view, *source.Notices) // nil where the index has no limit
}

// spread returns the standard deviation of each index over draws from m, NaN
// where there is none, and the note that goes with it.
func spread(m slag.Melt, best *view, draws int, seed uint64) (sd [numIndices]float64, why string) {
	for i := range sd {
		sd[i] = math.NaN()
	}
	if !m.HasU() {
		return sd, "none: the analysis carries no uncertainty"
	}
	if draws < 2 {
		return sd, "none: no draws were asked for"
	}
	// Deviations from the best value, so that nothing cancels.
	var sum, sum2, at [numIndices]float64
	for i, d := range definitions {
		at[i] = d.of(best)
	}
	r := rand.New(rand.NewPCG(seed, 0))
	for range draws {
		v := newView(m.Draw(r))
		for i, d := range definitions {
			x := d.of(&v) - at[i]
			sum[i] += x
			sum2[i] += x * x
		}
	}
	n := float64(draws)
	for i := range sd {
		variance := (sum2[i] - sum[i]*sum[i]/n) / (n - 1)
		if math.IsInf(variance, 0) { // one draw divided by nothing
			variance = math.NaN()
		}
		sd[i] = math.Sqrt(max(variance, 0))
	}
	why = fmt.Sprintf("uncertainty of the analysis, %d draws, seed %d", draws, seed)
	if len(m.NoU) > 0 {
		why += "; without uncertainty and counted as exact: " + strings.Join(m.NoU, ", ")
	}
	return sd, why
}

const numIndices = 15

var definitions = [numIndices]definition{
	{key: "cao_sio2", label: "CaO/SiO2", source: commonPractice, of: func(v *view) float64 { return LimeSilica(v.wt) }},
	{key: "cao_sio2_molar", label: "CaO/SiO2, molar", source: commonPractice, of: func(v *view) float64 { return LimeSilica(v.mol) }},
	{key: "cao_mgo_sio2", label: "(CaO+MgO)/SiO2", source: commonPractice, of: func(v *view) float64 { return EarthsSilica(v.wt) }},
	{key: "cao_mgo_sio2_molar", label: "(CaO+MgO)/SiO2, molar", source: commonPractice, of: func(v *view) float64 { return EarthsSilica(v.mol) }},
	{key: "cao_mgo_sio2_al2o3", label: "(CaO+MgO)/(SiO2+Al2O3)", source: commonPractice, of: func(v *view) float64 { return EarthsAcids(v.wt) }},
	{key: "cao_mgo_sio2_al2o3_molar", label: "(CaO+MgO)/(SiO2+Al2O3), molar", source: commonPractice, of: func(v *view) float64 { return EarthsAcids(v.mol) }},
	{key: "feo_sio2", label: "FeO/SiO2, all iron as FeO", source: commonPractice, of: func(v *view) float64 { return v.feo[slag.FeO] / v.feo[slag.SiO2] }},
	{key: "fe_sio2", label: "Fe/SiO2, all iron", source: commonPractice, of: func(v *view) float64 { return ironShare * v.feo[slag.FeO] / v.feo[slag.SiO2] }},
	{key: "bachmann_index", label: "viscosity index k_v", source: bachmannSource, of: func(v *view) float64 { return bachmann(&v.feo) }},
	{key: "silicate_degree", label: "silicate degree, alumina left out", source: silicateSource, of: func(v *view) float64 { return SilicateDegree(v.mol, AluminaNeutral) }},
	{key: "silicate_degree_alumina_acid", label: "silicate degree, alumina as acid", source: silicateSource, of: func(v *view) float64 { return SilicateDegree(v.mol, AluminaAcid) }},
	{key: "silicate_degree_alumina_base", label: "silicate degree, alumina as base", source: silicateSource, of: func(v *view) float64 { return SilicateDegree(v.mol, AluminaBase) }},
	{key: "nbo_t", label: "NBO/T", source: nbotSource, of: func(v *view) float64 { return nbot(&v.mol, TetrahedralFerric(ferricShare(&v.mol))) }, check: checkNBOT},
	{key: "optical_basicity", label: "optical basicity", source: opticalSource, of: func(v *view) float64 { return optical(&v.mol) }, check: checkOptical},
	{key: "optical_basicity_corrected", label: "optical basicity, charge-compensated", source: correctedSource,
		of: func(v *view) float64 { x, _ := compensated(v.mol); return optical(&x) }, check: checkCorrected},
}
