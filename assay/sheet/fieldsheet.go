package sheet

import (
	"math"
	"strings"

	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// records reads a sheet without assay table as records; it reports whether
// there were any.
func (r *reader) records(v view, reading Reading) bool {
	header := recordHeader(v, reading)
	if header < 0 && reading.HeaderRow > 0 {
		return false
	}
	if header < 0 {
		for row := range v.rows {
			if filled := v.filled(row); len(filled) > 0 {
				r.note(source.Warning, "NO_TABLE", r.cellAt(v.g.sheet, v.ref(row, filled[0])), "no table was found: no row names two analytes or holds headings of two columns; write headings above the values")
				break
			}
		}
		return false
	}
	out := &Records{File: r.book.File, Sheet: v.g.sheet, HeaderRow: v.rows[header] + 1}
	for row := range header {
		for _, c := range v.filled(row) {
			s, _ := foldSpaces(v.at(row, c).text)
			out.Title = append(out.Title, s)
		}
	}
	cols := r.fields(v, header, out)
	first := header + 1
	if u := unitRowBelow(v, header, cols); u > 0 {
		for i, c := range cols {
			if s, _ := foldSpaces(v.at(u, c).text); s != "" && out.Fields[i].Unit == "" && !isDash(s) {
				out.Fields[i].Unit = strings.Trim(s, "()[]")
			}
		}
		first = u + 1
	}
	if most := r.limits.Cells / recordShare; (len(v.rows)-first)*len(cols) > most {
		r.note(source.Error, "RECORDS_TOO_LARGE", r.cellAt(v.g.sheet, ""), "this sheet holds no laboratory table, and for a field sheet it is too long (%d rows of %d columns, more than %d cells); split it, or raise `cells` under `limits:` in the notebook", len(v.rows)-first, len(cols), most)
		return true
	}
	m := v.g.style.marks
	if reading.Decimal != "" {
		m = marks{reading.Decimal[0]}
	}
	for row := first; row < len(v.rows); row++ {
		if v.blankRow(row) {
			continue
		}
		rec := Record{Row: v.rows[row] + 1, Cells: make([]RecordCell, len(cols)), of: out}
		for i, c := range cols {
			rec.Cells[i] = r.recordCell(v, row, c, m)
		}
		out.Rows = append(out.Rows, rec)
	}
	r.book.Records = append(r.book.Records, *out)
	return true
}

// recordShare is how many times more memory a cell of Records takes than one
// of a laboratory table, which is read when asked for.
const recordShare = 8

// recordHeader is the first row with two or more texts, no numbers, and a row
// below it.
func recordHeader(v view, reading Reading) int {
	for row := range v.rows {
		if reading.HeaderRow > 0 {
			if v.rows[row] == reading.HeaderRow-1 {
				return row
			}
			continue
		}
		filled := v.filled(row)
		texts := 0
		for _, c := range filled {
			if cell := v.at(row, c); cell.kind == kindText && !allNumberSigns(cell.text) {
				texts++
			}
		}
		if texts >= 2 && texts == len(filled) && row+1 < len(v.rows) && !titleAbove(v, row) && !preambleAbove(v, row) {
			return row
		}
	}
	return -1
}

// titleAbove reports a row of two or three texts over a wider row of texts:
// a title with a date beside it.
func titleAbove(v view, row int) bool {
	here := v.filled(row)
	for next := row + 1; next < len(v.rows) && next <= row+3; next++ {
		below := v.filled(next)
		texts := 0
		for _, c := range below {
			if v.at(next, c).kind == kindText && !allNumberSigns(v.at(next, c).text) {
				texts++
			}
		}
		if len(below) > 0 && texts == len(below) && texts >= len(here)*2 {
			return true
		}
	}
	return false
}

// fields reads the headings; columns without heading but with entries are
// reported and left out.
func (r *reader) fields(v view, header int, out *Records) (cols []int) {
	for c := range v.cols {
		s, _ := foldSpaces(v.shown(header, c).text)
		ref := v.ref(header, c)
		if s == "" {
			if !emptyColumn(v, c, header+1, len(v.rows)) {
				r.note(source.Warning, "UNKNOWN_COLUMN", r.cellAt(v.g.sheet, ref), "the column has entries but no heading and was left out; write a heading")
			}
			continue
		}
		f := Field{Name: s, Ref: ref}
		if n := len(s); n > 2 && (s[n-1] == ')' || s[n-1] == ']') {
			if open := matchingBracket(s); open > 0 {
				f.Name, f.Unit = strings.TrimSpace(s[:open]), strings.TrimSpace(s[open+1:n-1])
			}
		}
		if out.Has(f.Name) {
			r.note(source.Warning, "DUPLICATE_FIELD", r.cellAt(v.g.sheet, ref), "the heading %q occurs twice; the first column with an entry counts, so rename one", clip(s))
		}
		out.Fields = append(out.Fields, f)
		cols = append(cols, c)
	}
	return cols
}

// fieldUnits are units of field and laboratory sheets that may stand in a row
// beneath the headings.
var fieldUnits = set("kg", "g", "mg", "t", "l", "l/min", "l min-1", "ml", "cm", "mm", "m", "m3", "cm3", "°c", "c", "k", "min", "h", "s", "hh:mm", "mol/l", "pa", "bar", "%", "wt%", "vol%", "g/cm3", "kg/m3", "µm", "hours", "minutes", "a", "v", "w", "nm", "mg/l", "ppm", "m/s")

func unitRowBelow(v view, header int, cols []int) int {
	row := header + 1
	if row+1 >= len(v.rows) {
		return -1
	}
	found := 0
	for _, c := range cols {
		cell := v.at(row, c)
		if cell.empty() {
			continue
		}
		s, _ := foldSpaces(cell.text)
		s = strings.Trim(strings.ToLower(foldSigns(s)), "()[]")
		if cell.kind != kindText || !(fieldUnits[s] || unitWords[word(s)] || isDash(s)) {
			return -1
		}
		if fieldUnits[s] {
			found++
		}
	}
	if found == 0 {
		return -1
	}
	return row
}

func (r *reader) recordCell(v view, row, c int, m marks) RecordCell {
	cell := v.shown(row, c)
	out := RecordCell{Value: math.NaN(), Limit: math.NaN(), Class: quantity.Missing, At: r.cellAt(v.g.sheet, v.ref(row, c))}
	out.Text, _ = foldSpaces(cell.text)
	switch cell.kind {
	case kindEmpty:
		if cell.formula {
			r.note(source.Warning, "FORMULA_NO_VALUE", out.At, "the cell holds a formula without a stored result and counts as missing; open the workbook, let it compute and save it")
		}
	case kindNumber:
		if x, ok := parseStored(cell.text); ok {
			if cell.percent {
				x *= 100
			}
			out.Value, out.Class, out.Text = x, quantity.Measured, storedText(cell.text)
			if cell.percent {
				out.Text = storedText(formatShort(x)) + "%"
			}
		} else {
			out.Class = quantity.Unusable
		}
	case kindDate:
		out.Class, out.Date = quantity.Unusable, true
	case kindError:
		out.Class = quantity.Unusable
		r.note(source.Warning, "CELL_ERROR", out.At, "%q is an error of the spreadsheet; correct the formula or leave the cell empty", clip(cell.text))
	default:
		tok := parseToken(cell.text, m)
		out.Class = tok.class
		if tok.unit == nil {
			out.Value, out.Limit = tok.value, tok.limit
		} else if tok.class == quantity.Measured || tok.class == quantity.Below {
			out.Class = quantity.Unusable
		}
	}
	return out
}
