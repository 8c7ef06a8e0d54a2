package sheet

import (
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// limits takes the limit rows into the columns, before any value is read.
func (t *tableReader) limits() {
	for i, k := range t.kinds {
		row := t.b.header + i
		if k != rowLimit {
			continue
		}
		name := t.nameText(row)
		at := t.v.ref(row, t.b.c0)
		if name == "" {
			if filled := t.filledIn(row); len(filled) > 0 {
				name, _ = foldSpaces(t.v.at(row, filled[0]).text)
			}
		}
		what, u, hasUnit, _ := limitRow(name)
		t.takeLimit(row, what, u, hasUnit)
		t.tally.or(setting{"samples", "", name}).each(source.Note, "LIMIT_ROW", at, "the row %q holds limits; they were used for values below them, and the row is no sample", clip(name))
	}
}

// rows reads the samples and controls: first who they are, then every value
// once, to tell and to check. The values are not kept: Table.Row reads them
// again from the cells, which take a tenth of the room.
func (t *tableReader) rows() {
	for i := range t.cols {
		if c := &t.cols[i]; c.Role == RoleAnalyte {
			c.order = t.values
			t.values++
		}
	}
	t.places()
	t.reportTwice()
	for _, title := range t.table.Title {
		t.control = t.control || controlTitle(title)
	}
	for i, k := range t.kinds {
		row := t.b.header + i
		switch k {
		case rowStat:
			t.statRow(row)
		case rowUncertain:
			if !t.attachBelow(row) {
				t.statRow(row)
			}
		case rowNote:
			t.control = !t.v.turned && controlTitle(t.firstText(row))
		case rowMethod:
			t.methods(row)
		case rowData:
			t.table.heads = append(t.table.heads, t.head(row))
		}
	}
	t.replicates()
	var room rowRoom
	for i := range t.table.heads {
		row := t.row(&t.table.heads[i], &room)
		t.check(&row)
	}
	t.ignoredErrors()
}

// statRow tells of a row that is no measurement of its own.
func (t *tableReader) statRow(row int) {
	name := t.firstText(row)
	to := t.tally.or(setting{"samples", "", name})
	if certified(name) {
		to.each(source.Note, "STAT_ROW", t.v.ref(row, t.b.c0), "the row %q holds values that others state, not a measurement, and was left out", clip(name))
		return
	}
	to.each(source.Note, "STAT_ROW", t.v.ref(row, t.b.c0), "the row %q is a statistic of other rows and was left out", clip(name))
}

func (t *tableReader) firstText(row int) string {
	if name := t.nameText(row); name != "" {
		return name
	}
	if filled := t.filledIn(row); len(filled) > 0 {
		s, _ := foldSpaces(t.v.at(row, filled[0]).text)
		return s
	}
	return ""
}

func (t *tableReader) methods(row int) {
	for i := range t.cols {
		if c := &t.cols[i]; c.Role == RoleAnalyte {
			if s, _ := foldSpaces(t.v.shown(row, c.index).text); s != "" {
				c.Method = s
			}
		}
	}
}

// rowUnit reads the unit that a row states for all its results.
func (t *tableReader) rowUnit(row int) *unit {
	at := t.unitColumn()
	if at < 0 {
		return nil
	}
	c := &t.cols[at]
	cell := t.v.shown(row, c.index)
	ref := t.v.ref(row, c.index)
	if cell.empty() {
		for _, other := range t.cols {
			if other.Role == RoleAnalyte && other.unit == nil {
				t.tally.habit(source.Error, "UNIT_MISSING", ref, "rows state no unit (%s), so their values cannot be used; write the unit in each row")
				break
			}
		}
		return nil
	}
	u, ok := parseUnit(cell.text)
	if !ok || u.refuse != "" {
		t.tally.each(source.Error, "UNIT_MISSING", ref, "%q is no unit of concentration that can be used, so the results of this row were left out; write wt%% or ppm", clip(cell.text))
		return nil
	}
	code := "UNIT_FROM_COLUMN"
	if t.v.turned {
		code = "UNIT_FROM_ROW"
	}
	t.tally.or(setting{"columns", c.Header, meansNote}).habit(source.Note, code, ref, "the units were taken from the unit column (%s)")
	return &u
}

// rowRoom is memory that rows are read into one after the other.
type rowRoom struct {
	values []Value
	from   []source.Cell
}

// row reads one sample or control into room.
func (t *tableReader) row(h *rowHead, room *rowRoom) Row {
	row := int(h.row)
	out := Row{Name: h.name, NameCell: t.nameCell(row), Role: RowSample, Blank: h.blank, Replicate: h.replicate}
	if h.control {
		out.Role = RowControl
	}
	out.Plain, out.Footnote = t.unmarked(h.name)
	unit := t.rowUnit(row)
	if room.from == nil {
		room.from = make([]source.Cell, t.values)
		room.values = make([]Value, 0, t.values)
	}
	from := room.from
	out.Values = room.values[:0]
	for i := range t.cols {
		c := &t.cols[i]
		switch c.Role {
		case RoleAnalyte:
			from[c.order] = t.at(row, c.index)
			out.Values = append(out.Values, t.value(c, row, unit, from[c.order:c.order+1:c.order+1]))
		case RoleTotal:
			if v := t.value(c, row, unit, []source.Cell{t.at(row, c.index)}); out.ReportedTotal == nil && v.Class != quantity.Missing {
				out.ReportedTotal = &v
			}
		case RoleText, RoleIgnored:
			t.text(c, row, &out)
		}
	}
	t.ownMethod(&out)
	return out
}

// text keeps a note of the row under its heading.
func (t *tableReader) text(c *column, row int, out *Row) {
	cell := t.v.shown(row, c.index)
	if cell.empty() || c.Header == "" && c.Role == RoleIgnored {
		return
	}
	s, _ := foldSpaces(cell.text)
	if cell.kind == kindNumber {
		s = storedText(s)
	}
	key := c.Header
	if key == "" {
		key = c.Ref
	}
	if out.Text == nil {
		out.Text = map[string]string{}
	}
	out.Text[key] = s
	if cell.kind == kindText {
		t.formulaText(s, t.v.ref(row, c.index))
	}
}

// ownMethod gives the method that a row states to those of its values for which
// no heading states one.
func (t *tableReader) ownMethod(out *Row) {
	for heading, method := range out.Text {
		if !methodWords[word(heading)] {
			continue
		}
		for i := range out.Values {
			if out.Values[i].Method == "" {
				out.Values[i].Method = method
			}
		}
	}
}

// formulaText reports texts that a spreadsheet program would run.
func (t *tableReader) formulaText(s, ref string) {
	if !startsFormula(s) || isDash(s) {
		return
	}
	if _, _, ok := parseNumber(s, marks{'.'}); ok {
		return
	}
	t.tally.habit(source.Warning, "FORMULA_TEXT", ref, "texts that a spreadsheet program would run as a formula were kept as plain text (%s)")
}

// ignoredErrors reports spreadsheet errors in columns that are not read.
func (t *tableReader) ignoredErrors() {
	for _, c := range t.cols {
		if c.Role != RoleIgnored && c.Role != RoleText {
			continue
		}
		for i, k := range t.kinds {
			cell := t.v.at(t.b.header+i, c.index)
			if k != rowData || (cell.kind != kindError && !(cell.kind == kindText && errorWords[cell.text])) {
				continue
			}
			t.tally.each(source.Warning, "CELL_ERROR", t.v.ref(t.b.header+i, c.index), "%q is an error of the spreadsheet in a column that is not used", clip(cell.text))
		}
	}
}

// reportTwice tells where one analyte has two columns by the same method.
func (t *tableReader) reportTwice() {
	seen := map[string]int{}
	for i, c := range t.cols {
		if c.Role != RoleAnalyte {
			continue
		}
		key := c.Analyte + "\x00" + c.Method + "\x00" + c.Basis
		if j, twice := seen[key]; twice {
			t.tally.or(setting{"columns", c.Ref, meansIgnore}).each(source.Warning, "DUPLICATE_ANALYTE", c.Ref, "%s has two columns (%s and %s); both were kept, and the first with a number is used unless you leave one out", c.Analyte, t.cols[j].Ref, c.Ref)
			continue
		}
		seen[key] = i
	}
}
