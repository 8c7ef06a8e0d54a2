package tables

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// latexForm is how a table is laid out for LaTeX.
type latexForm struct {
	columns []string // as the environment wants them
	letter  []int    // width of each column
	long    bool     // breaks over pages
	turned  bool     // lies on its side
	small   int      // 0 for few letters in a row, 1 for more, 2 for many
}

// Widths in letters: of a text that may be broken, of the least column, of rows
// that are set smaller, and of those that only fit along a page.
const (
	looseLetters  = 28
	leastLetters  = 9
	smallLetters  = 72
	scriptLetters = 86
	turnedLetters = 104
)

// form lays the table out: numbers flush right, short texts flush left, long
// texts broken.
func (t Table) form() latexForm {
	f := latexForm{long: len(t.Rows) > longRows}
	whole := 0
	for i, c := range t.Columns {
		most := 0
		for _, r := range t.Rows {
			most = max(most, r.Cells[i].letters())
		}
		switch {
		case most > looseLetters:
			most = looseLetters
			f.columns = append(f.columns, ">{\\raggedright\\arraybackslash}p{%s\\linewidth}")
		case c.Numeric:
			f.columns = append(f.columns, "r")
		default:
			f.columns = append(f.columns, "l")
		}
		width := most
		for _, line := range headLines(c, most) {
			width = max(width, utf8.RuneCountInString(line))
		}
		f.letter = append(f.letter, most)
		whole += width + 2
	}
	switch {
	case whole > turnedLetters:
		f.small, f.turned = 2, true
	case whole > scriptLetters:
		f.small = 2
	case whole > smallLetters:
		f.small = 1
	}
	for i, c := range f.columns {
		if strings.Contains(c, "%s") {
			f.columns[i] = fmt.Sprintf(c, fmt.Sprintf("%.2f", min(0.45, float64(looseLetters)/float64(max(whole, smallLetters)))))
		}
	}
	return f
}

// letters is the width of a cell: value, ± and uncertainty, or what is below.
func (c Cell) letters() int {
	n := utf8.RuneCountInString(c.Value.Text)
	if !c.U.Empty() {
		n += 2 + utf8.RuneCountInString(c.U.Text)
	}
	return max(n, utf8.RuneCountInString(c.Below))
}

// headLines breaks a head into lines about as wide as its column.
func headLines(c Column, letters int) []string {
	var lines []string
	for _, part := range []string{strings.TrimSuffix(c.Head, rowHead), c.Sub, c.Unit} {
		line := ""
		for _, word := range strings.Fields(part) {
			if line != "" && utf8.RuneCountInString(line+" "+word) > max(letters, leastLetters) {
				lines, line = append(lines, line), ""
			}
			line = strings.TrimSpace(line + " " + word)
		}
		if line != "" {
			lines = append(lines, line)
		}
	}
	return lines
}

// around returns what the table stands between.
func (f latexForm) around() (begin, end string) {
	switch {
	case f.long && f.turned:
		return "\\begin{landscape}\n\\begingroup", "\\endgroup\n\\end{landscape}"
	case f.long:
		return "\\begingroup", "\\endgroup"
	case f.turned:
		return "\\begin{sidewaystable}\n\\centering", "\\end{sidewaystable}"
	}
	return "\\begin{table}[htbp]\n\\centering", "\\end{table}"
}

func (f latexForm) packages() []string {
	p := []string{"array", "booktabs"}
	if f.long {
		p = append(p, "longtable")
	}
	switch {
	case f.turned && f.long:
		p = append(p, "lscape")
	case f.turned:
		p = append(p, "rotating")
	}
	return p
}

// letters sets the size of the table's letters.
func (f latexForm) letters() string {
	return []string{"\\small", "\\footnotesize\\setlength{\\tabcolsep}{4pt}", "\\scriptsize\\setlength{\\tabcolsep}{3pt}"}[f.small]
}
