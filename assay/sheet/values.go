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
		tok.why = "is TRUE or FALSE, not a number; correct the cell or leave it empty"
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

// value reads one result and brings it to wt%.
func (t *tableReader) value(c *column, row int, rowUnit *unit) Value {
	cell := t.v.at(row, c.index)
	at := t.at(row, c.index)
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
	if cell.percent && cell.kind == kindNumber {
		tok.value *= 100
		if u == nil || u.name != "wt%" && u.name != "fraction" {
			v.Flags = append(v.Flags, "shown as percent")
		}
		u = &unit{"wt%", 1, ""}
		t.tally.habit(source.Note, "PERCENT_FORMAT", at.Ref, "cells are shown with a percent format; the stored fractions were taken times 100 (%s)")
	}
	if tok.nd && t.nd != "" {
		tok.class = quantity.Class(t.nd)
	}
	t.limitElsewhere(c, row, &tok, &v, u)
	for _, m := range strings.Split(tok.marks, "") {
		if m == "" {
			continue
		}
		text := t.notes[m]
		if text == "" {
			text = "marked " + m
		}
		v.Flags = append(v.Flags, text)
	}
	if u == nil || u.refuse != "" {
		if tok.number {
			tok = noNumber(quantity.Unusable)
			v.UNote = "no unit is stated"
		}
		v.Quantity = quantity.None(tok.class, math.NaN(), "wt%", at)
		v.UNote = strings.TrimSpace(v.UNote)
		return v
	}
	v.Unit = u.name
	if c.head.analyte == "GOI" {
		tok.value = -tok.value
	}
	t.negative(c, &tok, cell, at.Ref)
	if tok.class != quantity.Measured {
		v.Quantity = quantity.None(tok.class, u.wt(tok.limit), "wt%", at)
		return v
	}
	v.Quantity = quantity.New(u.wt(tok.value), "wt%", "the sheet states no uncertainty", at)
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

// limitElsewhere finds the number behind "<LOD".
func (t *tableReader) limitElsewhere(c *column, row int, tok *token, v *Value, u *unit) {
	if tok.class != quantity.Below || !math.IsNaN(tok.limit) || u == nil {
		return
	}
	for _, l := range c.limits {
		if l.what == tok.limits && l.unit.factor > 0 && u.factor > 0 {
			tok.limit = l.value * l.unit.factor / u.factor
			return
		}
	}
	beside := func(i int) (float64, bool) {
		if i < 0 {
			return 0, false
		}
		lt := t.cellToken(&t.cols[i], t.v.at(row, t.cols[i].index))
		x := lt.value
		if lt.class == quantity.Below {
			x = lt.limit
		}
		if !(x >= 0) {
			return 0, false
		}
		if w := t.cols[i].unit; w != nil && w.factor > 0 && u.factor > 0 {
			x *= w.factor / u.factor
		}
		return x, true
	}
	if c.lim >= 0 && t.cols[c.lim].marker.limit == tok.limits {
		if x, ok := beside(c.lim); ok {
			tok.limit = x
			return
		}
	}
	if c.u < 0 || t.cols[c.u].marker.relative {
		return
	}
	if x, ok := beside(c.u); ok {
		if t.errLOD || t.reading.ErrorIsLimit {
			tok.limit = x
			return
		}
		v.Flags = append(v.Flags, "the error column beside it reads "+storedText(t.v.at(row, t.cols[c.u].index).text)+" "+u.name)
	}
}

// uncertainty reads the uncertainty of a value, from its own cell or from the
// column beside it, as a standard uncertainty.
func (t *tableReader) uncertainty(c *column, row int, tok token, u *unit, v *Value) {
	m := marker{k: math.NaN(), note: noteUnknownK}
	x := tok.u
	own := u
	ref := t.v.ref(row, c.index)
	if math.IsNaN(x) {
		if c.u < 0 {
			return
		}
		uc := &t.cols[c.u]
		m = uc.marker
		cell := t.v.at(row, uc.index)
		ref = t.v.ref(row, uc.index)
		ut := t.cellToken(uc, cell)
		if ut.class != quantity.Measured {
			v.UNote = "the sheet states no uncertainty for this value"
			if ut.class == quantity.Unusable {
				t.reportCell(uc, cell, ut, ref)
			}
			return
		}
		x = ut.value
		if cell.percent {
			x *= 100
		}
		switch {
		case m.relative:
		case ut.unit != nil:
			own = ut.unit
		case uc.unit != nil:
			own = uc.unit
		}
		if !m.relative && own.name == "wt%" && u.name != "wt%" {
			v.UNote = "stated in percent, of the value or of the mass is not said; not used"
			t.tally.habit(source.Warning, "UNCERTAINTY_UNIT", ref, "an uncertainty in percent stands beside a value in another unit and was not used (%s); write RSD% if it is relative")
			return
		}
	}
	if x < 0 || math.IsNaN(x) || own.refuse != "" {
		v.UNote = "the stated uncertainty is no usable number"
		return
	}
	note := m.note
	k := m.k
	if math.IsNaN(k) {
		switch t.sigma {
		case 1:
			k, note = 1, noteOneSigma
		case 2:
			k, note = 2, noteTwoSigma
		default:
			k = 1
			t.tally.habit(source.Warning, "UNCERTAINTY_K_UNKNOWN", ref, "uncertainties are stated without coverage factor and were taken as one standard deviation (%s); ask the laboratory")
		}
	}
	abs := own.wt(x)
	if m.relative {
		abs = math.Abs(v.Value) * x / 100
	}
	v.U, v.UNote = abs/k, note
}
