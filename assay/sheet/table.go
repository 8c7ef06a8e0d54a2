package sheet

import (
	"iter"

	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// Table is an assay table: a heading with two or more analytes, and a row for
// every sample below it (or the same turned on its side).
type Table struct {
	File, Sheet string
	HeaderRow   int // 1-based; when Transposed the 1-based column of the headings
	Transposed  bool
	Title       []string // texts above the headings
	Footnotes   []string // texts below the last row
	Columns     []Column // every column of the table, used or not

	heads []rowHead
	read  *tableReader
}

// rowHead is what is kept of a row.
type rowHead struct {
	row            int32 // in the view
	control, blank bool
	name           string
	replicate      string
}

// Len returns the number of rows: samples and controls.
func (t *Table) Len() int { return len(t.heads) }

// Row returns a row, counted from 0. It is put together anew each time it is
// asked for, since the values of a large table would fill the memory.
func (t *Table) Row(i int) Row { return t.read.row(&t.heads[i], &rowRoom{}) }

// Rows returns all rows in the order of the sheet.
func (t *Table) Rows() iter.Seq[Row] {
	return func(yield func(Row) bool) {
		for i := range t.heads {
			if !yield(t.Row(i)) {
				return
			}
		}
	}
}

// Column tells how one column was understood (one row, when transposed).
type Column struct {
	Header   string // as printed, spaces trimmed
	Ref      string // cell of the heading
	Role     ColumnRole
	Analyte  string // for RoleAnalyte, RoleUncertainty and RoleLimit
	Unit     string // canonical unit, "wt%", "ppm"
	UnitFrom string // where the unit was found; empty when there is none
	Method   string // method tag, "XRF"
	Basis    string // "dry", "ignited", "normalised", …
	Reason   string // why the column is not used, or what was assumed
}

// ColumnRole says what a column holds.
type ColumnRole string

const (
	RoleName        ColumnRole = "name"
	RoleAnalyte     ColumnRole = "analyte"
	RoleUncertainty ColumnRole = "uncertainty"
	RoleLimit       ColumnRole = "limit"
	RoleTotal       ColumnRole = "total"
	RoleUnit        ColumnRole = "unit"
	RoleText        ColumnRole = "text"    // notes kept in Row.Text
	RoleIgnored     ColumnRole = "ignored" // not used; Reason says why
	RoleEmpty       ColumnRole = "empty"
)

// RowRole says what a row of a table stands for.
type RowRole string

const (
	RowSample  RowRole = "sample"
	RowControl RowRole = "control" // blank, reference material or other control
)

// Row is one sample, or one control, of a table.
type Row struct {
	Name     string
	NameCell source.Cell
	Role     RowRole
	Blank    bool // a control that is a blank
	// Replicate is the name of the sample that this row repeats; empty for
	// the first measurement of a sample.
	Replicate string
	// Plain is the name without a mark at its end ("*") that a footnote of the
	// table explains, and Footnote what it says; both empty without such a mark.
	Plain, Footnote string
	Values          []Value           // one for each analyte column, in column order
	ReportedTotal   *Value            // the total the laboratory printed; a check, never an analyte
	Text            map[string]string // notes by heading; nil when there are none
}

// Value is one result: wt% of the analyte as labelled, without conversion to
// oxide. U is a standard uncertainty, and UNote says how it was read.
type Value struct {
	Analyte string
	quantity.Quantity
	Raw    string // as in the cell
	Unit   string // unit read, in which Raw is; Quantity.Unit is always wt%
	Method string
	Basis  string
	Flags  []string // "approximate", "in brackets", text of a footnote, …
}

// Value returns the value of an analyte; ok is false where the row has none.
// Where two methods gave the analyte it is the first that holds a number.
func (r Row) Value(analyte string) (v Value, ok bool) {
	for _, w := range r.Values {
		if w.Analyte != analyte {
			continue
		}
		if w.Known() {
			return w, true
		}
		if !ok {
			v, ok = w, true
		}
	}
	return v, ok
}
