// Package tables writes the tables of the report as files: csv, workbooks and
// LaTeX. All three, like the page, begin with the same plain data of report/page.
package tables

import (
	"regexp"
	"strings"

	"smeltbook/assay/source"
	"smeltbook/report/page"
)

// Table is a table of the report to be written as a file.
type Table struct {
	Number  int
	Caption string
	Columns []Column
	Rows    []Row
	Notes   []string // below the table
}

// Column heads a column. Group is the head above neighbouring columns.
type Column struct {
	Group, Head, Sub, Unit string
	Numeric                bool
}

// Row is a row of a table; it has a cell for each column.
type Row struct {
	Side  page.Side
	Cells []Cell
}

// Cell is a cell taken apart.
type Cell struct {
	Value Item
	U     Item   // standard uncertainty, or what the head says that stands behind ±
	Below string // a second line that is no uncertainty
	Mark  string // what stands behind the value on the page and is told under the table
	Note  string
	From  []source.Cell
}

// Of takes a part of an entry as a table. ok is false where it is none.
func Of(part page.Part) (t Table, ok bool) {
	switch p := part.(type) {
	case *page.Table:
		return plain(p), true
	case *page.Spread:
		return spread(p), true
	}
	return Table{}, false
}

// notesOf are the notes below a table without the sentences that tell what
// pointing at a cell shows: a file has no cells to point at.
func notesOf(notes, legend []string) (out []string) {
	for _, n := range notes {
		if n = strings.TrimSpace(pointing.ReplaceAllString(n, "")); n != "" {
			out = append(out, n)
		}
	}
	return append(out, legend...)
}

// pointing matches those sentences.
var pointing = regexp.MustCompile(`(?:^| )Point at [^.]*\.`)

func plain(p *page.Table) Table {
	t := Table{Number: p.Number, Caption: p.Caption, Notes: notesOf(p.Notes, p.Legend())}
	groups := make([]string, 0, len(p.Columns))
	for _, g := range p.Groups {
		for range g.Span {
			groups = append(groups, g.Head)
		}
	}
	for i, c := range p.Columns {
		column := columnOf("", c)
		if i < len(groups) {
			column.Group = groups[i]
		}
		t.Columns = append(t.Columns, column)
	}
	for _, r := range p.Rows {
		row := Row{Side: r.Side}
		for _, c := range r.Cells {
			row.Cells = append(row.Cells, cellOf(c))
		}
		if name, marked := strings.CutSuffix(r.Cells[0].Text, page.NoteMark); marked && name == r.Sample {
			row.Cells[0].Value.Text, row.Cells[0].Mark = name, page.NoteMark
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// spread lays facing pages side by side: name and unit of a row, the left page,
// the right page in the same order, the difference.
func spread(p *page.Spread) Table {
	t := Table{Number: p.Number, Caption: p.Caption, Notes: notesOf(p.Notes, p.Legend())}
	t.Columns = []Column{{Head: rowHead}, {Head: "unit"}}
	for _, leaf := range []page.Leaf{p.Left, p.Right} {
		for _, c := range p.Columns {
			t.Columns = append(t.Columns, columnOf(leaf.Name, c))
		}
		t.Notes = append(t.Notes, leaf.Name+": "+leaf.Label+".")
	}
	t.Columns = append(t.Columns, columnOf("", p.Gutter))
	for _, r := range p.Rows {
		row := Row{Cells: []Cell{cellOf(page.Cell{Text: r.Name}), cellOf(page.Cell{Text: r.Unit})}}
		for _, cells := range [][]page.Cell{r.Left, r.Right, {r.Difference}} {
			for _, c := range cells {
				row.Cells = append(row.Cells, cellOf(c))
			}
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func columnOf(group string, c page.Column) Column {
	head := c.Head
	if head == "" {
		head = rowHead
	}
	return Column{Group: group, Head: head, Sub: c.Sub, Unit: c.Unit, Numeric: c.Numeric}
}

// rowHead heads the names of rows above which nothing stands on the page.
const rowHead = "row"
