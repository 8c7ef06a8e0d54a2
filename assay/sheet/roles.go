package sheet

import (
	"strings"

	"smeltbook/assay/chem"
	"smeltbook/assay/source"
)

// role decides what one column is.
func (t *tableReader) role(i int) {
	c := &t.cols[i]
	h := c.head
	w := word(c.Header)
	a, _ := chem.LookupAnalyte(h.analyte)
	empty := emptyColumn(t.v, c.index, t.b.header+1, t.b.end)
	switch {
	case h.isStated && (h.stated == meansNothing || h.stated == meansIgnore):
		c.Role, c.Reason = RoleIgnored, "left out by your own setting"
	case h.isStated && (h.stated == meansNote || h.stated == meansName):
		c.Role, c.Reason = RoleText, "by your own setting"
	case h.isStated && h.stated == meansUnit:
		c.Role, c.Reason = RoleUnit, "by your own setting"
	case c.Header == "" && empty:
		c.Role = RoleEmpty
	case h.marker != nil:
		t.attach(i)
	case h.ambiguous != "" && !t.resolve(c):
		c.Role, c.Reason = RoleIgnored, h.ambiguous
		t.tally.or(setting{"columns", c.Header, c.head.analyte}).each(source.Warning, "UNKNOWN_COLUMN", c.Ref, "the heading %q %s, so the column was left out; state the analyte for this column", clip(c.Header), h.ambiguous)
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
	case unitWords[w], c.Header == "" && t.holdsUnits(i):
		c.Role = RoleUnit
	case c.Header == "" && t.stray(i):
		c.Role, c.Reason = RoleIgnored, "a few cells outside the table"
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

// holdsUnits reports a column of units and uncertainty words alone.
func (t *tableReader) holdsUnits(i int) bool {
	units := 0
	for row := t.b.header + 1; row < t.b.end; row++ {
		cell := t.v.at(row, t.cols[i].index)
		if cell.empty() {
			continue
		}
		_, isMarker := markerOf(cell.text)
		u, isUnit := parseUnit(cell.text)
		if cell.kind != kindText || !isMarker && (!isUnit || u.refuse != "") {
			return false
		}
		if isUnit {
			units++
		}
	}
	return units > 0
}

// stray reports a column without heading, apart from the table, that holds no
// more than two cells: something jotted down beside it.
func (t *tableReader) stray(i int) bool {
	if i == 0 || t.cols[i-1].Header != "" || !emptyColumn(t.v, t.cols[i-1].index, t.b.header, t.b.end) {
		return false
	}
	var refs []string
	for row := t.b.header + 1; row < t.b.end; row++ {
		if !t.v.at(row, t.cols[i].index).empty() {
			refs = append(refs, t.v.ref(row, t.cols[i].index))
		}
	}
	if len(refs) > 2 {
		return false
	}
	for _, ref := range refs {
		t.tally.habit(source.Warning, "STRAY_CELLS", ref, strayCells)
	}
	return true
}

const strayCells = "cells outside the table were left out (%s); delete them, or move them to the table if they belong to it"

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
	base, _, _ := strings.Cut(c.Header, "(")
	if metaWords[w] || metaWords[word(base)] || methodWords[w] || nameWords[w] > 0 || t.hasTexts(i) {
		return
	}
	if h := c.head; h.unit != nil && h.unit.refuse != "" {
		c.Role, c.Reason = RoleIgnored, h.unit.refuse
		return
	}
	c.Role, c.Reason = RoleIgnored, "the heading names no known analyte"
	if c.Header == "" {
		c.Reason = "there is no heading"
		t.tally.or(setting{"columns", c.Ref, meansNote}).each(source.Warning, "UNKNOWN_COLUMN", c.Ref, "the column has numbers but no heading and was left out; write a heading")
		return
	}
	t.tally.or(setting{"columns", c.Header, meansNote}).each(source.Warning, "UNKNOWN_COLUMN", c.Ref, "the heading %q names no known analyte, so the column was left out; correct the spelling, or state the analyte for this column", clip(c.Header))
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
