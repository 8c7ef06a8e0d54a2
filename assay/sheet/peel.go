package sheet

import (
	"regexp"
	"strings"
)

// peel takes one piece off the end or the start of s.
func (h *heading) peel(s string) (rest string, ok bool) {
	s = strings.TrimRight(s, " _,;:")
	if r := strings.TrimRight(s, "*†‡§¹"); r != s {
		h.footnote += s[len(r):]
		return strings.TrimSpace(r), true
	}
	if rest, ok := h.peelCall(s); ok {
		return rest, true
	}
	if m := heatedTo.FindStringSubmatch(s); m != nil {
		if found, ok := lookup(m[1]); ok && (found.id == "LOI" || found.id == "GOI" || found.id == "H2O-") {
			return m[1], true
		}
	}
	if n := len(s); n > 2 && (s[n-1] == ')' || s[n-1] == ']') {
		if open := matchingBracket(s); open > 0 && h.take(s[open+1:n-1]) {
			return strings.TrimSpace(s[:open]), true
		}
	}
	for i := 1; i < len(s); i++ { // the longest piece first: "mg kg-1", "wt. %"
		if strings.IndexByte(" _,-/±", s[i]) < 0 && s[i] != 0xC2 {
			continue
		}
		tail := strings.TrimLeft(s[i:], " _,")
		switch s[i] {
		case '-':
			if tail = s[i+1:]; !isMethod(tail) {
				continue
			}
		case '/': // "Cu / ppm", quantity over unit
			tail = strings.TrimLeft(s[i+1:], " ")
			if _, ok := parseUnit(tail); !ok {
				continue
			}
		}
		if tail != "" && h.take(tail) {
			return strings.TrimRight(s[:i], " _,"), true
		}
	}
	for i := len(s) - 1; i > 0; i-- { // the longest lead first: "mg/kg Cu"
		if strings.IndexByte(" _,-", s[i]) < 0 {
			continue
		}
		lead := strings.TrimRight(s[:i], " _,")
		if s[i] == '-' && !isMethod(lead) {
			continue
		}
		if lead != "" && h.take(lead) {
			return strings.TrimLeft(s[i+1:], " _,"), true
		}
	}
	for _, lead := range []string{"±", "+/-", "σ"} {
		if rest, found := strings.CutPrefix(s, lead); found && h.take(lead) {
			return strings.TrimSpace(rest), true
		}
	}
	return h.peelGlued(s)
}

// heatedTo matches the temperature behind a loss: "LOI 1000 °C", "LOI (950)".
var heatedTo = regexp.MustCompile(`^(.*?)[ _]*(?:@|at)?[ _]*\(?[1-9]\d{1,3} ?(?:°? ?C)?\)?$`)

// peelCall reads "u(SiO2)", "U(SiO2)", "σ(Cu)", "sd(Fe)", "LOD(Cu)".
func (h *heading) peelCall(s string) (string, bool) {
	open := strings.IndexByte(s, '(')
	if open <= 0 || open > 12 || s[len(s)-1] != ')' || matchingBracket(s) != open || h.marker != nil {
		return "", false
	}
	if s[:open] == "w" { // mass fraction, ISO 80000-9
		return s[open+1 : len(s)-1], true
	}
	m, ok := markerOf(s[:open])
	if !ok {
		return "", false
	}
	if _, isUnit := parseUnit(s[open:]); isUnit {
		return "", false
	}
	h.marker = &m
	return s[open+1 : len(s)-1], true
}

// peelGlued takes off a unit that is written on to the name: "SiO2wt%".
func (h *heading) peelGlued(s string) (string, bool) {
	if h.unit != nil {
		return "", false
	}
	for i := 1; i < len(s); i++ {
		u, ok := parseUnit(s[i:])
		if !ok || len(s[i:]) > 8 {
			continue
		}
		if _, known := lookup(s[:i]); known {
			h.unit = &u
			h.repaired = h.repaired || s[i:] != "%"
			return s[:i], true
		}
	}
	return "", false
}

// take understands one piece of a heading, if it can.
func (h *heading) take(piece string) bool {
	piece = strings.TrimSpace(piece)
	if u, ok := parseUnit(piece); ok && h.unit == nil {
		h.unit = &u
		return true
	}
	if m, ok := markerOf(piece); ok && h.marker == nil && piece != "s" && piece != "U" && piece != "u" {
		h.marker = &m
		return true
	}
	if h.marker != nil && (piece == "U" || piece == "u") { // "Ni U (k=2)"
		return true
	}
	switch strings.ToLower(piece) {
	case "concentration", "conc", "conc.", "content", "result", "value":
		return true
	}
	if b, ok := basisOf(piece); ok && h.basis == "" {
		h.basis = b
		return true
	}
	if isMethod(piece) && h.method == "" {
		h.method = strings.Trim(piece, "()[] ")
		if strings.HasPrefix(strings.ToLower(h.method), "titr") || strings.EqualFold(h.method, "wet") {
			h.titrated = true
		}
		return true
	}
	// "(XRF, wt%)": two pieces in one bracket.
	if a, b, two := strings.Cut(piece, ","); two && strings.TrimSpace(a) != "" && strings.TrimSpace(b) != "" {
		saved := *h
		if h.take(a) && h.take(b) {
			return true
		}
		*h = saved
	}
	// "1σ, ppm" and "± 1σ %" without a comma.
	if a, b, two := strings.Cut(piece, " "); two && h.marker == nil && h.unit == nil {
		m, okM := markerOf(a)
		u, okU := parseUnit(b)
		if okM && okU && len(a) > 1 {
			h.marker, h.unit = &m, &u
			return true
		}
	}
	return false
}

// matchingBracket returns where the bracket that ends s was opened, or -1.
func matchingBracket(s string) int {
	depth := 0
	for i := len(s) - 1; i >= 0; i-- {
		switch s[i] {
		case ')', ']':
			depth++
		case '(', '[':
			if depth--; depth == 0 {
				return i
			}
		}
	}
	return -1
}
