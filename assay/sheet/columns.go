package sheet

import (
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// column is a Column while the table is being read.
type column struct {
	Column
	index      int // in the view
	head       heading
	unit       *unit    // nil when none was found
	unitStated bool     // by the caller
	of         int      // for uncertainty and limit: index of the value column in the table, else -1
	marker     marker   // of an uncertainty or limit column
	u, lim     int      // for values: column of the uncertainty, of the limit; -1
	marks      marks    // decimal mark of the column
	mixed      bool     // both marks occur in it
	order      int      // place among the values of a row
	limits     []limit  // what limit rows say of it
	wasRead    evidence // of the decimal mark
	finePlaces bool     // results have two or more decimals

	known, over, small int // numbers; those above 100 wt%, those below 1 ppm
}

// limit is what a limit row says of a column.
type limit struct {
	what  string // LOD or LOQ
	value float64
	unit  unit
	at    source.Cell
}

// headingText returns the text that stands over column c: its own, or that of
// the cell it is merged with. again is true where the same merged text was
// already given to the column to the left.
func headingText(v view, b block, c int) (text string, again bool) {
	own := v.at(b.header, c)
	if !own.empty() {
		return own.text, false
	}
	pos, merged := v.anchor(b.header, c)
	if !merged {
		if above := v.at(b.header-1, c); b.upper && above.kind == kindText {
			return above.text, false
		}
		return "", false
	}
	if c > b.c0 {
		if left, ok := v.anchor(b.header, c-1); (ok || left == pos) && left == pos {
			return v.g.at(pos[0], pos[1]).text, true
		}
	}
	return v.g.at(pos[0], pos[1]).text, false
}

// columns reads the headings of a block and gives every column its role.
func (t *tableReader) columns() {
	for c := t.b.c0; c < t.b.c1; c++ {
		text, again := headingText(t.v, t.b, c)
		col := column{index: c, of: -1, u: -1, lim: -1, order: -1, marks: t.v.g.style.marks}
		col.Header, _ = foldSpaces(text)
		col.Ref = t.v.ref(t.b.header, c)
		col.head = t.parse.parse(text)
		if len(t.subRow) > 0 {
			t.applySubRow(&col, c, again)
		} else if again {
			col.head = heading{text: col.Header}
			col.Reason = "covered by the merged heading to the left"
		}
		col.head = t.parse.meant(col.head, col.Header, col.Ref)
		t.cols = append(t.cols, col)
	}
	t.repeatedMarkers()
	t.nameColumn()
	for i := range t.cols {
		if i != t.name {
			t.role(i)
		}
	}
	t.reportHeadings()
}

// applySubRow adds what the row under the names says: a unit, or that the
// column is the uncertainty of the analyte left of it.
func (t *tableReader) applySubRow(col *column, c int, again bool) {
	sub := t.v.at(t.subRow[0], c)
	if sub.empty() {
		if again {
			col.head = heading{text: col.Header}
		}
		return
	}
	h := t.parse.parse(sub.text)
	if h.marker != nil {
		col.head.marker = h.marker
	}
	if h.unit != nil && col.head.unit == nil {
		col.head.unit = h.unit
		col.UnitFrom = "row under the names"
	}
}

// nameColumn finds the column that holds the sample names: a heading that says
// so, else the first column of texts that is nothing else.
func (t *tableReader) nameColumn() {
	t.name = -1
	best := 1 << 30
	for i, c := range t.cols {
		rank := nameRank(c.Header)
		if c.head.isStated {
			if rank = 0; c.head.stated == meansName {
				rank = -1
			}
		}
		if rank != 0 && rank < best && c.head.analyte == "" {
			best, t.name = rank, i
		}
	}
	for i := 0; t.name < 0 && i < len(t.cols); i++ {
		c := t.cols[i]
		w := word(c.Header)
		if c.head.isStated || c.head.analyte != "" || c.head.unit != nil || c.head.marker != nil || metaWords[w] || unitWords[w] || methodWords[w] {
			continue
		}
		if t.hasTexts(i) || (c.Header == "" && i == 0 && !emptyColumn(t.v, c.index, t.b.header+1, t.b.end)) {
			t.name = i
		}
	}
	for i := 0; t.name < 0 && i < len(t.cols); i++ { // "Material" over names of reference materials
		if c := t.cols[i]; c.head.analyte == "" && !c.head.isStated && kindWords[word(c.Header)] && t.hasTexts(i) {
			t.name = i
		}
	}
	for i := 0; t.name < 0 && i < len(t.cols); i++ { // a number of the reading is better than no name
		if c := t.cols[i]; c.head.analyte == "" && !c.head.isStated && pointWords[word(c.Header)] {
			t.name = i
		}
	}
	for i := 0; t.name < 0 && i < len(t.cols) && t.cols[i].head.analyte == ""; i++ { // a unit in the corner, over the names
		if c := t.cols[i]; c.head.unit != nil && c.head.rest == "" && !c.head.isStated && t.hasTexts(i) && !t.holdsUnits(i) {
			t.name = i
		}
	}
	if t.name >= 0 {
		t.cols[t.name].Role = RoleName
	}
}

// nameRank tells how surely a heading is that of the names; 0 when it is not.
// In "Oxide (wt%)" the unit is for the results.
func nameRank(header string) int {
	if rank := nameWords[word(header)]; rank > 0 {
		return rank
	}
	if n := len(header); n > 2 && (header[n-1] == ')' || header[n-1] == ']') {
		if open := matchingBracket(header); open > 0 {
			if _, ok := parseUnit(header[open:]); ok {
				return nameWords[word(header[:open])]
			}
		}
	}
	return 0
}

func (t *tableReader) hasTexts(i int) bool {
	texts, numbers := 0, 0
	for row := t.b.header + 1; row < t.b.end && row < t.b.header+200; row++ {
		switch cell := t.v.at(row, t.cols[i].index); {
		case cell.empty():
		case cell.kind == kindText && !allNumberSigns(cell.text):
			texts++
		default:
			numbers++
		}
	}
	return texts > numbers || (texts > 0 && t.cols[i].Header == "" && i == 0)
}

// takeLimit stores the limits of a limit row in the columns.
func (t *tableReader) takeLimit(row int, what string, u unit, hasUnit bool) {
	for i := range t.cols {
		c := &t.cols[i]
		if c.Role != RoleAnalyte {
			continue
		}
		tok := t.cellToken(c, t.v.at(row, c.index))
		x := tok.value
		if tok.class == quantity.Below {
			x = tok.limit
		}
		if tok.class != quantity.Measured && tok.class != quantity.Below || !(x >= 0) {
			continue
		}
		l := limit{what: what, value: x, at: t.at(row, c.index)}
		switch {
		case tok.unit != nil:
			l.unit = *tok.unit
		case hasUnit:
			l.unit = u
		case c.unit != nil:
			l.unit = *c.unit
		default:
			continue
		}
		c.limits = append(c.limits, l)
	}
}
