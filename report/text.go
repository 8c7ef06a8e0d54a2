package report

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"smeltbook/report/figure"
)

// formulaText sets the counts of chemical formulas as subscripts.
func formulaText(label string) string { return figure.Formula(label) }

// columnHead parts a label at its comma: what follows qualifies the name and
// is set small below it.
func columnHead(label string) (head, sub string) {
	head, sub, _ = strings.Cut(formulaText(label), ", ")
	return head, sub
}

// capital begins a sentence.
func capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}
