package page

import (
	"fmt"
	"strings"

	"smeltbook/report/equation"
)

// PlainRuns returns text without its styles.
func PlainRuns(runs []Run) string {
	var b strings.Builder
	for _, r := range runs {
		b.WriteString(r.Text)
	}
	return b.String()
}

// Plain returns an equation in one line, with the meaning of its signs.
func (e *Equation) Plain() string {
	var lines, where []string
	for _, l := range e.Lines {
		text := equation.Text(l)
		if n := len(lines); n > 0 && (strings.HasPrefix(text, "+ ") || strings.HasPrefix(text, "− ")) {
			lines[n-1] += " " + text // it goes on
			continue
		}
		lines = append(lines, text)
	}
	for _, s := range e.Where {
		where = append(where, equation.Text(s.Sign)+" "+PlainRuns(s.Means))
	}
	text := fmt.Sprintf("(%d) %s", e.Number, strings.Join(lines, "; "))
	if len(where) > 0 {
		text += ", where " + strings.Join(where, "; ")
	}
	if source := PlainRuns(e.Source); source != "" {
		text += "; " + source
	}
	return text + "."
}
