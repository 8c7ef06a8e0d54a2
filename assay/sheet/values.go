package sheet

import (
	"math"
	"strings"

	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// decimals finds the decimal mark of each result column; a column that shows
// none of its own takes that of the file.
func (t *tableReader) decimals() {
	for i := range t.cols {
		c := &t.cols[i]
		if t.reading.Decimal != "" {
			c.marks = marks{t.reading.Decimal[0]}
			continue
		}
		for n, k := range t.kinds {
			cell := t.v.at(t.b.header+n, c.index)
			if (k == rowData || k == rowLimit) && cell.kind == kindText {
				c.wasRead.look(cell.text, "", "")
				if len(c.wasRead.open) > 2 {
					c.wasRead.open = c.wasRead.open[:2]
				}
			}
		}
		switch {
		case c.wasRead.point > 0 && c.wasRead.comma > 0:
			c.mixed = true
		case c.wasRead.marks().decimal != 0:
			c.marks = c.wasRead.marks()
		}
	}
}

// cellToken reads a cell of a result column.
func (t *tableReader) cellToken(c *column, cell cell) token {
	switch cell.kind {
	case kindEmpty:
		tok := noNumber(quantity.Missing)
		if cell.formula {
			tok.why = "formula"
		}
		return tok
	case kindNumber:
		x, ok := parseStored(cell.text)
		if !ok {
			tok := noNumber(quantity.Unusable)
			tok.why = "is not a number; correct the cell or leave it empty"
			return tok
		}
		tok := noNumber(quantity.Measured)
		tok.value, tok.number = x, true
		return tok
	case kindDate:
		tok := noNumber(quantity.Unusable)
		tok.why = "date"
		return tok
	case kindError:
		tok := noNumber(quantity.Unusable)
		tok.why = "is an error of the spreadsheet; correct the formula or leave the cell empty"
		return tok
	case kindBool:
		tok := noNumber(quantity.Unusable)
		tok.why = "is no number; correct the cell or leave it empty"
		return tok
	}
	m := c.marks
	if c.mixed {
		if s, ok := numberLike(cell.text); ok {
			if shape, _ := shapeOf(s); shape == shapeOpen {
				m = marks{} // in a column of mixed marks nothing decides it
			}
		}
	}
	return parseToken(cell.text, m)
}

// value reads one result and brings it to wt%. from holds the address of its
// cell.
func (t *tableReader) value(c *column, row int, rowUnit *unit, from []source.Cell) Value {
	cell := t.v.at(row, c.index)
	at := from[0]
	tok := t.cellToken(c, cell)
	raw := cell.text
	if cell.kind == kindNumber {
		raw = storedText(raw)
	}
	v := Value{Analyte: c.Analyte, Raw: raw, Method: c.Method, Basis: c.Basis, Flags: tok.flags}
	t.reportCell(c, cell, tok, at.Ref)
	u := c.unit
	if u == nil {
		u = rowUnit
	}
	if tok.unit != nil {
		if u != nil && u.name != tok.unit.name {
			v.Flags = append(v.Flags, "unit in the cell differs from the heading")
		}
		u = tok.unit
	}
	if cell.percent && cell.kind == kindNumber && !c.unitStated {
		tok.value *= 100
		if u == nil || u.name != "wt%" && u.name != "fraction" {
			v.Flags = append(v.Flags, "shown as percent")
		}
		u = &unit{"wt%", 1, ""}
		t.tally.or(setting{"units", c.Header, "wt%"}).habit(source.Note, "PERCENT_FORMAT", at.Ref, "cells are shown with a percent format; the stored fractions were taken times 100 (%s)")
	}
	if tok.nd && t.nd != "" {
		tok.class = quantity.Class(t.nd)
	}
	t.limitElsewhere(c, row, &tok, &v, u)
	for _, m := range tok.marks {
		text := t.notes[string(m)]
		if text == "" {
			text = "marked " + string(m)
		}
		v.Flags = append(v.Flags, text)
	}
	if u == nil || u.refuse != "" {
		if tok.number {
			tok = noNumber(quantity.Unusable)
			v.UNote = "no unit is stated"
		}
		v.Quantity = quantity.None(tok.class, math.NaN(), "wt%", from...)
		v.UNote = strings.TrimSpace(v.UNote)
		return v
	}
	v.Unit = u.name
	if c.head.analyte == "GOI" {
		tok.value = -tok.value
	}
	t.negative(c, &tok, cell, at.Ref)
	if tok.class != quantity.Measured {
		v.Quantity = quantity.None(tok.class, u.wt(tok.limit), "wt%", from...)
		return v
	}
	v.Quantity = quantity.New(u.wt(tok.value), "wt%", "the sheet states no uncertainty", from...)
	t.uncertainty(c, row, tok, u, &v)
	return v
}

// negative deals with numbers below zero, which only a loss on ignition can be.
func (t *tableReader) negative(c *column, tok *token, cell cell, ref string) {
	if tok.class != quantity.Measured || !(tok.value < 0) {
		return
	}
	if c.Analyte == "LOI" {
		if c.head.analyte != "GOI" {
			t.tally.habit(source.Warning, "NEGATIVE_LOI", ref, "a negative loss on ignition was kept: the sample gained mass (%s)")
		}
		return
	}
	if c.Role == RoleTotal {
		return
	}
	limit := -tok.value
	if t.reading.NegativeIsLimit {
		*tok = noNumber(quantity.Below)
		tok.limit, tok.number = limit, true
		return
	}
	t.tally.each(source.Warning, "NEGATIVE_VALUE", ref, "%q is negative, which no concentration can be; if the laboratory means \"below %s\", say so for this sheet, else correct the cell", clip(cell.text), strings.TrimLeft(clip(storedText(cell.text)), "-−–"))
	*tok = noNumber(quantity.Unusable)
}
