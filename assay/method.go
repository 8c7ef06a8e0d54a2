package assay

import (
	"regexp"
	"slices"
	"strings"
)

// Methods of analysis that smeltbook tells apart. Any other word a notebook or
// a sheet gives is kept as it is.
const (
	WetChemistry = "wet chemistry"
	WDXRF        = "WD-XRF"
	XRF          = "XRF"
	ICP          = "ICP"
	AAS          = "AAS"
	SEMEDS       = "SEM-EDS"
	HandheldXRF  = "handheld XRF"
	Unstated     = "method not stated"
)

// preference orders the methods from the one trusted most for a bulk analysis
// to the one trusted least (common practice). A recipe's own list comes first.
var preference = []string{WetChemistry, WDXRF, XRF, ICP, AAS, SEMEDS, Unstated, HandheldXRF}

// methodWords recognises a method in a column tag, a "method" column, a title
// or the name of a file or sheet, tried in this order.
var methodWords = []struct {
	method string
	words  *regexp.Regexp
}{
	{HandheldXRF, regexp.MustCompile(`(?i)hand-?\s?held|portable|p-?xrf|hh-?xrf`)},
	{WDXRF, regexp.MustCompile(`(?i)wd-?\s?xrf|wavelength|fused[ -]bead`)},
	{SEMEDS, regexp.MustCompile(`(?i)\bsem\b|\beds\b|\bedx\b|sem-?eds|area scan|microprobe|\bepma\b`)},
	{WetChemistry, regexp.MustCompile(`(?i)\bwet\b|wet[-_ ]?chem|titr|gravim|\bgrav\.?\b|photomet`)},
	{ICP, regexp.MustCompile(`(?i)\bicp`)},
	{AAS, regexp.MustCompile(`(?i)\baas\b|atomic absorption`)},
	{XRF, regexp.MustCompile(`(?i)xrf|x-?ray fluorescence`)},
}

// recogniseMethod returns the first method named in the texts, tried in
// order; texts are given from the closest to the value to the farthest.
func recogniseMethod(texts ...string) string {
	for _, text := range texts {
		for _, m := range methodWords {
			if text != "" && m.words.MatchString(text) {
				return m.method
			}
		}
	}
	return Unstated
}

// assumedRelative gives the relative standard uncertainty taken for a value
// whose laboratory states none. The figures are the middle of what is usual
// for each method on silicate powders (common practice; from memory) and every
// use of one is shown in the report.
var assumedRelative = map[string]float64{
	WetChemistry: 0.01,
	WDXRF:        0.015,
	XRF:          0.03,
	ICP:          0.03,
	AAS:          0.03,
	SEMEDS:       0.07,
	HandheldXRF:  0.10,
	Unstated:     0.05,
}

// AssumedRelative returns the relative standard uncertainty taken for values
// of a method that come without one: the notebook's own, else the built-in
// assumption.
func (c Config) AssumedRelative(method string) float64 {
	for _, u := range c.Extra {
		if strings.EqualFold(u.Method, method) {
			return u.Relative
		}
	}
	if r, ok := assumedRelative[method]; ok {
		return r
	}
	return assumedRelative[Unstated]
}

// rank returns the place of a method in the recipe's order of preference;
// less is better.
func (r Recipe) rank(method string) int {
	if i := slices.IndexFunc(r.Prefer, func(m string) bool { return strings.EqualFold(m, method) }); i >= 0 {
		return i - len(r.Prefer)
	}
	if i := slices.Index(preference, method); i >= 0 {
		return i
	}
	return slices.Index(preference, Unstated)
}
