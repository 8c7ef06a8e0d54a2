package sheet

import "strings"

// Words of headings and rows, as laboratories write them in several
// languages; common practice. All are in the reduced form of word.
var (
	nameWords = rank("sample", "sample id", "sampleid", "sample no", "sample number", "sample name", "specimen", "specimen id", "specimen no",
		"probe", "proben-nr", "proben nr", "probennummer", "échantillon", "echantillon", "campione", "muestra",
		"fragment", "frag no", "fragment no", "id", "name", "label", "field no", "lab no", "lab id", "lab number", "no", "nr", "parameter", "analyte", "element", "oxide", "component")
	unitWords   = set("unit", "units", "einheit", "einheiten", "unité", "unités", "unite", "unità", "unidad")
	methodWords = set("method", "technique", "methode", "méthode", "metodo", "analytical method")
	metaWords   = set("type", "material", "matrix", "sample type", "description", "date", "date of analysis", "time", "duration", "reading no", "reading",
		"operator", "remarks", "remark", "note", "notes", "comment", "comments", "context", "find spot", "findspot", "site", "run", "replicate", "rep", "batch",
		"lab no", "field no", "mode", "instrument", "live time", "counting time", "weight", "mass", "flag", "quality", "bemerkung", "bemerkungen", "datum", "kind", "phase", "area", "point", "spot", "n")
	pointWords = set("spot", "point", "area", "reading no", "reading", "analysis", "analysis no", "run")
	runWords   = set("run", "replicate", "rep", "repeat", "aliquot", "split", "measurement", "wiederholung")
	kindWords  = set("type", "kind", "sample type", "role", "material", "matrix")
	statWords  = set("mean", "average", "avg", "mw", "mittelwert", "mittel", "moyenne", "media", "sd", "s d", "stdev", "st dev", "std dev", "stddev", "standard deviation", "s", "1s", "2s", "1σ", "2σ",
		"rsd", "rsd %", "%rsd", "% rsd", "rsd%", "cv", "min", "minimum", "max", "maximum", "median", "n", "count", "range", "var", "variance", "sem", "se", "geometric mean", "geomean", "stabw", "std abw")
	statLeads = []string{"mean ", "average ", "avg ", "mittelwert ", "median ", "std dev ", "stdev ", "standard deviation ", "rsd ", "sd ("}
	// What a producer states of a reference material, beside its measurement.
	certifiedWords = set("certified", "certified value", "certified values", "cert", "cert value", "recommended", "recommended value", "recommended values",
		"reference value", "reference values", "accepted value", "accepted values", "accepted", "expected", "expected value", "target", "target value", "nominal", "literature value", "soll", "sollwert", "zertifiziert")
	// Titles over rows that are no samples.
	controlTitles = set("reference material", "reference materials", "certified reference material", "certified reference materials", "crm", "crms", "standards", "standard", "quality control", "qc", "controls", "blanks",
		"control samples", "quality control samples", "check standards", "secondary standards", "reference standards", "standard reference materials")
	limitWords = map[string]string{
		"lod": "LOD", "lld": "LOD", "dl": "LOD", "mdl": "LOD", "det limit": "LOD", "detection limit": "LOD", "detection limits": "LOD", "det lim": "LOD", "limit of detection": "LOD", "nwg": "LOD", "nachweisgrenze": "LOD",
		"rl": "LOD", "lor": "LOD", "limit of reporting": "LOD", "reporting limit": "LOD", "limit": "LOD", "d l": "LOD", "ld": "LOD", "lower limit of detection": "LOD", "limite de détection": "LOD",
		"loq": "LOQ", "bg": "LOQ", "limit of quantification": "LOQ", "quantification limit": "LOQ", "bestimmungsgrenze": "LOQ",
	}
)

func set(words ...string) map[string]bool {
	m := make(map[string]bool, len(words))
	for _, w := range words {
		m[w] = true
	}
	return m
}

// rank numbers the words, the first being the surest.
func rank(words ...string) map[string]int {
	m := make(map[string]int, len(words))
	for i, w := range words {
		m[w] = i + 1
	}
	return m
}

// statistics reports names of rows that hold a mean, a deviation or a count.
func statistics(name string) bool {
	w := word(name)
	if statWords[w] {
		return true
	}
	for _, lead := range statLeads {
		if strings.HasPrefix(w, lead) {
			return true
		}
	}
	return false
}

// certified reports names of rows that hold what a producer states of a
// reference material: "certified", "BHVO-2 (cert.)".
func certified(name string) bool {
	w := word(bracketSigns.Replace(name))
	for w != "" {
		if certifiedWords[w] {
			return true
		}
		_, rest, more := strings.Cut(w, " ")
		if !more {
			break
		}
		w = rest
	}
	return false
}

// controlTitle reports a title over rows that are controls: "Reference
// materials", "QC (2 of 9)".
func controlTitle(s string) bool {
	s, _, _ = strings.Cut(s, "(")
	return controlTitles[word(strings.Trim(s, " :-–—*"))]
}

// limitRow reports names of rows that hold limits: "LOD", "Det. limit (ppm)".
func limitRow(name string) (what string, u unit, hasUnit, ok bool) {
	s := name
	if open := strings.LastIndexAny(s, "(["); open > 0 {
		if v, isUnit := parseUnit(strings.TrimSpace(s[open:])); isUnit {
			s, u, hasUnit = s[:open], v, true
		}
	}
	what, ok = limitWords[word(s)]
	return what, u, hasUnit, ok
}
