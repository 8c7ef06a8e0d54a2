package assay

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
)

// Recipe is the one declared way in which every analysis, replica and
// excavated alike, becomes a composition. Its zero value is the default, and
// Lines says in words what holds.
type Recipe struct {
	Basis        chem.Basis                  // default chem.Normalised
	Iron         map[string]chem.Iron        // by kind of sample; default FeO for slag, Fe2O3 for all else
	Copper       map[string]string           // Cu, CuO or Cu2O by kind; default Cu for slag and metal, CuO for all else
	Sulphur      map[string]chem.SulphurForm // by kind; default sulphide for slag, as reported for all else
	Prills       PrillRule                   // default PrillsAsAnalysed
	Metal        []SampleMetal               // metal found in samples
	BelowLimit   BelowLimit                  // default CountHalf
	LOI          LOIRule                     // default LOIMeasured
	Ignited      []string                    // files, or file#sheet, whose oxides were measured on ignited powder
	IgnitedLines []int                       // lines of the notebook, for messages, as long as Ignited or empty
	Prefer       []string                    // methods, best first, where several give the same analyte
	// AcceptTotals names the samples whose analysis may be used although its
	// sum lies outside 95 to 105 wt%; "all" accepts every one.
	AcceptTotals []string
	// AllFerrous leaves ferric iron out of the melt even where it is known, so
	// that every slag is treated alike.
	AllFerrous bool
	// UnreadableAsMissing goes on where a cell of a laboratory table holds
	// something that is no number, as if it were empty. Without it such a cell
	// is an error.
	UnreadableAsMissing bool
	// Correct names the readings that are replaced by what the laboratory would
	// have given. Nothing is corrected that is not named here.
	Correct []Correction
	// Assume holds contents of products that nobody analysed, for the balances
	// of firings alone. Nothing is assumed that is not stated here.
	Assume []AssumedContent
}

// AssumedContent is what the notebook states of a product without an analysis.
type AssumedContent struct {
	Kind    string // Metal, Prill or Matte
	Element string
	Content quantity.Quantity // wt%, with its uncertainty
}

// AssumedOf returns what is to be assumed of a kind of product.
func (r Recipe) AssumedOf(kind string) (out []AssumedContent) {
	for _, a := range r.Assume {
		if a.Kind == kind {
			out = append(out, a)
		}
	}
	return out
}

// PrillRule says whether compositions hold the metal in a slag.
type PrillRule string

const (
	PrillsAsAnalysed PrillRule = "as_analysed" // whatever the powder held
	PrillsWithout    PrillRule = "without"     // the slag around them
	PrillsWith       PrillRule = "with"        // metal that was sieved out is added back
)

// SampleMetal is the metal found in one sample.
type SampleMetal struct {
	Sample string
	chem.Prills
	Sieved bool // taken out before the analysis
	Line   int  // line of the notebook, for messages
}

// BelowLimit says with which number a part below its limit of detection enters
// what is computed from whole compositions.
type BelowLimit string

const (
	CountHalf  BelowLimit = "half"
	CountZero  BelowLimit = "zero"
	CountLimit BelowLimit = "limit"
)

// LOIRule says what stands for the volatiles of a sample.
type LOIRule string

const (
	LOIMeasured  LOIRule = "as_measured"
	LOIVolatiles LOIRule = "volatiles" // the gain of oxidising iron and metal is added back
)

// Share returns the share of a limit of detection that is counted.
func (r Recipe) Share() float64 {
	switch r.BelowLimit {
	case CountZero:
		return 0
	case CountLimit:
		return 1
	}
	return 0.5
}

func (r Recipe) basis() chem.Basis {
	if r.Basis == "" {
		return chem.Normalised
	}
	return r.Basis
}

// ironFor returns the form in which iron is stated: the recipe's for the kind
// of sample, else FeO for slag and Fe2O3 for all else. A sample of no stated
// kind keeps the form of the laboratory.
func (r Recipe) ironFor(kind string, parts []chem.Part) chem.Iron {
	if iron, ok := r.Iron[kind]; ok {
		return iron
	}
	switch kind {
	case Slag:
		return chem.AsFeO
	case "":
		for _, p := range parts {
			if p.ID == "FeOT" || p.ID == "FeO" {
				return chem.AsFeO
			}
		}
	}
	return chem.AsFe2O3
}

// copperFor returns the form in which copper is stated: the recipe's for the
// kind of sample, else the element in slag, where it is partly metal, and CuO
// in ore and clay, where it is an oxide or carbonate (common practice).
func (r Recipe) copperFor(kind string) string {
	if form, ok := r.Copper[kind]; ok {
		return form
	}
	if kind == Slag || metallic(kind) {
		return "Cu"
	}
	return "CuO"
}

// sulphurFor returns what sulphur is taken to be: the recipe's for the kind of
// sample, else sulphide in slag, which was reduced (common practice). In ore
// and clay it may be either, and in metal nothing was stated as an oxide.
func (r Recipe) sulphurFor(kind string) chem.SulphurForm {
	if form, ok := r.Sulphur[kind]; ok {
		return form
	}
	if kind == Slag {
		return chem.Sulphide
	}
	return chem.SulphurReported
}

// Accepts reports whether a sample's analysis may be used whatever its sum.
func (r Recipe) Accepts(sample string) bool {
	return slices.ContainsFunc(r.AcceptTotals, func(id string) bool { return id == "all" || sampleKey(id) == sampleKey(sample) })
}

// metalIn returns the metal that the recipe knows of in a sample.
func (r Recipe) metalIn(id string) (SampleMetal, bool) {
	i := slices.IndexFunc(r.Metal, func(m SampleMetal) bool { return sampleKey(m.Sample) == sampleKey(id) })
	if i < 0 {
		return SampleMetal{}, false
	}
	return r.Metal[i], true
}

// RecipeLine is one choice of a recipe in words.
type RecipeLine struct {
	Key    string // as the notebook writes it
	Value  string
	Means  string // a sentence without full stop
	Stated bool   // by the notebook; else it is the default
}

// Lines states the whole recipe, what the notebook says and what holds because
// it says nothing, in a fixed order.
func (r Recipe) Lines() []RecipeLine {
	basis := map[chem.Basis]string{
		chem.Reported:   "as the laboratory gave them, as oxides",
		chem.LOIFree:    "without the ignition loss, x·100/(100 − LOI), sums as found",
		chem.Normalised: "without the ignition loss, brought to a sum of 100 wt%",
	}
	below := map[BelowLimit]string{
		CountHalf:  "counts as half its limit",
		CountZero:  "counts as zero",
		CountLimit: "counts as its limit",
	}
	share := r.BelowLimit
	if share == "" {
		share = CountHalf
	}
	prills := map[PrillRule]string{
		PrillsAsAnalysed: "compositions hold the metal that the analysed powder held",
		PrillsWithout:    "the metal stated below is taken out, so that compositions are of the slag around it",
		PrillsWith:       "the metal stated below as sieved out is added back, so that compositions are of the slag with it",
	}
	rule := r.Prills
	if rule == "" {
		rule = PrillsAsAnalysed
	}
	loi := map[LOIRule]string{
		LOIMeasured:  "the ignition loss is taken as weighed; a gain is not counted in the sum of a sample stated as FeO",
		LOIVolatiles: "to the ignition loss the gain that full oxidation of FeO, iron, copper and MnO in air would bring is added back, less the loss of sulphide; an upper bound of what was volatile",
	}
	volatiles := r.LOI
	if volatiles == "" {
		volatiles = LOIMeasured
	}
	unreadable := "error"
	if r.UnreadableAsMissing {
		unreadable = "missing"
	}
	ferric := "titrated"
	if r.AllFerrous {
		ferric = "none"
	}
	lines := []RecipeLine{
		{"basis", string(r.basis()), "compositions " + basis[r.basis()], r.Basis != ""},
		{"iron", byKind(r.Iron, chem.AsFeO, chem.AsFe2O3), "all iron in one form; metallic iron, where it was measured, is taken out of the total and stands beside it", len(r.Iron) > 0},
		{"ferric", ferric, "ferric iron of a slag in the melt: as analysed beside ferrous iron, or left aside", r.AllFerrous},
		{"copper", byKind(r.Copper, "Cu", "CuO"), "all copper in one form; as the element in metal, prills and matte too", len(r.Copper) > 0},
		{"sulphur", byKind(r.Sulphur, chem.Sulphide, chem.SulphurReported), "sulphide is stated as S and the oxygen counted too much with its metal is taken off as O=S; for F and Cl likewise as O=FCl, always", len(r.Sulphur) > 0},
		{"prills", string(rule), prills[rule], r.Prills != ""},
		{"metal", r.metalText(), "metal in samples, wt%, with its copper and iron", len(r.Metal) > 0},
		{"below_limit", string(share), "a part below its limit of detection " + below[share] + " in sums brought to 100, melt models and indices; one without a stated limit counts as zero", r.BelowLimit != ""},
		{"loi", string(volatiles), loi[volatiles], r.LOI != ""},
		{"ignited", orNone(r.Ignited), "files whose oxides were measured on ignited powder; they are brought to the dry sample with (100 − LOI)/100", len(r.Ignited) > 0},
		{"prefer", r.preferText(), "the method whose value is taken where several gave the same element", len(r.Prefer) > 0},
		{"correct", r.correctText(), "readings replaced by what the trusted method would have given, by a line through samples that both measured", len(r.Correct) > 0},
		{"accept_totals", orNone(r.AcceptTotals), "analyses used although they sum to less than 95 or more than 105 wt%", len(r.AcceptTotals) > 0},
		{"assume", r.assumeText(), "contents of products of a firing that nobody analysed, stated by those who fired it; for balances alone", len(r.Assume) > 0},
		{"unreadable", unreadable, "a cell that should hold a number and does not", r.UnreadableAsMissing},
	}
	return lines
}

func orNone(words []string) string {
	if len(words) == 0 {
		return "none"
	}
	return strings.Join(words, ", ")
}

// byKind prints a choice by kind of sample: what is stated, then the defaults
// for what is not.
func byKind[T ~string](stated map[string]T, slag, other T) string {
	var parts []string
	all := maps.Clone(stated)
	if all == nil {
		all = map[string]T{}
	}
	if _, ok := all[Slag]; !ok {
		all[Slag] = slag
	}
	parts = append(parts, Slag+": "+string(all[Slag]))
	for _, kind := range slices.Sorted(maps.Keys(all)) {
		if kind != Slag {
			parts = append(parts, kind+": "+string(all[kind]))
		}
	}
	return strings.Join(parts, ", ") + ", all else: " + string(other)
}

func (r Recipe) preferText() string {
	if len(r.Prefer) > 0 {
		return strings.Join(r.Prefer, ", ") + ", then as by default"
	}
	return strings.Join(preference, ", ")
}

func (r Recipe) correctText() string {
	var parts []string
	for _, x := range r.Correct {
		text := x.Method + ": " + strings.Join(x.Analytes, ", ")
		if len(x.Kinds) > 0 {
			text += " in " + strings.Join(x.Kinds, ", ")
		}
		parts = append(parts, text)
	}
	return orNone(parts)
}

func (r Recipe) metalText() string {
	var parts []string
	for _, m := range r.Metal {
		text := fmt.Sprintf("%s: %s wt%% with %s %% Cu", m.Sample, m.Prills.Metal.Text(), plain(m.Copper))
		if m.Iron.Value > 0 {
			text += fmt.Sprintf(" and %s %% Fe", plain(m.Iron))
		}
		if m.Sieved {
			text += ", sieved out before the analysis"
		}
		parts = append(parts, text)
	}
	return orNone(parts)
}

func (r Recipe) assumeText() string {
	var parts []string
	for _, a := range r.Assume {
		parts = append(parts, fmt.Sprintf("%s without analysis: %s %s", a.Kind, a.Content.WithUnit(), a.Element))
	}
	return orNone(parts)
}

func plain(q quantity.Quantity) string { return strconv.FormatFloat(q.Value, 'g', 4, 64) }
