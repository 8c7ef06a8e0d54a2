package wetlab

import (
	"math"
	"slices"
	"strings"

	"smeltbook/assay/quantity"
	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
)

// Sheet is one sheet of readings as it was understood.
type Sheet struct {
	File, Sheet string
	HeaderRow   int // 1-based
	Columns     []Column
	Results     []Result // one a line, in the order of the sheet
	Titrants    []Titrant
	Lines       []NamedLine
	Notices     source.Notices // about the sheet; those of a line are in its Result
}

// AllNotices returns what is said of the sheet and of its lines.
func (s Sheet) AllNotices() source.Notices {
	out := slices.Clone(s.Notices)
	for _, r := range s.Results {
		out = append(out, r.Notices...)
	}
	return out
}

// row is a line of the sheet, by what its columns hold.
type row struct {
	text     map[string]sheet.RecordCell // by role
	readings []Reading
	open     map[Key]source.Cell // cells of readings that hold nothing
	at       source.Cell
	bad      bool
}

// Read understands a plain table as a sheet of readings and works out every
// line. What cannot be is said by notices; nothing is guessed of a number.
func Read(r *sheet.Records) Sheet {
	s := Sheet{File: r.File, Sheet: r.Sheet, HeaderRow: r.HeaderRow}
	s.columns(r)
	if s.Notices.Failed() {
		return s
	}
	var rows []row
	for _, rec := range r.Rows {
		if x := s.row(rec); !x.bad {
			rows = append(rows, x)
		}
	}
	s.standardisations(rows)
	s.calibrations(rows)
	additions := map[[2]string][]row{}
	var order [][2]string
	for _, x := range rows {
		switch method := x.text[roleMethod].Text; {
		case fold(method) == fold(standardisation), fold(method) == fold(calibrationStandard):
		case fold(method) == fold(standardAddition):
			k := [2]string{x.text[roleSample].Text, x.text[roleAnalyte].Text}
			if additions[k] == nil {
				order = append(order, k)
			}
			additions[k] = append(additions[k], x)
		default:
			s.line(x)
		}
	}
	for _, k := range order {
		s.addition(additions[k])
	}
	return s
}

// row sorts the entries of a line by its columns.
func (s *Sheet) row(rec sheet.Record) row {
	x := row{text: map[string]sheet.RecordCell{}, open: map[Key]source.Cell{}}
	us := map[Key]sheet.RecordCell{}
	for i, c := range s.Columns {
		if i >= len(rec.Cells) {
			break
		}
		cell := rec.Cells[i]
		switch {
		case c.Role != "":
			x.text[c.Role] = cell
		case c.Key == "":
		case c.OfU:
			us[c.Key] = cell
		case cell.Empty() || cell.Class == quantity.Missing:
			x.open[c.Key] = cell.At
		case cell.Class != quantity.Measured:
			s.Notices.Add(source.Error, "BAD_READING", cell.At, "%q is no reading of the %s; write a plain number, or leave the cell empty", clip(cell.Text), c.Key)
			x.bad = true
		default:
			q := quantity.New(cell.Value*c.factor, string(kindOf(c.Key).dim), "the sheet states no uncertainty", cell.At)
			x.readings = append(x.readings, Reading{Key: c.Key, Quantity: q, Raw: cell.Text, RawUnit: c.Unit})
		}
	}
	for i, c := range s.Columns {
		if u, ok := us[c.Key]; c.OfU && ok && !u.Empty() && i < len(rec.Cells) {
			s.uncertainty(&x, c, u)
		}
	}
	x.at = orAt(x.text[roleSample].At, source.Cell{File: s.File, Sheet: s.Sheet})
	if !x.bad && x.text[roleSample].Empty() {
		s.Notices.Add(source.Error, "NO_SAMPLE", x.at, "this line of readings names no sample; name it, or delete the line")
		x.bad = true
	}
	return x
}

// uncertainty gives a reading the standard uncertainty beside it.
func (s *Sheet) uncertainty(x *row, c Column, u sheet.RecordCell) {
	i := slices.IndexFunc(x.readings, func(r Reading) bool { return r.Key == c.Key })
	if i < 0 {
		return
	}
	r := &x.readings[i]
	if u.Class != quantity.Measured || u.Value < 0 {
		s.Notices.Add(source.Error, "BAD_READING", u.At, "%q is no standard uncertainty of the %s; write a number of zero or more", clip(u.Text), c.Key)
		x.bad = true
		return
	}
	r.U, r.UNote = u.Value*c.factor, "stated on the sheet"
	if c.share {
		r.U *= math.Abs(r.Value)
	}
}

// line reads one determination and works it out.
func (s *Sheet) line(x row) {
	method := x.text[roleMethod]
	if method.Empty() {
		s.Notices.Add(source.Error, "NO_METHOD", orAt(method.At, x.at), "the readings of %s name no method; name it", clip(x.text[roleSample].Text))
		return
	}
	m, err := Lookup(method.Text)
	if err != nil {
		s.Notices.Add(source.Error, "UNKNOWN_WET_METHOD", method.At, "%s", err.Error())
		return
	}
	d, ok := s.determination(x, m)
	if !ok {
		return
	}
	s.fromTitrant(&d, x.text[roleTitrant])
	s.fromLine(&d, x.text[roleCalibration])
	s.Results = append(s.Results, d.Compute())
}

// determination reads what all methods have in common.
func (s *Sheet) determination(x row, m *Method) (Determination, bool) {
	d := Determination{Sample: x.text[roleSample].Text, At: x.at, Method: m, Readings: x.readings, open: x.open,
		Replicate: x.text[roleReplicate].Text, Basis: x.text[roleBasis].Text, Digestion: x.text[roleDigestion].Text}
	d.Control = sheet.IsControl(d.Sample)
	cell := x.text[roleAnalyte]
	switch {
	case !cell.Empty():
		id, ok := m.analyte(cell.Text)
		if !ok {
			s.Notices.Add(source.Error, "WRONG_ANALYTE", cell.At, "%s does not determine %q%s", m.ID, clip(cell.Text), didYouMean(cell.Text, m.Analytes))
			return d, false
		}
		d.Analyte = id
	case m.Analytes == nil:
		s.Notices.Add(source.Error, "NO_ANALYTE", orAt(cell.At, x.at), "%s of %s names no analyte; write which element or oxide was read", m.ID, clip(d.Sample))
		return d, false
	default:
		d.Analyte = m.Analytes[0]
	}
	for _, word := range strings.FieldsFunc(x.text[roleSeparated].Text, func(r rune) bool { return strings.ContainsRune(" ,;+&", r) }) {
		d.Separated = append(d.Separated, elementOf(word))
	}
	return d, true
}

func orAt(at, otherwise source.Cell) source.Cell {
	if at.IsZero() {
		return otherwise
	}
	return at
}

// analyte finds the analyte that a sheet names among those of the method. A
// method that sees all iron states it as a total whatever the sheet writes.
func (m *Method) analyte(text string) (string, bool) {
	id, ok := sheet.Analyte(text)
	switch {
	case !ok:
	case m.Determines(id):
		return id, true
	case m.Determines(id + "T"):
		return id + "T", true
	}
	return "", false
}
