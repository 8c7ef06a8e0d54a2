package report

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"smeltbook/assay"
	"smeltbook/assay/quantity"
	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
	"smeltbook/report/page"
)

// widestValues is how many letters a row of values may have; more analytes go
// into a further table, so that each fits on paper.
const widestValues = 170

// valueSheet is the values of one laboratory sheet by one method, which stand
// there as samples by analytes or the other way round, so that the place of
// each is told by its line and its column.
type valueSheet struct {
	file, sheet, method string
	across              bool // samples stand side by side, analytes in lines
	lines               []valueLine
	analytes            []valueColumn
}

// valueLine is an analysis of a sample with the line of the sheet it stands in;
// the column where samples stand side by side.
type valueLine struct {
	sample *assay.Sample
	place  string
	values map[string]sheet.Value
}

// valueColumn is an analyte with its column, or its line, in the sheet.
type valueColumn struct {
	analyte, place, unit string
}

// strayValue is one that stands in no such sheet, such as a determination from
// readings.
type strayValue struct {
	sample *assay.Sample
	method string
	value  sheet.Value
}

// sheetsOf sorts all values into sheets and those that fit into none.
func sheetsOf(samples []*assay.Sample) (sheets []*valueSheet, rest []strayValue) {
	for _, s := range samples {
		for _, a := range s.Assays {
			var values []sheet.Value
			for _, v := range a.Values {
				if v.Class != quantity.Missing || strings.TrimSpace(v.Raw) != "" {
					values = append(values, v)
				}
			}
			if len(values) == 0 {
				continue
			}
			if a.Determination == nil && slices.ContainsFunc([]bool{false, true}, func(across bool) bool {
				return addAnalysis(&sheets, s, a.Method, values, across)
			}) {
				continue
			}
			for _, v := range values {
				rest = append(rest, strayValue{s, a.Method, v})
			}
		}
	}
	return sheets, rest
}

// addAnalysis puts an analysis into its sheet; false where it does not stand
// there in one line, with each analyte where the others have it.
func addAnalysis(sheets *[]*valueSheet, s *assay.Sample, method string, values []sheet.Value, across bool) bool {
	var to *valueSheet
	var new []valueColumn
	line := valueLine{sample: s, values: map[string]sheet.Value{}}
	for i, v := range values {
		if len(v.From) == 0 || v.Raw == "" {
			return false
		}
		at := v.From[0]
		place, column := splitRef(at.Ref)
		if across {
			place, column = column, place
		}
		if i == 0 {
			line.place = place
			for _, x := range *sheets {
				if x.file == at.File && x.sheet == at.Sheet && x.method == method && x.across == across {
					to = x
				}
			}
			if to == nil {
				to = &valueSheet{file: at.File, sheet: at.Sheet, method: method, across: across}
			}
		}
		if _, twice := line.values[v.Analyte]; twice || place == "" || place != line.place || at.File != to.file || at.Sheet != to.sheet {
			return false
		}
		line.values[v.Analyte] = v
		k := slices.IndexFunc(to.analytes, func(c valueColumn) bool { return c.analyte == v.Analyte })
		switch {
		case k < 0:
			new = append(new, valueColumn{v.Analyte, column, v.Unit})
		case to.analytes[k].place != column || to.analytes[k].unit != v.Unit:
			return false
		}
	}
	if len(to.lines) == 0 {
		*sheets = append(*sheets, to)
	}
	to.lines, to.analytes = append(to.lines, line), append(to.analytes, new...)
	return true
}

// splitRef splits the address of a cell into line and column, "7" and "B".
func splitRef(ref string) (line, column string) {
	at := strings.IndexAny(ref, "0123456789")
	if at < 1 {
		return "", ""
	}
	return ref[at:], ref[:at]
}

// tables prints the sheet, in several tables where it is wide.
func (s *valueSheet) tables() []*page.Table {
	line, column := "row", "column"
	if s.across {
		line, column = column, line
	}
	var out []*page.Table
	for from := 0; from < len(s.analytes); {
		to, letters := from, 0
		for ; to < len(s.analytes); to++ {
			letters += s.letters(s.analytes[to])
			if letters > widestValues && to > from {
				break
			}
		}
		t := &page.Table{
			Caption:  fmt.Sprintf("Every value of %s by %s, as it stands in its cell; beside it its standard uncertainty, or what was read of it in wt%%.", source.Cell{File: s.file, Sheet: s.sheet}.String(), s.method),
			Columns:  []page.Column{{Head: "sample"}, {Head: line}},
			Notes:    s.notes(s.analytes[from:to]),
			Sortable: true, Filterable: true, Long: true, Compact: true,
		}
		if from > 0 || to < len(s.analytes) {
			t.Caption += fmt.Sprintf(" Analytes %d to %d of %d.", from+1, to, len(s.analytes))
		}
		for _, a := range s.analytes[from:to] {
			t.Columns = append(t.Columns, page.Column{Head: formulaText(a.analyte), Unit: a.unit, Sub: column + "\u00a0" + a.place, Numeric: true})
		}
		for _, l := range s.lines {
			row := page.Row{Sample: l.sample.ID, Side: sideOfOrigin(l.sample), Cells: []page.Cell{textCell(l.sample.ID), textCell(l.place)}}
			for _, a := range s.analytes[from:to] {
				row.Cells = append(row.Cells, writtenCell(l.values[a.analyte]))
			}
			t.Rows = append(t.Rows, row)
		}
		out = append(out, t)
		from = to
	}
	return out
}

// letters is the most that a column of values takes.
func (s *valueSheet) letters(a valueColumn) int {
	most := 0
	for _, l := range s.lines {
		c := writtenCell(l.values[a.analyte])
		most = max(most, utf8.RuneCountInString(c.Text)+utf8.RuneCountInString(c.Sub)+2)
	}
	return most
}

// notes say where the uncertainties come from: once where it is the same for
// all, else by analyte, and by sample where they differ.
func (s *valueSheet) notes(analytes []valueColumn) []string {
	type use struct {
		why      string
		analytes []string
		of       []string // samples, where others have another reason
	}
	var uses []use
	for _, a := range analytes {
		var whys []string
		samples := map[string][]string{}
		for _, l := range s.lines {
			v, ok := l.values[a.analyte]
			if !ok || v.UNote == "" {
				continue
			}
			if samples[v.UNote] == nil {
				whys = append(whys, v.UNote)
			}
			samples[v.UNote] = append(samples[v.UNote], l.sample.ID)
		}
		for _, why := range whys {
			var of []string
			if len(whys) > 1 {
				of = samples[why]
			}
			k := slices.IndexFunc(uses, func(u use) bool { return u.why == why && slices.Equal(u.of, of) })
			if k < 0 {
				k, uses = len(uses), append(uses, use{why: why, of: of})
			}
			uses[k].analytes = append(uses[k].analytes, formulaText(a.analyte))
		}
	}
	var out []string
	for _, u := range uses {
		text := "± " + u.why
		if len(uses) > 1 {
			text = "± of " + list(u.analytes)
			if len(u.of) > 0 {
				text += " in " + list(u.of)
			}
			text += ": " + u.why
		}
		out = append(out, text+".")
	}
	return out
}

// writtenCell prints a value as it stands in its cell, and below it what the
// text does not say: its uncertainty where it is the value in wt%, else what was
// read.
func writtenCell(v sheet.Value) page.Cell {
	if v.Raw == "" {
		return page.Cell{}
	}
	read := cellOf(v.Quantity)
	c := page.Cell{Text: v.Raw, Class: read.Class, Sub: strings.TrimSpace(read.Text + " " + read.Sub)}
	switch {
	case v.Unit == "wt%" && v.Known():
		c.Sort, c.Sub = read.Sort, read.Sub
	case strings.ReplaceAll(c.Sub, " ", "") == strings.ReplaceAll(v.Raw, " ", ""):
		c.Sub = ""
	case v.Known() && c.Sub != "": // under the heading of another unit
		c.Sub += " wt%"
	}
	return c
}

// restTable lists values one by one.
func restTable(rest []strayValue) *page.Table {
	t := &page.Table{
		Caption: "Every other laboratory value behind this report: as it stands in its cell, as wt%, and where it stands.",
		Columns: []page.Column{{Head: "sample"}, {Head: "analyte"}, {Head: "as written", Numeric: true}, {Head: "unit"},
			{Head: "read as", Unit: "wt%", Numeric: true}, {Head: "± from"}, {Head: "method"}, {Head: "file and sheet"}, {Head: "cell"}},
		Sortable: true, Filterable: true, Long: true, Compact: true,
	}
	for _, r := range rest {
		v := r.value
		read := inOneLine(cellOf(v.Quantity))
		read.Note = ""
		where, ref := "", ""
		if len(v.From) > 0 {
			where, ref = source.Cell{File: v.From[0].File, Sheet: v.From[0].Sheet}.String(), v.From[0].Ref
		}
		t.Rows = append(t.Rows, page.Row{Sample: r.sample.ID, Side: sideOfOrigin(r.sample), Cells: []page.Cell{
			textCell(r.sample.ID), textCell(formulaText(v.Analyte)), textCell(v.Raw), textCell(v.Unit), read, textCell(v.UNote), textCell(r.method), textCell(where), textCell(ref)}})
	}
	return t
}
