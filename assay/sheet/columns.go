package sheet

import (
	"strings"

	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// column is a Column while the table is being read.
type column struct {
	Column
	index      int // in the view
	head       heading
	unit       *unit
	of         int // for uncertainty and limit: index of the value column in the table, else -1
	marker     marker
	u, lim     int      // for values: column of the uncertainty, of the limit; -1
	marks      marks    // decimal mark of the column
	mixed      bool     // both marks occur in it
	order      int      // place among the values of a row
	limits     []limit  // from limit rows
	note       string   // text of the footnote the heading points to
	wasRead    evidence // of the decimal mark
	finePlaces bool     // results have two or more decimals
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
// below is the row of units or of uncertainty words under the names, or -1.
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

// repeatedMarkers takes a heading such as "U", which is uranium when it stands
// once, for an uncertainty where it is repeated right of several results.
func (t *tableReader) repeatedMarkers() {
	count := map[string]int{}
	for i, c := range t.cols {
		if i > 0 && t.cols[i-1].head.analyte != "" && t.cols[i-1].Header != c.Header {
			count[c.Header]++
		}
	}
	for i := range t.cols {
		c := &t.cols[i]
		if m, ok := markerOf(c.Header); ok && c.head.marker == nil && count[c.Header] > 1 {
			c.head.marker, c.head.analyte = &m, ""
		}
	}
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
		if rank := nameWords[word(c.Header)]; rank > 0 && rank < best && c.head.analyte == "" {
			best, t.name = rank, i
		}
	}
	for i := 0; t.name < 0 && i < len(t.cols); i++ {
		c := t.cols[i]
		w := word(c.Header)
		if c.head.analyte != "" || c.head.unit != nil || c.head.marker != nil || metaWords[w] || unitWords[w] || methodWords[w] {
			continue
		}
		if t.hasTexts(i) || (c.Header == "" && i == 0 && !emptyColumn(t.v, c.index, t.b.header+1, t.b.end)) {
			t.name = i
		}
	}
	for i := 0; t.name < 0 && i < len(t.cols); i++ { // a number of the reading is better than no name
		if c := t.cols[i]; c.head.analyte == "" && pointWords[word(c.Header)] {
			t.name = i
		}
	}
	if t.name >= 0 {
		t.cols[t.name].Role = RoleName
	}
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

// role decides what one column is.
func (t *tableReader) role(i int) {
	c := &t.cols[i]
	h := c.head
	w := word(c.Header)
	a, _ := chem.LookupAnalyte(h.analyte)
	id, stated := t.parse.columns[w]
	empty := emptyColumn(t.v, c.index, t.b.header+1, t.b.end)
	switch {
	case stated && id == "":
		c.Role, c.Reason = RoleIgnored, "left out by your own setting"
	case c.Header == "" && empty:
		c.Role = RoleEmpty
	case h.marker != nil:
		t.attach(i)
	case h.ambiguous != "" && !t.resolve(c):
		c.Role, c.Reason = RoleIgnored, h.ambiguous
		t.tally.each(source.Warning, "UNKNOWN_COLUMN", c.Ref, "the heading %q %s, so the column was left out; state the analyte for this column", clip(c.Header), h.ambiguous)
	case a.Kind == chem.Total:
		c.Role, c.Analyte = RoleTotal, a.ID
	case a.Kind == chem.Balance:
		c.Role, c.Reason = RoleIgnored, "computed by the instrument to reach 100 %"
		t.tally.each(source.Note, "BALANCE_SKIPPED", c.Ref, "the column %q is the balance that the instrument computes; it is no result and was left out", clip(c.Header))
	case a.Kind == chem.Correction:
		c.Role, c.Reason = RoleIgnored, "a correction to the total, not an analyte"
	case c.head.analyte != "":
		c.Role, c.Analyte, c.unit = RoleAnalyte, c.head.analyte, h.unit
		c.Method, c.Basis = h.method, h.basis
		if c.unit != nil && c.UnitFrom == "" {
			c.UnitFrom = "heading"
		}
	case unitWords[w]:
		c.Role = RoleUnit
	case empty:
		c.Role, c.Reason = RoleEmpty, ""
		if c.Header != "" {
			t.remark(c)
		}
	default:
		t.other(i, w)
	}
	if c.Role == RoleTotal {
		c.unit = h.unit
	}
}

// remark keeps a text among the headings under which nothing stands. In a
// table on its side these are the title and the footnotes.
func (t *tableReader) remark(c *column) {
	t.remarks = append(t.remarks, c.Header)
	if !t.v.turned {
		return
	}
	for _, other := range t.cols {
		if other.Role == RoleAnalyte && other.index < c.index {
			t.table.Footnotes = append(t.table.Footnotes, c.Header)
			t.tally.habit(source.Note, "FOOTNOTE", c.Ref, footnoteKept)
			return
		}
	}
	t.table.Title = append(t.table.Title, c.Header)
}

const footnoteKept = "texts without values were kept as footnotes of the table (%s)"

// other deals with columns that are neither analytes nor belong to one.
func (t *tableReader) other(i int, w string) {
	c := &t.cols[i]
	c.Role = RoleText
	if metaWords[w] || methodWords[w] || nameWords[w] > 0 || t.hasTexts(i) {
		return
	}
	if h := c.head; h.unit != nil && h.unit.refuse != "" {
		c.Role, c.Reason = RoleIgnored, h.unit.refuse
		return
	}
	c.Role, c.Reason = RoleIgnored, "the heading names no known analyte"
	if c.Header == "" {
		c.Reason = "there is no heading"
		t.tally.each(source.Warning, "UNKNOWN_COLUMN", c.Ref, "the column has numbers but no heading and was left out; write a heading")
		return
	}
	t.tally.each(source.Warning, "UNKNOWN_COLUMN", c.Ref, "the heading %q names no known analyte, so the column was left out; correct the spelling, or state the analyte for this column", clip(c.Header))
}

// resolve decides an ambiguous name by its neighbours: where other headings of
// the table write a zero for the letter O, this one does too.
func (t *tableReader) resolve(c *column) bool {
	if c.head.text == "" || !strings.Contains(c.head.text, "0") {
		return false
	}
	for _, other := range t.cols {
		if other.index != c.index && other.head.repaired && other.head.ambiguous == "" && strings.Contains(other.head.text, "0") {
			c.head.repaired = true
			c.head.ambiguous = ""
			return true
		}
	}
	return false
}

// attach gives an uncertainty or limit column to its analyte: the one it
// names, else the one to its left.
func (t *tableReader) attach(i int) {
	c := &t.cols[i]
	c.marker = *c.head.marker
	c.Role = RoleUncertainty
	if c.marker.limit != "" {
		c.Role = RoleLimit
	}
	for j := i - 1; j >= 0; j-- {
		left := t.cols[j]
		if left.Role == RoleAnalyte && (c.head.analyte == "" || left.Analyte == c.head.analyte || left.head.analyte == c.head.analyte) {
			c.of = j
			break
		}
		if c.head.analyte == "" && left.head.marker == nil && left.Role != RoleEmpty {
			break
		}
	}
	for j := i + 1; c.of < 0 && c.head.analyte != "" && j < len(t.cols); j++ {
		if right := t.cols[j]; right.head.analyte == c.head.analyte && right.head.marker == nil {
			c.of = j
		}
	}
	if c.of < 0 {
		c.Role, c.Reason = RoleIgnored, "belongs to no result column"
		return
	}
	c.Analyte = t.cols[c.of].head.analyte
	if c.marker.limit != "" {
		t.cols[c.of].lim = i
	} else if t.cols[c.of].u < 0 {
		t.cols[c.of].u = i
	}
}

// reportHeadings tells what was peculiar about the headings that are used.
func (t *tableReader) reportHeadings() {
	for _, c := range t.cols {
		h := c.head
		if c.Role == RoleAnalyte || c.Role == RoleTotal {
			if h.repaired {
				t.tally.habit(source.Warning, "HEADER_REPAIRED", c.Ref, "headings with a zero for the letter O, an i for an l or a missing space were read as the analytes they resemble (%s); check them")
			}
			if h.lookalike {
				t.tally.habit(source.Warning, "LOOKALIKE_LETTERS", c.Ref, "headings typed with letters of another alphabet were read as the Latin ones they resemble (%s)")
			}
			if h.basis != "" {
				t.tally.habit(source.Warning, "BASIS", c.Ref, "the headings state a basis (%s), which is kept with the values; do not mix bases in one total")
			}
		}
		if h.oddSpace {
			t.tally.habit(source.Note, "SPACE_FOLDED", c.Ref, "non-breaking, thin or invisible spaces were read as plain ones (%s)")
		}
	}
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
