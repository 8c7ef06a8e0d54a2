package sheet

import (
	"strings"

	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// tableReader reads one block of a sheet into a Table.
type tableReader struct {
	r       *reader
	v       view
	b       block
	reading Reading
	parse   *headingCache
	tally   *tally
	cols    []column
	name    int      // index of the name column in cols, or -1
	subRow  []int    // row of units or uncertainty words under the names
	remarks []string // texts among the headings
	table   Table
	kinds   []rowKind         // of the rows below the heading
	notes   map[string]string // footnotes by their mark
	nd      string            // what a footnote says "n.d." means
	errLOD  bool              // a footnote says that the error column holds the limit
	sigma   float64           // standard deviations that an error is, by a footnote; 0 when not said
	values  int               // result columns
	below   map[int]belowRow  // rows of uncertainties, by the row they belong to
	control bool              // rows stand under a title that makes them controls
	buf     []int             // of filledIn
}

func (t *tableReader) at(row, col int) source.Cell {
	return t.r.cellAt(t.v.g.sheet, t.v.ref(row, col))
}

// table reads one block; next is the block below it, whose title may stand at
// the end of this one.
func (r *reader) table(v view, b block, next *block, reading Reading, parse *headingCache) {
	t := &tableReader{r: r, v: v, b: b, reading: reading, parse: parse, tally: r.newTally(v.g.sheet), notes: map[string]string{}}
	t.table = Table{File: r.book.File, Sheet: v.g.sheet, HeaderRow: v.rows[b.header] + 1, Transposed: v.turned}
	t.titles()
	t.findSubRow()
	t.columns()
	t.sort(next)
	t.readFootnotes()
	t.units()
	t.iron()
	t.decimals()
	t.limits()
	t.rows()
	t.doubtfulUnits()
	t.tally.flush()
	t.tally = nil // what there was to tell is told
	for _, c := range t.cols {
		if c.Role == RoleEmpty {
			continue
		}
		if c.unit != nil {
			c.Unit = c.unit.name
		}
		t.table.Columns = append(t.table.Columns, c.Column)
	}
	t.table.read = t
	r.book.Tables = append(r.book.Tables, t.table)
}

// titles gathers the texts above the headings.
func (t *tableReader) titles() {
	for row := t.b.top; row < t.b.header; row++ {
		for _, c := range t.v.filled(row) {
			if c < t.b.c0 || c >= t.b.c1 || t.overColumns(row, c) {
				continue
			}
			s, _ := foldSpaces(t.v.at(row, c).text)
			t.table.Title = append(t.table.Title, s)
		}
	}
	if t.b.top == 0 {
		return
	}
	// Rows between two tables: those of the upper one were read with it.
	t.table.Title = nil
	for row := t.titleTop(); row < t.b.header; row++ {
		for _, c := range t.v.filled(row) {
			if !t.overColumns(row, c) {
				s, _ := foldSpaces(t.v.at(row, c).text)
				t.table.Title = append(t.table.Title, s)
			}
		}
	}
}

// overColumns reports merged or single texts that belong to columns: group
// headings directly over the names.
func (t *tableReader) overColumns(row, c int) bool {
	if row != t.b.header-1 {
		return false
	}
	_, merged := t.v.g.merged[gridKey(t.v, row, c)]
	return merged || len(t.v.filled(row)) > 1
}

func gridKey(v view, r, c int) [2]int {
	gr, gc := v.gridPos(r, c)
	return [2]int{gr, gc}
}

// titleTop is the first row of the title of a table that is not the first:
// texts directly above the heading, up to a blank row.
func (t *tableReader) titleTop() int { return titleTop(t.v, t.b) }

func titleTop(v view, b block) int {
	row := b.header
	for row > b.top && !v.blankRow(row-1) && len(v.filled(row-1)) <= 2 && !hasNumbers(v, row-1) {
		row--
	}
	if row == b.top && row > 0 && b.header-row > 1 {
		return b.header - 1
	}
	return row
}

func hasNumbers(v view, row int) bool {
	for _, c := range v.filled(row) {
		if k := v.at(row, c).kind; k == kindNumber || (k == kindText && allNumberSigns(v.at(row, c).text)) {
			return true
		}
	}
	return false
}

// findSubRow recognises the row under the names that holds units or words of
// uncertainty and nothing else.
func (t *tableReader) findSubRow() {
	row := t.b.header + 1
	for ; row < t.b.end && t.v.blankRow(row); row++ {
	}
	if row < t.b.end && t.unitsOnly(row) {
		t.subRow = []int{row}
	}
}

func (t *tableReader) unitsOnly(row int) bool {
	found := 0
	for n, c := range t.filledIn(row) {
		cell := t.v.at(row, c)
		if cell.kind != kindText {
			return false
		}
		h := t.parse.parse(cell.text)
		switch {
		case h.analyte == "" && (h.unit != nil || h.marker != nil) && h.rest == "":
			found++
		case n == 0 && h.analyte == "" && parseToken(cell.text, t.v.g.style.marks).class == quantity.Unusable: // a label
		case isDash(cell.text), word(cell.text) == "value", word(cell.text) == "conc", word(cell.text) == "result":
		default:
			return false
		}
	}
	return found > 0
}

// filledIn returns the columns of the block that hold something in a row; the
// slice is good until the next call.
func (t *tableReader) filledIn(row int) []int {
	t.buf = t.buf[:0]
	for c := t.b.c0; c < t.b.c1; c++ {
		if !t.v.at(row, c).empty() {
			t.buf = append(t.buf, c)
		}
	}
	return t.buf
}

func isDash(s string) bool {
	return strings.Trim(foldSigns(s), "- ") == ""
}
