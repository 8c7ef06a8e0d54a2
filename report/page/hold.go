package page

import (
	"regexp"
	"strings"

	"smeltbook/assay/source"
)

// uncertain is a value with its ±, and the unit or the sign behind.
var uncertain = regexp.MustCompile(`\d ± \d[\d.]*( (?:%|wt%|°C|°F|mm²?|cm³?|m³?|µm|kg|g|mg|h|min|Pa·s|bar|L|mol)(?:[^\p{L}]|$))?`)

// hold keeps a value, its ± and its unit on one line.
func hold(s string) string {
	if !strings.Contains(s, " ± ") {
		return s
	}
	return uncertain.ReplaceAllStringFunc(s, func(m string) string {
		last := ""
		if n := len(m) - 1; n > 0 && m[n] == ' ' { // what follows the unit stays free
			m, last = m[:n], " "
		}
		return strings.ReplaceAll(m, " ", "\u00a0") + last
	})
}

func holdAll(list []string) []string {
	out := make([]string, len(list))
	for i, s := range list {
		out[i] = hold(s)
	}
	return out
}

// held returns a part whose sentences are held together; its cells are not
// touched, for they break nowhere.
func held(p Part) Part {
	switch p := p.(type) {
	case *Figure:
		c := *p
		c.Caption = hold(c.Caption)
		return &c
	case *Photographs:
		c := *p
		c.Caption, c.Notes = hold(c.Caption), holdAll(c.Notes)
		return &c
	case *Table:
		c := *p
		c.Caption, c.Notes = hold(c.Caption), holdAll(c.Notes)
		return &c
	case *Spread:
		c := *p
		c.Caption, c.Notes = hold(c.Caption), holdAll(c.Notes)
		return &c
	case *Text:
		c := &Text{}
		for _, runs := range p.Paragraphs {
			copied := make([]Run, len(runs))
			for i, r := range runs {
				r.Text = hold(r.Text)
				copied[i] = r
			}
			c.Paragraphs = append(c.Paragraphs, copied)
		}
		return c
	case *Notices:
		c := &Notices{List: append(source.Notices{}, p.List...)}
		for i := range c.List {
			c.List[i].Message = hold(c.List[i].Message)
		}
		return c
	}
	return p
}
