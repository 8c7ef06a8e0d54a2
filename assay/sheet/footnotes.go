package sheet

import (
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
			switch {
			case strings.Contains(w, "2σ"), strings.Contains(w, "2 σ"), strings.Contains(w, "2 sigma"), strings.Contains(w, "2sigma"), strings.Contains(w, "two sigma"), strings.Contains(w, "two standard"), strings.Contains(w, "2sd"), strings.Contains(w, "k=2"), strings.Contains(w, "k = 2"):
				t.sigma = 2
			case strings.Contains(w, "1σ"), strings.Contains(w, "1 σ"), strings.Contains(w, "1 sigma"), strings.Contains(w, "1sigma"), strings.Contains(w, "one sigma"), strings.Contains(w, "one standard"), strings.Contains(w, "1sd"), strings.Contains(w, "k=1"), strings.Contains(w, "k = 1"):
				t.sigma = 1
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

// leadingMarks splits "* total iron as FeO" and "1) by titration".
func leadingMarks(s string) (marks, text string) {
	rest := strings.TrimLeft(s, "*†‡§¹²³")
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
