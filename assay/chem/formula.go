package chem

import (
	"fmt"
	"sort"
	"strconv"
	"strings"
)

// Formula is a chemical formula as atoms of each element.
type Formula map[string]float64

// ParseFormula reads a formula such as "Al2O3", "Cu2(OH)2CO3" or "CaC2O4.H2O".
// Groups may be nested; a dot or a centred dot adds a further formula, which
// may start with a number. Counts are whole numbers: "Fe0.95O" is refused, not
// guessed at. It fails on unknown elements and on anything that is not a
// formula.
func ParseFormula(s string) (Formula, error) {
	f := Formula{}
	for term := range strings.SplitSeq(strings.ReplaceAll(s, "·", "."), ".") {
		p := formulaParser{text: term}
		factor, err := p.number()
		var part Formula
		if err == nil {
			part, err = p.group(0)
		}
		if err != nil {
			return nil, fmt.Errorf("formula %q: %w", s, err)
		}
		for e, n := range part {
			f[e] += n * factor
		}
	}
	return f, nil
}

// Mass returns the molar mass in g/mol. Elements are summed in alphabetical
// order, so that equal formulas give equal bits.
func (f Formula) Mass() float64 {
	elements := make([]string, 0, len(f))
	for e := range f {
		elements = append(elements, e)
	}
	sort.Strings(elements)
	var m float64
	for _, e := range elements {
		w, _, _ := AtomicWeight(e)
		m += f[e] * w
	}
	return m
}

const maxFormulaDepth = 8

type formulaParser struct {
	text string
	pos  int
}

func (p *formulaParser) group(depth int) (Formula, error) {
	if depth > maxFormulaDepth {
		return nil, fmt.Errorf("brackets nested deeper than %d", maxFormulaDepth)
	}
	f := Formula{}
	for p.pos < len(p.text) && p.text[p.pos] != ')' {
		part := Formula{}
		switch c := p.text[p.pos]; {
		case c == '(':
			p.pos++
			inner, err := p.group(depth + 1)
			if err != nil {
				return nil, err
			}
			if p.pos == len(p.text) {
				return nil, fmt.Errorf("a bracket is not closed")
			}
			p.pos++
			part = inner
		case c >= 'A' && c <= 'Z':
			e := p.element()
			if _, _, ok := AtomicWeight(e); !ok {
				return nil, fmt.Errorf("no element %q", e)
			}
			part[e] = 1
		default:
			return nil, fmt.Errorf("unexpected %q", p.text[p.pos:])
		}
		n, err := p.number()
		if err != nil {
			return nil, err
		}
		for e, k := range part {
			f[e] += k * n
		}
	}
	if depth == 0 && p.pos < len(p.text) {
		return nil, fmt.Errorf("a bracket is closed that was not opened")
	}
	if len(f) == 0 {
		return nil, fmt.Errorf("no element where one should stand")
	}
	return f, nil
}

func (p *formulaParser) element() string {
	start := p.pos
	p.pos++
	for p.pos < len(p.text) && p.text[p.pos] >= 'a' && p.text[p.pos] <= 'z' {
		p.pos++
	}
	return p.text[start:p.pos]
}

// number reads a count of one to four digits; without digits it is 1.
func (p *formulaParser) number() (float64, error) {
	start := p.pos
	for p.pos < len(p.text) && p.text[p.pos] >= '0' && p.text[p.pos] <= '9' {
		p.pos++
	}
	digits := p.text[start:p.pos]
	if digits == "" {
		return 1, nil
	}
	n, err := strconv.Atoi(digits)
	if err != nil || n == 0 || len(digits) > 4 {
		return 0, fmt.Errorf("a count must be a whole number from 1 to 9999, not %q", digits)
	}
	return float64(n), nil
}
