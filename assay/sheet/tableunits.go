package sheet

import (
	"strings"

	"smeltbook/assay/source"
)

// units gives every result column its unit: from the heading, the row under
// the names, the row or group heading above them, the texts around the table,
// a unit column, the caller. It never comes from the size of the numbers.
func (t *tableReader) units() {
	t.unitsFromSubRow()
	for i := range t.cols {
		c := &t.cols[i]
		if c.Role != RoleAnalyte && c.Role != RoleTotal && c.Role != RoleUncertainty && c.Role != RoleLimit {
			continue
		}
		if c.unit == nil {
			c.unit = c.head.unit
		}
		if u := t.reading.statedUnit(c.Header, c.Ref); u != nil {
			c.unit, c.UnitFrom, c.unitStated = u, ownSetting, true
		}
		if c.unit == nil && t.reading.Unit != "" && (c.Role == RoleAnalyte || c.Role == RoleTotal) && t.unitColumn() < 0 {
			u, _ := parseUnit(t.reading.Unit)
			c.unit, c.UnitFrom = &u, ownSetting
		}
		if c.Role == RoleAnalyte || c.Role == RoleTotal {
			t.fromAbove(c)
		}
	}
	t.unitsFromTitles()
	t.unitsFromTexts()
	for i := range t.cols {
		c := &t.cols[i]
		if (c.Role != RoleAnalyte && c.Role != RoleTotal) || c.unit != nil || t.unitColumn() >= 0 {
			continue
		}
		switch {
		case t.percentColumn(c):
			c.unit, c.UnitFrom = &unit{"wt%", 1, ""}, "percent format of the cells"
		case c.Role == RoleTotal || c.Analyte == "LOI" || c.Analyte == "GOI":
			if t.anyUnit("wt%") {
				c.unit, c.UnitFrom = &unit{"wt%", 1, ""}, "the other columns"
			}
		}
		if c.unit == nil && c.Role == RoleAnalyte {
			t.tally.or(setting{"unit", "", "wt%"}).habit(source.Error, "UNIT_MISSING", c.Ref, "no unit is stated for these columns (%s), so their values cannot be used; write the unit in the heading, or state it for this sheet")
		}
	}
	for i := range t.cols {
		c := &t.cols[i]
		if c.Role == RoleAnalyte && c.unit != nil && c.unit.refuse != "" {
			c.Role, c.Reason = RoleIgnored, c.unit.refuse
			t.tally.or(setting{"units", c.Header, "wt%"}).each(source.Warning, "UNKNOWN_COLUMN", c.Ref, "the column %q is in %s and was left out: %s", clip(c.Header), c.unit.name, c.unit.refuse)
		}
	}
	for i := range t.cols { // columns that belong to one that was left out
		if c := &t.cols[i]; c.of >= 0 && t.cols[c.of].Role != RoleAnalyte {
			c.Role, c.Reason = RoleIgnored, "belongs to a column that was left out"
		}
	}
}

// unitsFromSubRow reports the row under the names, whose units were taken when
// the headings were read, or takes them now where it was found later.
func (t *tableReader) unitsFromSubRow() {
	if len(t.subRow) == 0 {
		return
	}
	used := false
	var taken []setting
	code, where := "UNIT_FROM_ROW", "the row under the names"
	if t.v.turned {
		code, where = "UNIT_FROM_COLUMN", "the column beside the names"
	}
	for i := range t.cols {
		c := &t.cols[i]
		if h := t.parse.parse(t.v.at(t.subRow[0], c.index).text); h.unit != nil && h.marker == nil {
			if c.head.unit == nil {
				c.head.unit = h.unit
			}
			if c.UnitFrom == "" || c.UnitFrom == "row under the names" {
				c.UnitFrom = strings.TrimPrefix(where, "the ")
			}
			if c.unit == nil && c.Role == RoleAnalyte {
				c.unit = c.head.unit
			}
			used = true
			if c.Role == RoleAnalyte {
				taken = append(taken, setting{"units", c.Header, otherUnit(*h.unit)})
			}
		}
	}
	if used {
		t.tally.or(taken...).each(source.Note, code, t.v.ref(t.subRow[0], t.b.c0), "the units were taken from %s", where)
	}
}

// fromAbove looks at the two rows above the heading for unit, method and basis:
// a row of units, or group headings, merged over several names or written over
// the first of them.
func (t *tableReader) fromAbove(c *column) {
	for row := t.b.header - 1; row >= max(t.b.header-2, t.b.top, 0); row-- {
		text := t.groupText(row, c.index)
		if text == "" {
			continue
		}
		if c.Method == "" && isMethod(text) {
			c.Method = strings.Trim(text, "()[] ")
		}
		if b, ok := basisOf(text); ok && c.Basis == "" {
			c.Basis = b
		}
		u, ok := unitInClause(foldSigns(text), true)
		if !ok || c.unit != nil {
			continue
		}
		c.unit, c.UnitFrom = &u, "group heading"
		code := "UNIT_FROM_GROUP_HEADER"
		if _, alone := parseUnit(text); alone && t.v.at(row, c.index).text != "" {
			c.UnitFrom, code = "row above the names", "UNIT_FROM_ROW"
		}
		t.tally.or(setting{"units", c.Header, otherUnit(u)}).habit(source.Note, code, c.Ref, "the units were taken from above the names (%s)")
	}
}

// groupText is the text over a column in a row above the names.
func (t *tableReader) groupText(row, c int) string {
	if cell := t.v.shown(row, c); !cell.empty() {
		if _, merged := t.v.g.merged[gridKey(t.v, row, c)]; !merged && len(t.v.filled(row)) < 2 {
			return ""
		}
		s, _ := foldSpaces(cell.text)
		return s
	}
	if len(t.v.filled(row)) < 2 || hasNumbers(t.v, row) {
		return ""
	}
	for left := c - 1; left >= t.b.c0; left-- {
		if cell := t.v.shown(row, left); !cell.empty() {
			if _, merged := t.v.g.merged[gridKey(t.v, row, left)]; merged {
				return "" // a merged heading covers its own columns only
			}
			s, _ := foldSpaces(cell.text)
			return s
		}
	}
	return ""
}

const ownSetting = "your own setting"

// otherUnit is the one to write where this one is wrong.
func otherUnit(u unit) string {
	if u.name == "wt%" {
		return "ppm"
	}
	return "wt%"
}

// unitColumn returns the column that states a unit for each row, or -1.
func (t *tableReader) unitColumn() int {
	for i, c := range t.cols {
		if c.Role == RoleUnit {
			return i
		}
	}
	return -1
}

func (t *tableReader) anyUnit(name string) bool {
	for _, c := range t.cols {
		if c.unit != nil && c.unit.name == name && c.Role == RoleAnalyte {
			return true
		}
	}
	return false
}

// percentColumn reports columns of which every number has a percent format.
func (t *tableReader) percentColumn(c *column) bool {
	found := false
	for i, k := range t.kinds {
		if k != rowData {
			continue
		}
		cell := t.v.at(t.b.header+i, c.index)
		if cell.kind == kindNumber {
			if !cell.percent {
				return false
			}
			found = true
		}
	}
	return found
}
