package figure

import (
	"regexp"
	"strings"
)

// formulaWord is a run of element symbols and brackets with counts, such as
// Fe2O3 or Ca(OH)2.
var formulaWord = regexp.MustCompile(`^(?:\(?[A-Z][a-z]?[0-9]*\)?[0-9]*)+$`)

var subscripts = strings.NewReplacer("0", "₀", "1", "₁", "2", "₂", "3", "₃", "4", "₄",
	"5", "₅", "6", "₆", "7", "₇", "8", "₈", "9", "₉")

// Formula prints the counts in chemical formulas as subscripts: "SiO2" becomes
// "SiO₂", "FeO + Al2O3 (wt%)" becomes "FeO + Al₂O₃ (wt%)". Words that are not
// formulas stay as they are. It does not know elements: "A12" passes for a
// formula, so sample names should not be given to it.
func Formula(s string) string {
	var out strings.Builder
	for _, word := range strings.FieldsFunc(s, isBreak) {
		at := strings.Index(s, word)
		out.WriteString(s[:at])
		s = s[at+len(word):]
		if formulaWord.MatchString(word) {
			word = subscripts.Replace(word)
		}
		out.WriteString(word)
	}
	out.WriteString(s)
	return out.String()
}

func isBreak(r rune) bool { return strings.ContainsRune(" +−–-/·,;:=", r) }
