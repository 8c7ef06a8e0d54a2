package figure

import (
	"regexp"
	"strings"

	"smeltbook/assay/chem"
)

// formulaWord is a run of element symbols and brackets with counts, such as
// Fe2O3, Ca(OH)2 or, for all iron, Fe2O3T. A count of one is not written.
var formulaWord = regexp.MustCompile(`^(?:\(?[A-Z][a-z]?(?:[2-9][0-9]?|1[0-9])?\)?(?:[2-9][0-9]?|1[0-9])?)+$`)

var elementSymbol = regexp.MustCompile(`[A-Z][a-z]?`)

var subscripts = strings.NewReplacer("0", "₀", "1", "₁", "2", "₂", "3", "₃", "4", "₄",
	"5", "₅", "6", "₆", "7", "₇", "8", "₈", "9", "₉")

// Formula prints the counts in chemical formulas as subscripts: "SiO2" becomes
// "SiO₂", "FeO + Al2O3 (wt%)" becomes "FeO + Al₂O₃ (wt%)". Words that are not
// formulas stay as they are, and so do names of samples and firings: a formula
// names two elements or more, or is a gas.
func Formula(s string) string {
	var out strings.Builder
	for _, word := range strings.FieldsFunc(s, isBreak) {
		at := strings.Index(s, word)
		out.WriteString(s[:at])
		s = s[at+len(word):]
		if isFormula(word) {
			word = subscripts.Replace(word)
		}
		out.WriteString(word)
	}
	out.WriteString(s)
	return out.String()
}

func isFormula(word string) bool {
	if !formulaWord.MatchString(word) {
		return false
	}
	symbols := elementSymbol.FindAllString(strings.TrimSuffix(word, "T"), -1)
	for _, s := range symbols {
		if _, _, known := chem.AtomicWeight(s); !known {
			return false
		}
	}
	return len(symbols) > 1 || word == "O2" || word == "N2" || word == "H2"
}

func isBreak(r rune) bool { return strings.ContainsRune(" +−–-/·,;:=", r) }
