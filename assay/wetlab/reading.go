package wetlab

import (
	"fmt"
	"math"

	"smeltbook/assay/quantity"
)

// Key names a reading.
type Key string

// The readings that methods take. Each stands in a column of its own; its unit
// is in the heading.
const (
	SampleMass      Key = "sample mass"
	Tare            Key = "empty"
	Before          Key = "before"
	After           Key = "after"
	Precipitate     Key = "precipitate"
	BlankMass       Key = "blank mass"
	InSolution      Key = "in solution"
	InResidue       Key = "in residue"
	Codeposited     Key = "co-deposited"
	Volume          Key = "volume"
	Blank           Key = "blank"
	CalciumVolume   Key = "calcium volume"
	CalciumBlank    Key = "calcium blank"
	Concentration   Key = "concentration"
	Titre           Key = "titre"
	BackVolume      Key = "back volume"
	BackStrength    Key = "back concentration"
	BackTitre       Key = "back titre"
	Bound           Key = "bound metals"
	Flask           Key = "flask"
	Aliquot         Key = "aliquot"
	MadeUpTo        Key = "made up to"
	Dilution        Key = "dilution"
	Solution        Key = "reading"
	SolutionBlank   Key = "blank reading"
	Signal          Key = "signal"
	Slope           Key = "slope"
	Intercept       Key = "intercept"
	SignalReadings  Key = "readings"
	AddedVolume     Key = "added volume"
	StandardContent Key = "standard"
	Purity          Key = "purity"
	Repeatability   Key = "repeatability"
)

// readingKind is what is known of a reading beforehand.
type readingKind struct {
	key       Key
	dim       dimension
	spellings []string
	zero      bool // may be zero or, for an intercept, below
	assume    func(value float64) (u float64, how string)
}

// The standard uncertainties taken where a sheet states none (common practice;
// the linearity of the balance and the way to combine it are those of
// EURACHEM/CITAC QUAM, example A1; from memory).
func oneWeighing(float64) (float64, string) {
	return 0.00015 / math.Sqrt(3), "one weighing on a balance linear to 0.15 mg"
}

func netMass(float64) (float64, string) {
	return 0.00015 * math.Sqrt2 / math.Sqrt(3), "the difference of two weighings on a balance linear to 0.15 mg"
}

func burette(float64) (float64, string) {
	return math.Hypot(0.05/math.Sqrt(6), 0.025/math.Sqrt(3)), "a burette of 50 mL class A and half a drop"
}

func flaskOf(v float64) (float64, string) {
	return glassU(v, flasks), "a flask of class A 3 K from 20 °C"
}

func pipetteOf(v float64) (float64, string) {
	return glassU(v, pipettes), "a pipette of class A 3 K from 20 °C"
}

func relative(r float64) func(float64) (float64, string) {
	return func(v float64) (float64, string) {
		return r * math.Abs(v), fmt.Sprintf("%g %% of a strength, reading or mass found elsewhere", 100*r)
	}
}

func absolute(u float64) func(float64) (float64, string) {
	return func(float64) (float64, string) { return u, fmt.Sprintf("%g in a signal or a purity", u) }
}

func exact(float64) (float64, string) { return 0, "" }

// readingKinds lists all readings in the order in which they are told.
var readingKinds = []readingKind{
	{SampleMass, gram, []string{"sample mass", "sample weight", "mass of sample", "weight of sample", "mass taken", "weight taken", "taken", "mass"}, false, netMass},
	{Tare, gram, []string{"empty", "crucible", "crucible empty", "empty crucible", "cathode before", "tare"}, true, oneWeighing},
	{Before, gram, []string{"before", "before hf", "before ignition", "crucible with sample", "impure silica", "crucible with silica"}, false, oneWeighing},
	{After, gram, []string{"after", "after hf", "after ignition", "residue after hf", "crucible after", "cathode after", "crucible with precipitate"}, true, oneWeighing},
	{Precipitate, gram, []string{"precipitate", "deposit", "cathode gain", "weighed form"}, false, netMass},
	{BlankMass, gram, []string{"blank mass", "blank precipitate", "blank", "blank weight"}, true, netMass},
	{InSolution, gram, []string{"in solution", "in filtrate", "filtrate silica", "left in filtrate", "left in electrolyte", "copper in electrolyte", "in electrolyte"}, true, relative(0.05)},
	{InResidue, gram, []string{"in residue", "copper in residue", "left in residue"}, true, relative(0.05)},
	{Codeposited, gram, []string{"co-deposited", "codeposited", "other metals on cathode", "ag bi sb on cathode"}, true, relative(0.05)},
	{Volume, millilitre, []string{"volume", "titration", "titrant volume", "burette", "volume used", "edta volume", "titration volume"}, false, burette},
	{Blank, millilitre, []string{"blank", "blank volume", "blank titration"}, true, burette},
	{CalciumVolume, millilitre, []string{"calcium volume", "volume for calcium", "volume at ph 12"}, true, burette},
	{CalciumBlank, millilitre, []string{"calcium blank", "blank for calcium", "blank at ph 12"}, true, burette},
	{Concentration, molar, []string{"concentration", "titrant concentration", "molarity", "edta concentration", "strength"}, false, relative(0.001)},
	{Titre, milligramL, []string{"titre", "titer", "titrant titre"}, false, relative(0.001)},
	{BackVolume, millilitre, []string{"back volume", "back titration", "zinc volume"}, true, burette},
	{BackStrength, molar, []string{"back concentration", "zinc concentration"}, false, relative(0.001)},
	{BackTitre, milligramL, []string{"back titre", "back titer"}, false, relative(0.001)},
	{Bound, millimole, []string{"bound metals", "other metals bound", "bound"}, true, relative(0.02)},
	{Flask, millilitre, []string{"flask", "flask volume", "volume of flask"}, false, flaskOf},
	{Aliquot, millilitre, []string{"aliquot", "aliquot volume", "pipette"}, false, pipetteOf},
	{MadeUpTo, millilitre, []string{"made up to", "second flask", "diluted to"}, false, flaskOf},
	{Dilution, pureNumber, []string{"dilution", "dilution factor"}, false, relative(0.002)},
	{Solution, milligramL, []string{"reading", "solution", "found in solution", "concentration read", "solution concentration"}, true, relative(0.01)},
	{SolutionBlank, milligramL, []string{"blank reading", "blank", "blank solution", "blank concentration"}, true, relative(0.01)},
	{Signal, pureNumber, []string{"signal", "absorbance", "extinction", "emission", "intensity"}, true, absolute(0.002)},
	{Slope, litrePerMg, []string{"slope"}, false, relative(0.005)},
	{Intercept, pureNumber, []string{"intercept"}, true, absolute(0.002)},
	{SignalReadings, pureNumber, []string{"readings", "number of readings"}, false, exact},
	{AddedVolume, millilitre, []string{"added volume", "added", "addition"}, true, exact},
	{StandardContent, milligramL, []string{"standard", "standard concentration", "standard solution"}, true, exact},
	{Purity, percent, []string{"purity"}, false, absolute(0.029)},
	{Repeatability, percent, []string{"repeatability", "relative repeatability"}, true, exact},
}

func kindOf(k Key) *readingKind {
	for i := range readingKinds {
		if readingKinds[i].key == k {
			return &readingKinds[i]
		}
	}
	return nil
}

// Reading is one reading, in the unit in which readings of its key are kept.
type Reading struct {
	Key Key
	quantity.Quantity
	Raw     string // as it stands in the cell
	RawUnit string // as it stands over the column
	Assumed string // how the uncertainty was assumed; empty where it is stated
}

// WithAssumedU returns the reading with the uncertainty that is usual for it
// where it has none.
func (r Reading) WithAssumedU() Reading {
	if k := kindOf(r.Key); k != nil && r.Known() && !r.HasU() {
		var how string
		r.U, how = k.assume(r.Value)
		r.UNote = "assumed: " + how
		r.Assumed = how
	}
	return r
}
