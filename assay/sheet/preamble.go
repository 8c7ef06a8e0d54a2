package sheet

import "regexp"

// timeStart is a text that begins as a time of day or a date does.
var timeStart = regexp.MustCompile(`^\d{1,4}[:./-]\d{1,2}([:./-]\d{1,4})?([ T]|$)`)

// preambleAbove reports a row of few texts among the lines that a logger
// writes above its table, "Model; four channels": the table's headings follow
// within forty rows, and every row below them begins with a time or a number
// and the first holds numbers behind it.
func preambleAbove(v view, row int) bool {
	if logRow(v, row+1) {
		return false
	}
	for next := row + 1; next < len(v.rows) && next <= row+40; next++ {
		filled := v.filled(next)
		if len(filled) < 2 || len(filled) < len(v.filled(row)) || !logRow(v, next+1) {
			continue
		}
		for _, c := range filled {
			if cell := v.at(next, c); cell.kind != kindText || allNumberSigns(cell.text) || timeStart.MatchString(cell.text) {
				return false
			}
		}
		for r := next + 2; r < len(v.rows) && r < next+4; r++ {
			if !startsLog(v, r) {
				return false
			}
		}
		return true
	}
	return false
}

// logRow reports a row of a log: a time or a number first, then numbers.
func logRow(v view, row int) bool {
	if !startsLog(v, row) {
		return false
	}
	numbers := 0
	for _, c := range v.filled(row)[1:] {
		if cell := v.at(row, c); cell.kind == kindNumber || cell.kind == kindText && allNumberSigns(cell.text) {
			numbers++
		}
	}
	return numbers > 0
}

func startsLog(v view, row int) bool {
	if row >= len(v.rows) {
		return false
	}
	filled := v.filled(row)
	if len(filled) < 2 {
		return false
	}
	first := v.at(row, filled[0])
	return first.kind == kindNumber || first.kind == kindDate || first.kind == kindText && (timeStart.MatchString(first.text) || allNumberSigns(first.text))
}
