package notebook

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/text"

	"smeltbook/assay/chem"
)

// formulaInText finds what may be a formula: element symbols with counts and
// brackets.
var formulaInText = regexp.MustCompile(`(?:[A-Z][a-z]?[0-9]*|\((?:[A-Z][a-z]?[0-9]*)+\)[0-9]*)+`)

// setFormulas prints the counts of chemical formulas in the prose below the
// line, as the figures and tables do; not in code and not in links.
func (b *body) setFormulas(doc ast.Node) {
	var texts []*ast.Text
	_ = ast.Walk(doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch n := n.(type) {
		case *ast.Link, *ast.AutoLink, *ast.CodeSpan, *ast.CodeBlock, *ast.FencedCodeBlock:
			return ast.WalkSkipChildren, nil
		case *ast.Text:
			if !n.IsRaw() {
				texts = append(texts, n)
			}
		}
		return ast.WalkContinue, nil
	})
	for _, t := range texts {
		b.setFormulasIn(t)
	}
}

func (b *body) setFormulasIn(t *ast.Text) {
	value := t.Segment.Value(b.src)
	parent, start := t.Parent(), 0
	for _, m := range formulaInText.FindAllIndex(value, -1) {
		word := string(value[m[0]:m[1]])
		if !standsAlone(value, m[0], m[1]) || !isFormula(word) {
			continue
		}
		if m[0] > start {
			parent.InsertBefore(parent, t, ast.NewTextSegment(text.NewSegment(t.Segment.Start+start, t.Segment.Start+m[0])))
		}
		parent.InsertBefore(parent, t, ast.NewString([]byte(subscripts.Replace(word))))
		start = m[1]
	}
	t.Segment = t.Segment.WithStart(t.Segment.Start + start)
}

var subscripts = strings.NewReplacer("0", "₀", "1", "₁", "2", "₂", "3", "₃", "4", "₄", "5", "₅", "6", "₆", "7", "₇", "8", "₈", "9", "₉")

// standsAlone reports whether the word from a to b is not part of a longer one: a
// sample's id or a name. SiO2-rich holds a formula, KR-SO2 does not.
func standsAlone(value []byte, a, b int) bool {
	before, _ := utf8.DecodeLastRune(value[:a])
	after, n := utf8.DecodeRune(value[b:])
	next, _ := utf8.DecodeRune(value[b+n:])
	inWord := func(r rune) bool { return r == '_' || unicode.IsLetter(r) || unicode.IsDigit(r) }
	if a > 0 && (inWord(before) || before == '-') || b < len(value) && inWord(after) {
		return false
	}
	return after != '-' || !inWord(next) || unicode.IsLower(next)
}

// gases are formulas in capitals that are no oxide of an analysis.
const gases = " CO2 SO2 O2 N2 H2 H2S "

// isFormula reports a formula with counts. Capitals and digits alone may as well
// be the name of a trench or a firing, so of those only analytes and gases count.
func isFormula(word string) bool {
	if !strings.ContainsAny(word, "23456789") {
		return false
	}
	if !strings.ContainsAny(word, "abcdefghijklmnopqrstuvwxyz") {
		if strings.Contains(gases, " "+word+" ") {
			return true
		}
		a, known := chem.LookupAnalyte(word)
		return known && a.Formula == word
	}
	f, err := chem.ParseFormula(word)
	return err == nil && len(f) > 1
}
