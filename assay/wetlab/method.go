package wetlab

import (
	"math"
	"slices"
	"strings"

	"smeltbook/assay/chem"
	"smeltbook/assay/source"
)

// Method is one way of getting from readings to an analyte.
type Method struct {
	ID       string   // as it is written on a sheet: "dichromate"
	Name     string   // "total iron by dichromate titration"
	Analytes []string // that may be stated, the usual one first; nil for any element or oxide
	Formula  string   // of the result in wt%
	Source   string   // where the formula is from, and its standing
	Scope    *Scope   // of the standard nearest to it; nil where none is known
	Caution  string   // what can hurt; empty where nothing beyond the usual does
	// Repeatability is the relative standard deviation, in %, of repeated
	// determinations that is assumed where the sheet states none.
	Repeatability float64

	spellings []string
	base      string // analyte that value returns; empty for the analyte asked for
	needs     []need
	takes     []Key // may be given beside what is needed
	above     []pair
	value     func(values) float64
	culprits  []culprit
}

// Scope is a standard with the contents for which it holds.
type Scope struct {
	Standard string
	Of       string // analyte
	Lo, Hi   float64
}

// need is a reading that cannot be missing, or several ways of giving it.
type need struct {
	what string // in words
	ways [][]Key
}

func one(k Key) need { return need{string(k), [][]Key{{k}}} }

// pair names a blank and the reading that it may not exceed.
type pair struct{ blank, reading Key }

// values is a set of readings by key.
type values map[Key]float64

func (v values) has(k Key) bool { _, ok := v[k]; return ok }

// diluted returns by what the aliquot's content is multiplied to give that of
// the whole flask; 1 without an aliquot.
func (v values) diluted() float64 {
	switch {
	case v.has(Dilution):
		return v[Dilution]
	case v.has(Flask) && v.has(Aliquot):
		return v[Flask] / v[Aliquot]
	}
	return 1
}

// percentOf returns milligrams as wt% of the sample.
func (v values) percentOf(mg float64) float64 { return mg / (10 * v[SampleMass]) }

// mass returns the molar mass of a formula.
func mass(formula string) float64 {
	f, err := chem.ParseFormula(formula)
	if err != nil {
		return math.NaN()
	}
	return f.Mass()
}

// Methods returns all methods.
func Methods() []*Method { return slices.Concat(titrations, complexometry, gravimetry, solutions) }

// Lookup returns the method that a sheet names, letter case, spaces and
// hyphens aside. The error is a sentence with a suggestion.
func Lookup(name string) (*Method, error) {
	var all []string
	for _, m := range Methods() {
		for _, s := range append([]string{m.ID}, m.spellings...) {
			if fold(s) == fold(name) {
				return m, nil
			}
		}
		all = append(all, m.ID)
	}
	all = append(all, standardisation, calibrationStandard)
	return nil, source.Notice{Severity: source.Error, Code: "UNKNOWN_WET_METHOD",
		Message: `there is no wet method "` + clip(name) + `"` + didYouMean(name, all)}
}

// didYouMean suggests the nearest word, else lists them all.
func didYouMean(word string, all []string) string {
	if n := source.Nearest(word, all); n != "" {
		return `; did you mean "` + n + `"?`
	}
	return "; there are: " + strings.Join(all, ", ")
}

// fold reduces a heading or a name to what tells it from others.
func fold(s string) string {
	return strings.Map(func(r rune) rune {
		switch r {
		case ' ', '\u00a0', '\u202f', '-', '_', '.', ':', ',', '(', ')':
			return -1
		}
		return r
	}, strings.ToLower(s))
}

// clip shortens a text of a sheet for a message.
func clip(s string) string {
	if r := []rune(s); len(r) > 60 {
		return string(r[:60]) + "…"
	}
	return s
}

// factorTo returns the factor from what the method finds to the analyte asked
// for.
func (m *Method) factorTo(analyte string) (float64, error) {
	if m.base == "" || m.base == analyte {
		return 1, nil
	}
	return chem.Factor(m.base, analyte)
}

// Determines reports whether the method can give an analyte.
func (m *Method) Determines(analyte string) bool {
	if m.Analytes != nil {
		return slices.Contains(m.Analytes, analyte)
	}
	a, ok := chem.LookupAnalyte(analyte)
	return ok && (a.Kind == chem.Element || a.Kind == chem.Oxide || a.Kind == chem.OxideTotal || a.Kind == chem.Species || a.Kind == chem.Metal)
}
