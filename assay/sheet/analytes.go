package sheet

import (
	"strings"
	"sync"

	"smeltbook/assay/chem"
)

// match is what a spelling was recognised as.
type match struct {
	id        string
	repaired  bool // a zero for O, an i for l, …
	lookalike bool // letters of another alphabet
	words     bool // an English or other word, not a formula or symbol
}

type aliasTables struct {
	exact, folded, lower map[string]string
	small                map[string]string // formulas in small letters
}

// aliases indexes the spellings of all analytes. Spellings that hold a unit
// are left out: units are taken off headings first.
var aliases = sync.OnceValue(func() aliasTables {
	t := aliasTables{map[string]string{}, map[string]string{}, map[string]string{}, map[string]string{}}
	add := func(m map[string]string, key, id string) {
		if _, taken := m[key]; !taken {
			m[key] = id
		}
	}
	list := chem.Analytes()
	for _, a := range list {
		add(t.exact, a.ID, a.ID)
		add(t.folded, foldAnalyte(a.ID), a.ID)
	}
	for _, a := range list {
		for _, s := range a.Aliases {
			s = strings.TrimSpace(s)
			if s == "" || hasUnit(s) {
				continue
			}
			add(t.exact, s, a.ID)
			add(t.folded, foldAnalyte(s), a.ID)
			if len(s) >= 3 && isWord(s) {
				add(t.lower, strings.ToLower(s), a.ID)
			}
		}
	}
	for _, a := range list { // sheets typed in capitals; elements have their own aliases
		if a.Kind == chem.Oxide || a.Kind == chem.OxideTotal {
			add(t.folded, strings.ToUpper(a.ID), a.ID)
		}
	}
	for _, a := range list {
		key := strings.ToLower(a.ID)
		if len(key) < 2 || a.Formula == "" {
			continue
		}
		if _, twice := t.small[key]; twice || key == "co" {
			t.small[key] = "" // cobalt or carbon monoxide
			continue
		}
		t.small[key] = a.ID
	}
	return t
})

func hasUnit(alias string) bool {
	i := strings.LastIndexAny(alias, " _")
	if i < 0 {
		return false
	}
	_, ok := parseUnit(alias[i+1:])
	return ok
}

// isWord reports spellings that are words ("silica", "loss on ignition"), for
// which the case of letters means nothing.
func isWord(s string) bool {
	if strings.ContainsAny(s, "0123456789()+=*°") {
		return false
	}
	switch strings.ToLower(s) {
	case "loi", "goi", "l.o.i.", "l.o.i", "sum", "total", "bal", "bal.", "insol", "insol.":
		return true
	}
	longest := 0
	for _, w := range strings.Fields(s) {
		r := []rune(w)
		if rest := string(r[1:]); strings.ToLower(rest) != rest {
			return false // capitals inside: FeOT, Fetot as FeO
		}
		longest = max(longest, len(r))
	}
	return longest >= 4
}

// foldAnalyte removes what does not tell analytes apart: spaces, sub- and
// superscripts, look-alike letters, underscores.
func foldAnalyte(s string) string {
	s, _ = foldLookalikes(s)
	s = foldSigns(s)
	return noSpaces.Replace(s)
}

// lookup recognises an analyte by its whole spelling: as it stands, then with
// signs and look-alike letters folded, then with zeros and letters repaired.
// It never matches a part of a word.
func lookup(s string) (match, bool) {
	t := aliases()
	if id, ok := t.exact[s]; ok {
		return describe(s, id), true
	}
	latin, changed := foldLookalikes(s)
	folded := foldAnalyte(s)
	if id, ok := t.folded[folded]; ok {
		m := describe(folded, id)
		m.lookalike = changed
		return m, true
	}
	if id, ok := t.lower[strings.ToLower(strings.TrimSpace(latin))]; ok {
		return match{id: id, words: true, lookalike: changed}, true
	}
	if id := t.small[folded]; id != "" && len(folded) > 2 {
		return match{id: id, repaired: true, lookalike: changed}, true
	}
	for _, r := range repairs(folded) {
		if id, ok := t.folded[r]; ok && isFormula(id) {
			return match{id: id, repaired: true, lookalike: changed}, true
		}
	}
	return match{}, false
}

// smallSymbol reads an element in small letters, "cu" of "cu ppm". Without a
// unit, or where it is a word, it is none.
func smallSymbol(s string, withUnit bool) (match, bool) {
	switch s {
	case "as", "in", "no", "at", "be", "he":
		return match{}, false
	}
	id := aliases().small[s]
	return match{id: id, repaired: true}, id != "" && len(s) == 2 && withUnit
}

// describe finds out whether a known spelling is itself a repair ("Si02") or
// typed in another alphabet.
func describe(s, id string) match {
	m := match{id: id, words: isWord(s) && strings.ToLower(s) != "loi"}
	a, _ := chem.LookupAnalyte(id)
	_, m.lookalike = foldLookalikes(s)
	if a.Formula != "" && strings.Contains(s, "0") && !strings.Contains(s, "(0)") {
		m.repaired = true
	}
	if s == "CI" {
		m.repaired = true
	}
	return m
}

func isFormula(id string) bool {
	a, ok := chem.LookupAnalyte(id)
	return ok && a.Formula != ""
}

// repairs returns the spellings that a typist may have meant: the letter O for
// a zero, an l for a capital i or a one.
func repairs(s string) []string {
	if len(s) > 12 {
		return nil
	}
	var out []string
	seen := map[string]bool{s: true}
	try := func(t string) {
		if !seen[t] {
			seen[t] = true
			out = append(out, t)
		}
	}
	zero := strings.ReplaceAll(s, "0", "O")
	try(zero)
	for _, t := range []string{s, zero} {
		try(strings.ReplaceAll(t, "AI", "Al"))
		try(strings.ReplaceAll(t, "TI", "Ti"))
		try(strings.ReplaceAll(t, "5i", "Si"))
		try(strings.ReplaceAll(t, "SI", "Si"))
		try(strings.ReplaceAll(t, "CI", "Cl"))
		try(strings.ReplaceAll(t, "o", "O"))
	}
	return out
}

func isAnalyte(id string) bool {
	_, ok := chem.LookupAnalyte(id)
	return ok
}

// countsAsAnalyte reports whether an ID is a result of analysis, unlike a
// total, an instrument's balance or a correction.
func countsAsAnalyte(id string) bool {
	a, ok := chem.LookupAnalyte(id)
	return ok && a.Kind != chem.Total && a.Kind != chem.Balance && a.Kind != chem.Correction
}

// totalForm returns the analyte that states all of an element as id does.
func totalForm(id string) (string, bool) {
	switch id {
	case "FeO", "FeOT":
		return "FeOT", true
	case "Fe2O3", "Fe2O3T":
		return "Fe2O3T", true
	case "Fe", "S", "C", "Cu", "H2O", "Mn", "Si", "Al", "Ca", "Mg", "P":
		return id, true
	}
	return "", false
}

// asForm reads "Fe as Fe2O3": the first tells the element, the second the form
// in which all of it is stated.
func asForm(of, as string) (string, bool) {
	a, okA := chem.LookupAnalyte(of)
	b, okB := chem.LookupAnalyte(as)
	if !okA || !okB || a.Element == "" || a.Element != b.Element || b.Formula == "" {
		return "", false
	}
	if t, ok := totalForm(as); ok {
		return t, true
	}
	return as, true
}

var noSpaces = strings.NewReplacer(" ", "", "_", "", "\u00a0", "")
