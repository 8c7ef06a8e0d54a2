package sheet

import (
	"fmt"
	"strings"
)

// splitRecords cuts text into rows and fields after RFC 4180, forgiving quotes
// inside bare fields and rows of unequal length. A blank line is a row without
// fields, so that row numbers are those of a spreadsheet program. Each row goes
// to take without the empty fields at its end, and is good until take returns.
func splitRecords(s string, delimiter byte, limits Limits, take func(row []string)) error {
	sp := splitter{text: s, delimiter: delimiter, limits: limits, take: take}
	for sp.pos < len(s) {
		sp.row = append(sp.row, sp.field())
		if len(sp.row) > 2*limits.Columns {
			return fmt.Errorf("row %d has more than %d columns", sp.rows+1, limits.Columns)
		}
		if sp.pos < len(s) && s[sp.pos] == delimiter {
			if sp.pos++; sp.pos < len(s) {
				continue
			}
		} else if sp.pos < len(s) {
			if s[sp.pos] == '\r' && sp.pos+1 < len(s) && s[sp.pos+1] == '\n' {
				sp.pos++
			}
			sp.pos++
		}
		if err := sp.endRow(); err != nil {
			return err
		}
	}
	return nil
}

type splitter struct {
	text        string
	pos         int
	delimiter   byte
	limits      Limits
	take        func(row []string)
	rows        int
	row         []string
	filledRows  int  // rows up to the last that is not empty
	filled      int  // fields that are not empty
	quotesPlain bool // a quote was never closed; quotes are signs from there on
}

// endRow hands on the row without the empty fields at its end.
func (sp *splitter) endRow() error {
	n := len(sp.row)
	for n > 0 && sp.row[n-1] == "" {
		n--
	}
	row := sp.row[:n]
	sp.row = sp.row[:0]
	for _, f := range row {
		if f != "" {
			sp.filled++
		}
	}
	if n > 0 {
		sp.filledRows = sp.rows + 1
	}
	sp.rows++
	switch {
	case n > sp.limits.Columns:
		return fmt.Errorf("row %d has more than %d columns", sp.rows, sp.limits.Columns)
	case sp.filledRows > sp.limits.Rows:
		return fmt.Errorf("the file has more than %d rows", sp.limits.Rows)
	case sp.filled > sp.limits.Cells:
		return fmt.Errorf("the file has more than %d filled cells", sp.limits.Cells)
	}
	sp.take(row)
	return nil
}

func (sp *splitter) atEnd(i int) bool {
	return i >= len(sp.text) || sp.text[i] == sp.delimiter || sp.text[i] == '\n' || sp.text[i] == '\r'
}

// field reads the field at pos and moves behind it.
func (sp *splitter) field() string {
	if sp.pos < len(sp.text) && sp.text[sp.pos] == '"' && !sp.quotesPlain {
		if f, ok := sp.quoted(); ok {
			return f
		}
		sp.quotesPlain = true
	}
	from := sp.pos
	for !sp.atEnd(sp.pos) {
		sp.pos++
	}
	return sp.text[from:sp.pos]
}

// quoted reads a field in quotes; ok is false when the quote is never closed.
func (sp *splitter) quoted() (string, bool) {
	var b strings.Builder
	for i := sp.pos + 1; i < len(sp.text); i++ {
		if sp.text[i] != '"' {
			b.WriteByte(sp.text[i])
			continue
		}
		if i+1 < len(sp.text) && sp.text[i+1] == '"' {
			b.WriteByte('"')
			i++
			continue
		}
		end := i + 1
		for !sp.atEnd(end) { // text behind the closing quote is kept
			end++
		}
		b.WriteString(sp.text[i+1 : end])
		sp.pos = end
		return b.String(), true
	}
	return "", false
}
