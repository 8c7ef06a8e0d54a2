package wetlab

import (
	"fmt"
	"math"
	"strings"

	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// ByWeighing returns the concentration in mol/L of m grams of a substance of
// the given purity (as a fraction) and molar mass (g/mol) in v mL.
func ByWeighing(m, purity, molar, v float64) float64 { return 1000 * m * purity / (molar * v) }

// standardPairs gives the moles of titrant that one mole of a primary standard
// takes.
var standardPairs = map[[2]string]float64{
	{"NaOH", "C8H5KO4"}: 1, {"NaOH", "KHP"}: 1,
	{"KMnO4", "Na2C2O4"}: 2.0 / 5, {"KMnO4", "Fe"}: 1.0 / 5,
	{"K2Cr2O7", "Fe"}: 1.0 / 6,
	{"Na2S2O3", "Cu"}: 1, {"Na2S2O3", "K2Cr2O7"}: 6, {"Na2S2O3", "KIO3"}: 6,
	{"EDTA", "Zn"}: 1, {"EDTA", "CaCO3"}: 1, {"EDTA", "Cu"}: 1,
}

// hydrogenPhthalate is what "KHP" stands for.
const hydrogenPhthalate = "C8H5KO4"

// Standardisation is one run that fixes the concentration of a titrant: a
// primary standard was weighed and titrated, or, where titrant and standard
// are the same, weighed and made up to a flask.
type Standardisation struct {
	Titrant  string // as the sheet names it; begins with its formula: "K2Cr2O7 bottle 2"
	Standard string // formula of the primary standard
	At       source.Cell
	Readings []Reading // SampleMass, Volume or Flask; Blank, Purity, Repeatability
}

// assumedTitreRepeatability is the relative standard deviation of one run that
// is taken where the sheet states none, % (common practice).
const assumedTitreRepeatability = 0.1

// Compute returns the concentration in mol/L.
func (s Standardisation) Compute() (quantity.Quantity, error) {
	name, _, _ := strings.Cut(s.Titrant, " ")
	standard := s.Standard
	ratio, known := standardPairs[[2]string{name, standard}]
	byFlask := name == standard
	if byFlask {
		ratio, known = 1, true
	}
	if !known {
		return quantity.Quantity{}, fmt.Errorf("no standardisation of %q with %q is known; begin the name of the titrant with its formula, as in \"K2Cr2O7 bottle 2\", and write the formula of the primary standard as analyte", clip(name), clip(standard))
	}
	if standard == "KHP" {
		standard = hydrogenPhthalate
	}
	molar := mass(standard)
	d := Determination{Readings: s.Readings}
	measured := Volume
	if byFlask {
		measured = Flask
	}
	inputs := []Input{{"repeatability", 1, assumedTitreRepeatability / 100}, {"purity", 1, 0.00029}, {"blank", 0, 0}, {}, {}}
	var from []source.Cell
	take := func(i int, k Key, scale float64) bool {
		r, ok := d.reading(k)
		if ok {
			r = r.WithAssumedU()
			inputs[i] = Input{string(k), r.Value * scale, r.U * scale}
			from = append(from, r.From...)
		}
		return ok
	}
	if !take(3, SampleMass, 1) || !take(4, measured, 1) {
		return quantity.Quantity{}, fmt.Errorf("the standardisation of %s needs %q and %q", clip(s.Titrant), heading(SampleMass), heading(measured))
	}
	take(1, Purity, 0.01)
	take(2, Blank, 1)
	if r, ok := d.reading(Repeatability); ok {
		inputs[0].U = r.Value / 100
	}
	c, u, _ := Propagate(func(x []float64) float64 { return x[0] * ratio * ByWeighing(x[3], x[1], molar, x[4]-x[2]) }, inputs)
	if !(c > 0) || math.IsInf(c, 0) || math.IsNaN(u) {
		return quantity.Quantity{}, fmt.Errorf("the standardisation of %s gives no concentration; look at mass, volume and blank", clip(s.Titrant))
	}
	return quantity.WithU(c, u, "mol/L", "standardised with "+s.Standard, from...), nil
}

// meanTitre joins the runs of one titrant: their mean with s/√n, and no less
// than the error that they share.
func meanTitre(runs []quantity.Quantity) quantity.Quantity {
	if len(runs) == 1 {
		return runs[0]
	}
	n := float64(len(runs))
	var mean, u2, scatter float64
	var from []source.Cell
	for _, q := range runs {
		mean += q.Value / n
		u2 += q.U * q.U / n
		from = append(from, q.From...)
	}
	for _, q := range runs {
		scatter += (q.Value - mean) * (q.Value - mean) / (n - 1)
	}
	u := math.Sqrt(math.Max(u2/n, scatter/n))
	return quantity.WithU(mean, u, "mol/L", fmt.Sprintf("mean of %d standardisations, s/√n", len(runs)), from...)
}
