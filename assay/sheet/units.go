package sheet

import (
	"math"
	"strings"
	"sync"
)

// unit is a unit of mass fraction as it is met on assay sheets, or one that is
// known and cannot be used.
type unit struct {
	name   string  // canonical
	factor float64 // to wt%
	refuse string  // why values in it are not read
}

// wt returns x in wt%. Where the factor is one over a whole number it divides,
// which keeps 7100 ppm at 0.71 and not one bit beside it.
func (u unit) wt(x float64) float64 {
	if inverse := math.Round(1 / u.factor); u.factor < 1 && math.Abs(inverse*u.factor-1) < 1e-9 {
		return x / inverse
	}
	return x * u.factor
}

// Spellings are common practice. 1 wt% = 10 000 ppm; the ounces follow from
// 31.1034768 g in 907.18474 kg and in 1000 kg.
var unitSpellings = []struct {
	unit      unit
	spellings string
}{
	{unit{"wt%", 1, ""}, "%|wt%|wt.%|wt. %|wt %|wt-%|wt pct|wtpct|wt. pct.|wt. pct|wt.pct|mass pct|weight%|weight %|mass%|mass %|mass-%|% m/m|% (m/m)|%m/m|m/m %|% w/w|%w/w|w/w %|% wt|%wt|pct|percent|per cent|Gew.-%|Gew.%|Gew. %|Gew-%|Gew%|Ma.-%|Ma.%|Ma%|M.-%|M%|M-%|% masse|% massique|peso %|% peso|% mass fraction|(%)|mass percent|weight percent|wt. percent|g/100g|g/100 g|cg/g|wt percent|%wt.|% by weight|% by mass|% wt."},
	{unit{"fraction", 100, ""}, "kg/kg|g/g|mass fraction|w/w"},
	{unit{"permille", 0.1, ""}, "‰|per mil|permille|g/kg|g kg-1|mg/g|mg g-1|kg/t"},
	{unit{"ppm", 1e-4, ""}, "ppm|PPM|Ppm|ppmw|mg/kg|mg kg-1|mg·kg-1|mg.kg-1|mgkg|mgkg-1|µg/g|ug/g|µg g-1|ug g-1|mcg/g|g/t|gpt|g t-1|g/tonne|mg/Kg"},
	{unit{"ppb", 1e-7, ""}, "ppb|PPB|µg/kg|ug/kg|µg kg-1|ng/g|ng g-1|mg/t"},
	{unit{"oz/tonne", 0.00311034768, ""}, "oz/tonne|oz/mt"},
	{unit{"oz/short ton", 31.1034768 / 9071.8474, ""}, "oz/st|oz/short ton"},
	{unit{"oz/t", 0, "oz/t may mean short, long or metric tons; ask the laboratory and write ppm"}, "oz/t|opt|oz/ton"},
	{unit{"mol%", 0, "mol% cannot be turned into wt% without the whole analysis; use the laboratory's wt%"}, "mol%|mol.%|mol %|mole %|mole%|mol. %"},
	{unit{"at%", 0, "at% is not wt%; use the laboratory's wt%"}, "at%|at.%|at. %|at %|atom %|atom%|atomic %|atomic%"},
	{unit{"mg/L", 0, "a concentration in solution needs volume, dilution and sample mass"}, "mg/L|mg/l|µg/L|µg/l|ug/L|ppm in solution|mg L-1"},
	{unit{"cps", 0, "a count rate is not a concentration"}, "cps|counts|kcps|intensity|counts/s|net counts"},
}

var unitIndex = sync.OnceValue(func() map[string]unit {
	m := map[string]unit{}
	for _, u := range unitSpellings {
		for _, s := range strings.Split(u.spellings, "|") {
			m[unitKey(s)] = u.unit
		}
	}
	return m
})

func unitKey(s string) string { return strings.ReplaceAll(s, " ", "") }

// parseUnit recognises a unit, alone in its text but for one pair of brackets.
func parseUnit(s string) (unit, bool) {
	if len(s) > 64 {
		return unit{}, false
	}
	s, _ = foldSpaces(s)
	s = foldSigns(s)
	for _, t := range []string{s, inBrackets(s)} {
		if t == "" {
			continue
		}
		if u, ok := unitIndex()[unitKey(t)]; ok {
			return u, true
		}
		if u, ok := unitIndex()[unitKey(strings.ToLower(t))]; ok && len(t) > 1 {
			return u, true
		}
	}
	return unit{}, false
}

// inBrackets returns what stands inside brackets that enclose all of s.
func inBrackets(s string) string {
	if len(s) >= 2 && (s[0] == '(' && s[len(s)-1] == ')' || s[0] == '[' && s[len(s)-1] == ']') {
		in := strings.TrimSpace(s[1 : len(s)-1])
		if !strings.ContainsAny(in, "()[]") || strings.HasPrefix(in, "% (") {
			return in
		}
	}
	return ""
}

// statedUnits finds the units that a sentence states for a table: "all in
// % m/m", "Oxides in wt%, trace elements in ppm", or a title ending in a unit
// in brackets. what is "oxides", "elements" or "" for everything.
func statedUnits(text string, title bool) (units map[string]unit) {
	units = map[string]unit{}
	text, _ = foldSpaces(text)
	text = foldSigns(text)
	about := ""
	for _, clause := range splitClauses(text) {
		lower := " " + strings.ToLower(clause) + " "
		switch {
		case strings.Contains(lower, "oxide") || strings.Contains(lower, "major"):
			about = "oxides"
		case strings.Contains(lower, "trace") || strings.Contains(lower, "element") || strings.Contains(lower, "metal"):
			about = "elements"
		case strings.Contains(lower, " all ") || about == "":
			about = ""
		}
		if strings.Contains(lower, "limit") || strings.Contains(lower, "lod") || strings.Contains(lower, "loi ") {
			continue
		}
		if u, ok := unitInClause(clause, title); ok && u.refuse == "" {
			if old, twice := units[about]; twice && old != u {
				u = unit{refuse: "contradictory"}
			}
			units[about] = u
		}
	}
	for about, u := range units {
		if u.refuse != "" {
			delete(units, about)
		}
	}
	return units
}

// splitClauses cuts a sentence at semicolons and at commas and "and" that are
// followed by a word, so that "Oxides in wt%, traces in ppm" falls in two.
func splitClauses(s string) []string {
	s = clauseSigns.Replace(s)
	return strings.Split(s, ";")
}

// unitInClause finds "in UNIT", "as UNIT", "unit: UNIT"; in a title also a
// unit in brackets or at the end.
func unitInClause(clause string, title bool) (unit, bool) {
	words := strings.Fields(clause)
	for i, w := range words {
		lead := strings.ToLower(strings.TrimRight(w, ":="))
		if lead != "in" && lead != "as" && lead != "unit" && lead != "units" && lead != "en" {
			continue
		}
		for n := min(3, len(words)-i-1); n > 0; n-- {
			if u, ok := parseUnit(strings.TrimRight(strings.Join(words[i+1:i+1+n], " "), ".;,:")); ok {
				return u, true
			}
		}
	}
	if !title {
		return unit{}, false
	}
	if open := strings.LastIndexAny(clause, "(["); open >= 0 {
		if end := strings.IndexAny(clause[open:], ")]"); end > 0 {
			in := clause[open+1 : open+end]
			if u, ok := parseUnit(in); ok {
				return u, true
			}
			if u, ok := unitInClause(in, false); ok {
				return u, true
			}
		}
	}
	for n := min(3, len(words)); n > 0; n-- {
		if u, ok := parseUnit(strings.Join(words[len(words)-n:], " ")); ok {
			return u, true
		}
	}
	return unit{}, false
}

var clauseSigns = strings.NewReplacer(" and ", ";", " und ", ";", ", ", ";")
