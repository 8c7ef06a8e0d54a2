package report

import (
	"unicode"
	"unicode/utf8"

	"smeltbook/report/figure"
)

// formulaText sets the counts of chemical formulas as subscripts.
func formulaText(label string) string { return figure.Formula(label) }

// capital begins a sentence.
func capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}
