package sheet

import (
	"regexp"
	"strings"

	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// readFootnotes takes from the texts around a table what they say about its
// numbers: what a mark means, what "n.d." stands for, how many standard
// deviations an error is, on which basis all of it is stated.
func (t *tableReader) readFootnotes() {
	texts := append(append([]string{}, t.table.Title...), t.table.Footnotes...)
	texts = append(texts, t.remarks...)
	for _, s := range texts {
		if marks, text := leadingMarks(s); marks != "" {
			t.notes[marks] = text
		}
		t.meaningOfND(s)
		w := word(s)
		if strings.Contains(w, "error") || strings.Contains(w, "uncertaint") || strings.Contains(w, "±") || strings.Contains(w, "+/-") {
			if k := coverage(w); k > 0 {
				t.sigma = k
			}
			if strings.Contains(w, "<lod") && (strings.Contains(w, "limit") || strings.Contains(w, "is the lod") || strings.Contains(w, "= lod")) {
				t.errLOD = true
			}
		}
		t.basis(s)
	}
	if t.reading.Nd != "" {
		t.nd = string(ndClass(t.reading.Nd))
	}
	if b, ok := basisOf(t.reading.Basis); ok {
		for i := range t.cols {
			t.cols[i].Basis = b
		}
	}
	for i := range t.cols {
		if c := &t.cols[i]; c.head.footnote != "" || strings.HasSuffix(c.head.text, "*") {
			mark := c.head.footnote
			if mark == "" {
				mark = "*"
			}
			if text := t.notes[mark]; text != "" && c.Reason == "" {
				c.Reason = mark + " " + text
			}
		}
	}
}

// coverageWords matches how many standard deviations an error is: "2σ",
// "1 sigma", "1s", "two standard deviations", "k = 2".
var coverageWords = regexp.MustCompile(`(?:^|[^\pL\d.])(?:(1|2|one|two)[ -]?(?:σ|s\.?d\.?|s|sigmas?|standard[ -]deviations?|standard)|k ?= ?(1|2))(?:[^\pL\d]|$)`)

// coverage returns the standard deviations that a text, in small letters, says
// an error is; 0 where it does not say.
func coverage(w string) float64 {
	m := coverageWords.FindStringSubmatch(w)
	switch {
	case m == nil:
		return 0
	case m[1] == "2", m[1] == "two", m[2] == "2":
		return 2
	}
	return 1
}

// basis applies what a text says of the basis to the columns it speaks of. A
// moisture is on the powder as received by its nature, so a statement for all
// results leaves it alone.
func (t *tableReader) basis(text string) {
	for _, b := range basisInText(text) {
		for i := range t.cols {
			c := &t.cols[i]
			if c.Role != RoleAnalyte || c.Basis != "" || (b.analyte == "" && c.Analyte == "H2O-") || (b.analyte != "" && b.analyte != c.Analyte) {
				continue
			}
			c.Basis = b.basis
			t.tally.habit(source.Note, "BASIS", c.Ref, "the basis of these results was taken from a text of the sheet (%s)")
		}
	}
}

// footnoteMarks are the signs that refer to a footnote.
const footnoteMarks = "*†‡§¹²³"

// leadingMarks splits "* total iron as FeO" and "1) by titration".
func leadingMarks(s string) (marks, text string) {
	rest := strings.TrimLeft(s, footnoteMarks)
	if rest != s {
		return s[:len(s)-len(rest)], strings.TrimLeft(rest, " :=")
	}
	if len(s) > 2 && s[1] == ')' {
		return s[:2], strings.TrimSpace(s[2:])
	}
	return "", ""
}

// ndClass reads what the caller says that "n.d." means.
func ndClass(s string) quantity.Class {
	switch word(s) {
	case "not detected":
		return quantity.NotFound
	case "not analysed", "not analyzed", "not determined":
		return quantity.NotRun
	}
	return ""
}

func (t *tableReader) meaningOfND(s string) {
	for _, clause := range strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return r == ';' || r == ',' }) {
		key, meaning, found := strings.Cut(clause, "=")
		if !found {
			key, meaning, found = strings.Cut(clause, ":")
		}
		if !found || censorKey(key) != "nd" {
			continue
		}
		switch {
		case strings.Contains(meaning, "determined"), strings.Contains(meaning, "analys"), strings.Contains(meaning, "analyz"), strings.Contains(meaning, "measured"):
			t.nd = string(quantity.NotRun)
		case strings.Contains(meaning, "detect"), strings.Contains(meaning, "found"):
			t.nd = string(quantity.NotFound)
		case strings.Contains(meaning, "below"):
			t.nd = string(quantity.Below)
		}
	}
}
