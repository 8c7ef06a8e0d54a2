package sheet

import (
	"smeltbook/assay/source"
)

// fileStyle is the decimal mark of a file as its own numbers show it.
type fileStyle struct{ marks marks }

// evidence counts what the numbers of a file, or of a column, show.
type evidence struct {
	point, comma int
	open         []openToken // spellings that show nothing
}

type openToken struct{ sheet, ref, text string }

// look takes in one token. Numbers may be inside censored values: "< 0,05".
func (e *evidence) look(text, sheet, ref string) {
	s, ok := numberLike(text)
	if !ok {
		return
	}
	kind, mark := shapeOf(s)
	if kind == shapeGrouping {
		if mark == '.' {
			mark = ','
		} else {
			mark = '.'
		}
	}
	switch {
	case kind == shapePlain:
	case kind == shapeOpen:
		if len(e.open) < 2 || e.open == nil {
			e.open = append(e.open, openToken{sheet, ref, text})
		}
	case mark == '.':
		e.point++
	default:
		e.comma++
	}
}

// marks returns the mark that the evidence is for; undecided when it shows
// nothing or as much for the one as for the other.
func (e *evidence) marks() marks {
	switch {
	case e.point > e.comma:
		return marks{'.'}
	case e.comma > e.point:
		return marks{','}
	}
	return marks{}
}

// numberLike cuts a token down to its digits and marks; ok is false for
// tokens that are no number of any spelling.
func numberLike(text string) (string, bool) {
	if len(text) == 0 || len(text) > 48 {
		return "", false
	}
	s, _ := foldSpaces(text)
	for s != "" {
		if s[0] >= '0' && s[0] <= '9' || s[0] == '.' || s[0] == ',' {
			break
		}
		r := []rune(s)[0]
		if !isLead(r) {
			return "", false
		}
		s = s[len(string(r)):]
	}
	end := 0
	for end < len(s) && (s[end] >= '0' && s[end] <= '9' || s[end] == '.' || s[end] == ',' || s[end] == '\'' || s[end] == ' ') {
		end++
	}
	for end > 0 && s[end-1] == ' ' {
		end--
	}
	digits, ok := s[:end], false
	for i := 0; i < len(digits); i++ {
		ok = ok || digits[i] >= '0' && digits[i] <= '9'
	}
	if !ok {
		return "", false
	}
	switch rest := s[end:]; {
	case rest == "":
	case rest[0] == ' ', rest[0] == '%', rest[0] == ')', rest[0] == '*', rest[0] == '?', rest[0] == '(':
	case len(rest) > 1 && (rest[:2] == "±" || rest[:2] == "+/"):
	default:
		return "", false
	}
	if shape, _ := shapeOf(digits); shape == shapeGrouping {
		if _, _, ok := ungroup(digits); !ok {
			return "", false // 1.2.3 is a date or a section number
		}
	}
	return digits, true
}

// isLead reports signs that may stand before a number in a cell.
func isLead(r rune) bool {
	switch r {
	case '<', '>', '≤', '≥', '‹', '›', '＜', '＞', '~', '≈', '(', '[', '+', '-', '−', '–', ' ', '±':
		return true
	}
	return false
}

// decideDecimals finds the decimal mark of the file from all its texts. True
// number cells say nothing, because programs store them with a point.
func (r *reader) decideDecimals(grids []*grid) {
	var e evidence
	for _, g := range grids {
		for row := range g.rows {
			if g.hiddenRows[row] {
				continue
			}
			for c, cell := range g.rows[row] {
				if cell.kind == kindText && !g.hiddenCols[c] {
					e.look(cell.text, g.sheet, refOf(row, c))
				}
			}
		}
	}
	style := fileStyle{marks: e.marks()}
	stated := false
	for _, g := range grids {
		g.style = style
		if d := r.opt.reading(g.sheet).Decimal; d != "" {
			g.style.marks = marks{d[0]}
			stated = true
		}
	}
	if style.marks.decimal == 0 && len(e.open) > 0 && !stated {
		a := e.open[0]
		b := ""
		if len(e.open) > 1 {
			b = ` and "` + clip(e.open[1].text) + `"`
		}
		r.note(source.Error, "DECIMAL_UNDECIDED", r.cellAt(a.sheet, a.ref), `"%s"%s may be thousands or decimals, and nothing in the file decides it; state the decimal mark for this sheet`, clip(a.text), b)
	}
}
