package sheet

import (
	"smeltbook/assay/chem"
	"smeltbook/assay/source"
)

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
