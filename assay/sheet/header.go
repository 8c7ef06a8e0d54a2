package sheet

import (
	"strings"
)

// heading is what a column heading says.
type heading struct {
	text      string // as printed, spaces folded
	analyte   string // ID, or empty
	unit      *unit
	method    string
	basis     string
	marker    *marker // uncertainty or limit, of analyte or, without one, of the column to the left
	footnote  string  // marks such as * that point to a footnote
	titrated  bool    // stated as titrated or wet: ferrous iron
	repaired  bool
	lookalike bool
	oddSpace  bool
	words     bool // the analyte is named by a word that has other meanings too
	ambiguous string
	rest      string // what was not understood
	stated    string // what the caller says of the column
	isStated  bool
}

// parseHeading takes a heading apart: unit, method, basis, uncertainty words
// and footnote marks are peeled off both ends until what is left is, as a
// whole, a known analyte. Anything left over makes the heading unknown.
func parseHeading(raw string) heading {
	s, odd := foldSpaces(raw)
	h := heading{text: s, oddSpace: odd}
	if s == "" || len(s) > 80 {
		return h
	}
	s = foldSigns(s)
	if m, ok := markerOf(s); ok {
		if _, known := aliases().exact[s]; !known { // U, CI, Σ: see repeatedMarkers
			h.marker = &m
			return h
		}
	}
	if u, ok := parseUnit(s); ok {
		h.unit = &u
		return h
	}
	for range 12 {
		if h.recognise(s) {
			return h
		}
		next, ok := h.peel(s)
		if !ok || next == "" {
			break
		}
		s = next
	}
	if m, ok := markerOf(s); ok && h.marker == nil && h.unit != nil { // "1σ, ppm"
		h.marker, s = &m, ""
	}
	h.rest = s
	if h.marker != nil && h.marker.limit == "" && h.analyte == "" && h.rest != "" {
		h.marker = nil // a word such as "error" in an unknown heading
	}
	return h
}

// recognise looks the rest up as a whole.
func (h *heading) recognise(s string) bool {
	if s == "" {
		return false
	}
	m, ok := lookup(s)
	if !ok {
		m, ok = smallSymbol(s, h.unit != nil)
	}
	if !ok {
		m, ok = qualified(s)
	}
	if !ok {
		if id, repaired, found := asPhrase(s); found {
			m, ok = match{id: id, repaired: repaired}, true
		}
	}
	if !ok {
		return false
	}
	switch strings.TrimSpace(s) {
	case "Fe0", "Cu0":
		h.ambiguous = "may be the metal, or the oxide typed with a zero"
	case "CO":
		if h.unit == nil || (h.unit.name != "ppm" && h.unit.name != "ppb") {
			h.ambiguous = "may be cobalt or carbon monoxide"
		}
	case "CuS":
		h.ambiguous = "may be covellite or soluble copper"
	}
	h.analyte = m.id
	h.repaired = h.repaired || m.repaired
	h.lookalike = h.lookalike || m.lookalike
	h.words = m.words
	if strings.Contains(strings.ToLower(s), "titr") || strings.Contains(strings.ToLower(s), "(wet)") || strings.Contains(strings.ToLower(s), "ferrous") || strings.Contains(strings.ToLower(s), "ferric") {
		h.titrated = true
	}
	return true
}

// qualified reads "Cu (acid soluble)" and "S (sulphide)" as the spellings
// "acid soluble Cu" and "sulphide S".
func qualified(s string) (match, bool) {
	if n := len(s); n < 4 || s[n-1] != ')' {
		return match{}, false
	}
	open := matchingBracket(s)
	if open <= 0 {
		return match{}, false
	}
	base, in := strings.TrimSpace(s[:open]), s[open+1:len(s)-1]
	if m, ok := lookup(in); ok && isFormula(m.id) && !m.words && namesSubstance(base) {
		return m, true
	}
	if m, ok := lookup(in + " " + base); ok {
		return m, true
	}
	return lookup(base + " " + in)
}

// namesSubstance reports "Silica", "Silicon dioxide", "Kupfer": a name in front
// of its own formula in brackets. A word that says which part of the substance
// is meant ("soluble") is none.
func namesSubstance(s string) bool {
	words := strings.Fields(strings.ToLower(s))
	if n := len(words); n == 2 && strings.HasSuffix(words[1], "oxide") {
		words = words[:1]
	}
	if len(words) != 1 || len(words[0]) < 3 || partWords[words[0]] {
		return false
	}
	for _, r := range words[0] {
		if r < 'a' || r > 'z' {
			return false
		}
	}
	return true
}

var partWords = set("free", "acid", "soluble", "insoluble", "residual", "total", "tot", "combined", "bound", "metallic", "metal", "sulphide", "sulfide", "sulphate", "sulfate",
	"water", "moisture", "native", "ferrous", "ferric", "titrated", "titr", "wet", "dry", "reactive", "quartz", "organic", "inorganic", "carbonate", "normalised", "normalized", "norm", "corrected")

// asPhrase reads "total iron as FeO", "Fe (as Fe2O3)", "Total Fe2O3",
// "Fe2O3 total", "tot. FeO".
func asPhrase(s string) (id string, repaired, ok bool) {
	flat := bracketSigns.Replace(s)
	words := strings.Fields(flat)
	var rest []string
	total, as := false, -1
	for _, w := range words {
		switch strings.ToLower(strings.Trim(w, ".")) {
		case "total", "tot", "ges", "gesamt", "t", "all", "totale", "insgesamt":
			total = true
		case "as", "als", "calc":
			as = len(rest)
		case "expressed", "reported", "calculated":
		default:
			rest = append(rest, strings.TrimPrefix(w, "Σ"))
			total = total || strings.HasPrefix(w, "Σ")
		}
	}
	if as > 0 && as < len(rest) {
		of, ok1 := lookup(strings.Join(rest[:as], " "))
		in, ok2 := lookup(strings.Join(rest[as:], " "))
		if ok1 && ok2 && total && in.id == "Fe" { // "Fe2O3 (as total iron)"
			id, ok = totalForm(of.id)
			return id, of.repaired, ok
		}
		if ok1 && ok2 {
			if id, ok := asForm(of.id, in.id); ok {
				return id, of.repaired || in.repaired, true
			}
		}
		return "", false, false
	}
	if !total || len(rest) == 0 || len(rest) == len(words) {
		return "", false, false
	}
	m, found := lookup(strings.Join(rest, " "))
	if !found {
		return "", false, false
	}
	id, ok = totalForm(m.id)
	return id, m.repaired, ok
}

var bracketSigns = strings.NewReplacer("(", " ", ")", " ", "[", " ", "]", " ", "_", " ", ",", " ")
