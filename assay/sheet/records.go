package sheet

import (
	"math"
	"strings"

	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// Records is a plain table: a heading row of texts and a record in every row
// below. Field sheets and titration readings are of this kind.
type Records struct {
	File, Sheet string
	HeaderRow   int // 1-based
	Title       []string
	Fields      []Field
	Rows        []Record
}

// Field is one column of Records.
type Field struct {
	Name string // heading without its unit
	Unit string // as printed, from brackets in the heading or a row beneath it
	Ref  string // cell of the heading
}

// Record is one row; Cells stand in the order of the fields.
type Record struct {
	Row   int // 1-based
	Cells []RecordCell
	of    *Records
}

// RecordCell is one entry: always its text, and its number when it is one.
type RecordCell struct {
	Text  string
	Value float64        // NaN where Class is not Measured
	Class quantity.Class // Measured for a number, Missing for an empty cell, Unusable for other text
	Limit float64        // for Below and Above, NaN when not stated
	Date  bool           // Text is a date in ISO form
	At    source.Cell
}

// Empty reports whether nothing is entered.
func (c RecordCell) Empty() bool { return c.Text == "" }

// Index returns the place of the first field that has one of the names, or -1.
// Names are compared without regard to case, spaces, hyphens and underscores.
func (r *Records) Index(names ...string) int {
	for _, name := range names {
		key := fieldKey(name)
		for i, f := range r.Fields {
			if fieldKey(f.Name) == key {
				return i
			}
		}
	}
	return -1
}

// Has reports whether there is a field with one of the names.
func (r *Records) Has(names ...string) bool { return r.Index(names...) >= 0 }

// Cell returns the entry of rec under the first field with one of the names
// that is not empty; ok is false when there is none.
func (r *Records) Cell(rec Record, names ...string) (c RecordCell, ok bool) {
	for _, name := range names {
		i := r.Index(name)
		if i < 0 || i >= len(rec.Cells) {
			continue
		}
		if !rec.Cells[i].Empty() {
			return rec.Cells[i], true
		}
		if c.At.IsZero() {
			c = rec.Cells[i]
		}
	}
	if c.At.IsZero() {
		c.Value, c.Limit, c.Class = math.NaN(), math.NaN(), quantity.Missing
	}
	return c, false
}

// Text returns the text of an entry and its address; both are empty when
// there is no such field.
func (r *Records) Text(rec Record, names ...string) (string, source.Cell) {
	c, _ := r.Cell(rec, names...)
	return c.Text, c.At
}

// Number returns an entry as a quantity in the unit of its field. An entry
// that is no number has class Unusable, and UNote says what is wrong with it.
func (r *Records) Number(rec Record, names ...string) quantity.Quantity {
	for _, name := range names {
		i := r.Index(name)
		if i < 0 || i >= len(rec.Cells) || rec.Cells[i].Empty() {
			continue
		}
		c := rec.Cells[i]
		if c.Class == quantity.Measured {
			return quantity.New(c.Value, r.Fields[i].Unit, "the sheet states no uncertainty", c.At)
		}
		q := quantity.None(c.Class, c.Limit, r.Fields[i].Unit, c.At)
		if c.Class == quantity.Unusable {
			q.UNote = `"` + clip(c.Text) + `" ` + whyNotNumber(c.Text, marks{'.'})
		}
		return q
	}
	c, _ := r.Cell(rec, names...)
	if c.At.IsZero() {
		return quantity.None(quantity.Missing, math.NaN(), "")
	}
	return quantity.None(quantity.Missing, math.NaN(), "", c.At)
}

// Text returns the text under the first field with one of the names.
func (rec Record) Text(names ...string) string {
	if rec.of == nil {
		return ""
	}
	s, _ := rec.of.Text(rec, names...)
	return s
}

// Number returns the entry under one of the names as a quantity; see
// Records.Number.
func (rec Record) Number(names ...string) quantity.Quantity {
	if rec.of == nil {
		return quantity.None(quantity.Missing, math.NaN(), "")
	}
	return rec.of.Number(rec, names...)
}

// Cell returns the entry under one of the names; see Records.Cell.
func (rec Record) Cell(names ...string) (RecordCell, bool) {
	if rec.of == nil {
		return RecordCell{Value: math.NaN(), Limit: math.NaN(), Class: quantity.Missing}, false
	}
	return rec.of.Cell(rec, names...)
}

func fieldKey(s string) string {
	s, _ = foldSpaces(s)
	return fieldSigns.Replace(strings.ToLower(foldSigns(s)))
}

var fieldSigns = strings.NewReplacer(" ", "", "_", "", "-", "", ".", "", ":", "")
