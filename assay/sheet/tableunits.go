package sheet

import (
	"strings"

	"smeltbook/assay/chem"
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

// unitsFromTitles reads, in a table on its side, the titles between its rows
// ("wt%", "Trace elements (ppm)"): each states the unit of the results below it,
// up to the next.
func (t *tableReader) unitsFromTitles() {
	if !t.v.turned {
		return
	}
	var current *unit
	for i := range t.cols {
		c := &t.cols[i]
		switch {
		case c.Role == RoleEmpty && c.Header != "":
			u, ok := parseUnit(c.Header)
			if !ok {
				u, ok = unitInClause(foldSigns(c.Header), true)
			}
			if current = nil; ok && u.refuse == "" {
				current = &u
			}
		case current != nil && (c.Role == RoleAnalyte || c.Role == RoleTotal) && c.unit == nil:
			c.unit, c.UnitFrom = current, "title above it"
			t.tally.or(setting{"units", c.Header, otherUnit(*current)}).habit(source.Note, "UNIT_FROM_GROUP_HEADER", c.Ref, "the units were taken from the titles between the rows (%s)")
		}
	}
}

// unitsFromTexts uses a unit that a title, a remark beside the headings or a
// footnote states for all columns, or for oxides and elements apart.
func (t *tableReader) unitsFromTexts() {
	type text struct {
		s     string
		title bool
		from  string
	}
	var texts []text
	if t.name >= 0 {
		texts = append(texts, text{t.cols[t.name].Header, true, "heading of the names"})
	}
	for _, s := range t.remarks {
		texts = append(texts, text{s, true, "remark beside the headings"})
	}
	for _, s := range t.table.Title {
		texts = append(texts, text{s, true, "title"})
	}
	for _, s := range t.table.Footnotes {
		texts = append(texts, text{s, false, "footnote"})
	}
	for _, x := range texts {
		stated := statedUnits(x.s, x.title)
		if len(stated) == 0 {
			continue
		}
		used := false
		var taken []setting
		for i := range t.cols {
			c := &t.cols[i]
			if (c.Role != RoleAnalyte && c.Role != RoleTotal) || c.unit != nil {
				continue
			}
			about := "oxides"
			if a, _ := chem.LookupAnalyte(c.Analyte); a.Kind == chem.Element || a.Kind == chem.Metal || a.Kind == chem.Species {
				about = "elements"
			}
			u, ok := stated[about]
			if !ok {
				u, ok = stated[""]
			}
			if ok {
				c.unit, c.UnitFrom, used = &u, x.from, true
				taken = []setting{{"unit", "", otherUnit(u)}}
			}
		}
		if used {
			t.tally.or(taken...).each(source.Note, "UNIT_FROM_TEXT", t.v.ref(t.b.header, t.b.c0), "units were taken from the %s %q", x.from, clip(x.s))
		}
	}
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
