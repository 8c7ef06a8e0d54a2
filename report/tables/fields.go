package tables

import (
	"fmt"
	"strings"

	"smeltbook/report/page"
	"smeltbook/report/study"
)

// Field is a column of a file: a value, what stands behind its ±, the line below
// it or its note.
type Field struct {
	Name   string
	Unit   string // of its numbers
	Sub    string // what the page says under the head
	Column int    // of the table; -1 for the side of the row
	Part   Part
}

// Part says what of a cell a field holds.
type Part int

// The parts of a cell, in the order of their fields.
const (
	Value Part = iota
	Uncertainty
	Below
	Note
)

// Fields lays out the columns of a file. Those of a column follow each other; a
// part that no cell has gets none. Names are unlike each other.
func (t Table) Fields() []Field {
	var out []Field
	seen := map[string]int{}
	add := func(f Field) {
		if seen[f.Name]++; seen[f.Name] > 1 {
			f.Name = fmt.Sprintf("%s [%d]", f.Name, seen[f.Name])
		}
		out = append(out, f)
	}
	names := t.names()
	alike := map[string]int{}
	for _, n := range names {
		alike[n]++
	}
	for i, c := range t.Columns {
		value, behind, pair := strings.Cut(names[i], " "+plusMinus+" ")
		if !pair {
			behind = value + "_u"
		} else if group, _, ok := strings.Cut(value, ": "); ok && c.Group != "" {
			behind = group + ": " + behind
		}
		unit := ""
		if c.Unit != "" {
			unit = " (" + plainText(c.Unit) + ")"
		}
		beside := value
		if alike[names[i]] > 1 { // another column differs by its unit alone
			beside += unit
		}
		add(Field{value + unit, plainText(c.Unit), plainText(c.Sub), i, Value})
		if t.any(i, func(c Cell) bool { return !c.U.Empty() }) {
			add(Field{behind + unit, plainText(c.Unit), plainText(c.Sub), i, Uncertainty})
		}
		if t.any(i, func(c Cell) bool { return c.Below != "" }) {
			add(Field{beside + "_below", "", plainText(c.Sub), i, Below})
		}
		if t.any(i, func(c Cell) bool { return c.Note != "" }) {
			add(Field{beside + "_note", "", "", i, Note})
		}
		if i == 0 && t.sided() {
			add(Field{sideHead, "", "", -1, Value})
		}
	}
	return out
}

// sideHead heads the page of the spread that rows belong to.
const sideHead = "side"

// sided tells whether rows belong to a side.
func (t Table) sided() bool {
	for _, r := range t.Rows {
		if r.Side != page.NoSide {
			return true
		}
	}
	return false
}

func (t Table) any(column int, is func(Cell) bool) bool {
	for _, r := range t.Rows {
		if is(r.Cells[column]) {
			return true
		}
	}
	return false
}

// names names the columns without their units: with the head above, and with the
// line under the head where two would read alike.
func (t Table) names() []string {
	names := make([]string, len(t.Columns))
	alike := map[string]int{}
	for i, c := range t.Columns {
		names[i] = plainText(c.Head)
		if c.Group != "" {
			names[i] = plainText(c.Group) + ": " + names[i]
		}
		alike[names[i]+"\x00"+c.Unit]++
	}
	for i, c := range t.Columns {
		if c.Sub != "" && alike[names[i]+"\x00"+c.Unit] > 1 {
			names[i] += ", " + plainText(c.Sub)
		}
	}
	return names
}

// Of returns what a field holds of a row, with formulas as they are typed.
func (f Field) Of(r Row) Item {
	if f.Column < 0 {
		return Item{Text: string(r.Side)}
	}
	c := r.Cells[f.Column]
	x := c.Value
	switch f.Part {
	case Uncertainty:
		x = c.U
	case Below:
		x = Item{Text: c.Below}
	case Note:
		x = Item{Text: c.Note}
	}
	x.Text = plainText(x.Text)
	return x
}

// inert is the text of an item that no spreadsheet program runs as a formula.
func (x Item) inert() string {
	if x.IsNumber {
		return x.Text
	}
	return study.InertText(x.Text)
}
