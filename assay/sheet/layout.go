package sheet

import (
	"smeltbook/assay/source"
)

// minAnalytes is how many analytes a row of headings names at least.
const minAnalytes = 2

// tables finds and reads the assay tables of a sheet; it reports whether there
// was one.
func (r *reader) tables(v view, reading Reading) bool {
	parse := newHeadingCache(reading)
	var rows []headerRow
	turned := false
	if reading.Orientation != SamplesInColumns {
		rows = r.headerRows(v, parse, reading)
	}
	if len(rows) == 0 && reading.Orientation != SamplesInRows {
		w := v.turn()
		if len(w.rows) <= r.limits.Columns {
			if rows = r.headerRows(w, parse, reading); len(rows) > 0 {
				v, turned = w, true
			}
		}
	}
	if len(rows) == 0 {
		return false
	}
	if turned {
		r.note(source.Note, "TRANSPOSED", r.cellAt(v.g.sheet, v.ref(rows[0].row, rows[0].analyte)), "the analytes stand below each other; every column was read as a sample")
	}
	rows, upper := joinDouble(rows)
	var blocks []block
	top := 0
	for i, h := range rows {
		end := len(v.rows)
		if i+1 < len(rows) {
			end = rows[i+1].row
		}
		for _, b := range splitSides(v, h, top, end) {
			b.upper = upper[h.row]
			blocks = append(blocks, b)
		}
		top = h.row + 1
	}
	blocks = r.joinRepeated(v, blocks)
	if len(blocks) > 1 {
		b := blocks[1]
		r.note(source.Warning, "MULTIPLE_TABLES", r.cellAt(v.g.sheet, v.ref(b.header, b.c0)), "the sheet holds %d tables; each was read by its own headings", len(blocks))
	}
	for i := range blocks {
		var next *block
		if i+1 < len(blocks) && blocks[i+1].header != blocks[i].header {
			next = &blocks[i+1]
		}
		r.table(v, blocks[i], next, reading, parse)
	}
	return true
}

// block is one table of a sheet in the rows and columns of a view.
type block struct {
	top, header, end int // rows: first of the title, heading, one behind the last
	c0, c1           int // columns, c1 behind the last
	repeated         map[int]bool
	upper            bool // the row above the heading names analytes too
}

// splitSides cuts a heading row into tables that stand side by side: an empty
// column, and right of it a heading that starts with a sample name again.
func splitSides(v view, h headerRow, top, end int) []block {
	blocks := []block{{top: top, header: h.row, end: end, c0: 0, c1: len(v.cols)}}
	for c := h.first + 1; c < h.last; c++ {
		cell := v.at(h.row, c+1)
		if cell.kind != kindText || nameWords[word(cell.text)] == 0 || !emptyColumn(v, c, h.row, end) {
			continue
		}
		blocks[len(blocks)-1].c1 = c
		blocks = append(blocks, block{top: top, header: h.row, end: end, c0: c + 1, c1: len(v.cols)})
	}
	return blocks
}

func emptyColumn(v view, c, from, to int) bool {
	for r := from; r < to; r++ {
		if !v.at(r, c).empty() {
			return false
		}
	}
	return true
}

// joinRepeated joins a table with one above it that has the same headings in
// the same order: a heading printed again after a page break.
func (r *reader) joinRepeated(v view, blocks []block) []block {
	var out []block
	for _, b := range blocks {
		if n := len(out); n > 0 {
			last := &out[n-1]
			same := last.c0 == b.c0 && last.c1 == b.c1 && last.end == b.header
			for c := b.c0; same && c < b.c1; c++ {
				same = word(v.at(b.header, c).text) == word(v.at(last.header, c).text)
			}
			if same && !titleBetween(v, last.header, b.header) {
				if last.repeated == nil {
					last.repeated = map[int]bool{}
				}
				last.repeated[b.header] = true
				last.end = b.end
				continue
			}
		}
		out = append(out, b)
	}
	return out
}

// titleBetween reports whether a lone text stands right above the second
// heading after a blank row: the title of a table of its own.
func titleBetween(v view, first, second int) bool {
	r := second - 1
	for ; r > first && len(v.filled(r)) == 1; r-- {
		if r-1 > first && v.blankRow(r-1) {
			return true
		}
	}
	return false
}
