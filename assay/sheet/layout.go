package sheet

import (
	"smeltbook/assay/source"
)

// headerScan is how far to the sides of a sheet's start a heading may be
// looked for without end; below the first table every row is looked at.
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
		r.note(source.Note, "TRANSPOSED", r.cellAt(v.g.sheet, v.ref(rows[0].row, rows[0].first)), "the analytes stand below each other; every column was read as a sample")
	}
	var blocks []block
	top := 0
	for i, h := range rows {
		end := len(v.rows)
		if i+1 < len(rows) {
			end = rows[i+1].row
		}
		blocks = append(blocks, splitSides(v, h, top, end)...)
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

// headerRow is a row that names two or more analytes.
type headerRow struct{ row, first, last int }

// headingCache parses each spelling once.
type headingCache struct {
	seen    map[string]heading
	columns map[string]string
}

func newHeadingCache(reading Reading) *headingCache {
	c := &headingCache{seen: map[string]heading{}, columns: map[string]string{}}
	for text, id := range reading.Columns {
		c.columns[word(text)] = id
	}
	return c
}

func (c *headingCache) parse(text string) heading {
	if h, ok := c.seen[text]; ok {
		return h
	}
	h := parseHeading(text)
	if id, stated := c.columns[word(text)]; stated && len(c.columns) > 0 {
		h.analyte, h.ambiguous, h.words = id, "", false
	}
	if len(c.seen) < 10_000 {
		c.seen[text] = h
	}
	return h
}

// headerRows returns the rows that name at least two different analytes, and
// under which a value stands.
func (r *reader) headerRows(v view, parse *headingCache, reading Reading) []headerRow {
	var out []headerRow
	for row := range v.rows {
		if reading.HeaderRow > 0 && !v.turned && v.rows[row] != reading.HeaderRow-1 && len(out) == 0 {
			continue
		}
		filled := v.filled(row)
		if len(filled) < minAnalytes || !mayBeHeading(v, row, filled) {
			continue
		}
		found := map[string]bool{}
		var at []int
		for _, c := range filled {
			cell := v.at(row, c)
			if cell.kind != kindText {
				continue
			}
			h := parse.parse(cell.text)
			if h.analyte == "" || h.marker != nil || !countsAsAnalyte(h.analyte) || (h.words && h.unit == nil && !oxideWord(h.analyte)) {
				continue
			}
			found[h.analyte] = true
			at = append(at, c)
		}
		if len(found) >= minAnalytes && valueBelow(v, row, at) {
			out = append(out, headerRow{row, filled[0], filled[len(filled)-1]})
		}
	}
	return out
}

// oxideWord reports analytes whose names in words have no other use in a
// field sheet. Lime, soda, copper or charcoal may also be weighed.
func oxideWord(id string) bool {
	switch id {
	case "SiO2", "Al2O3", "TiO2", "LOI", "GOI":
		return true
	}
	return false
}

// mayBeHeading sorts out rows that are mostly numbers, at little cost.
func mayBeHeading(v view, row int, filled []int) bool {
	numbers := 0
	for _, c := range filled {
		cell := v.at(row, c)
		if cell.kind == kindNumber || cell.kind == kindDate || (cell.kind == kindText && allNumberSigns(cell.text)) {
			numbers++
		}
	}
	return len(filled)-numbers >= minAnalytes && numbers*2 <= len(filled)
}

func allNumberSigns(s string) bool {
	for i := 0; i < len(s); i++ {
		if c := s[i]; (c < '0' || c > '9') && c != '.' && c != ',' && c != ' ' && c != '-' && c != '<' {
			return false
		}
	}
	return true
}

// valueBelow reports whether one of the columns holds a number or a censored
// value within the next rows.
func valueBelow(v view, row int, columns []int) bool {
	const look = 12
	for r := row + 1; r < len(v.rows) && r <= row+look; r++ {
		for _, c := range columns {
			cell := v.at(r, c)
			switch cell.kind {
			case kindNumber, kindDate, kindError:
				return true
			case kindText:
				if _, ok := numberLike(cell.text); ok {
					return true
				}
				if class := parseToken(cell.text, marks{'.'}).class; class.Censored() || class == "na" {
					return true
				}
			case kindEmpty:
				if cell.formula {
					return true
				}
			}
		}
	}
	return false
}

// block is one table of a sheet in the rows and columns of a view.
type block struct {
	top, header, end int // rows: first of the title, heading, one behind the last
	c0, c1           int // columns, c1 behind the last
	repeated         map[int]bool
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
