// Package page writes the report: one HTML file that holds everything it
// needs, reads as a notebook with facing pages, and prints.
//
// The page is described by plain data and written by Render. Every text in
// that data is plain text and is escaped; only Prose.HTML, Figure.SVG and
// Figure.ChartJSON are taken as they are, the last two after being checked.
package page

import (
	"html/template"

	"smeltbook/assay/source"
	"smeltbook/report/equation"
)

// Document is a whole report.
type Document struct {
	Title    string
	Subtitle string
	Authors  []string
	Date     string // as the notebook has it
	Site     string
	Blocks   []Block
	Colophon Colophon

	// References are the works cited, as the list in the blocks has them; they stand
	// here for records that are no page.
	References []string
}

// Block is a *Prose or an *Entry.
type Block interface{ block() }

// Prose is text between entries, already HTML and safe.
type Prose struct {
	HTML     template.HTML
	Headings []Heading // of this prose, in order, for the contents
}

// Heading is a heading in prose. Level is 2 or more: the first level is the
// document's title.
type Heading struct {
	Level int
	ID    string
	Text  string
}

// Entry is a numbered entry of the notebook.
type Entry struct {
	Number int
	ID     string // unique in the document; "entry-4" where empty
	Kind   string // "melting"
	Name   string // by which the notebook refers to it; empty where it gave none
	Title  string // the kind where empty
	Margin []string
	Parts  []Part

	// Assumed is what was taken because the notebook left it open. It is in the
	// parts as well; here it stands for records that are no page.
	Assumed []string
}

// Part is a *Figure, a *Table, a *Spread, a *Photographs, a *Text, an *Equation or
// a *Notices.
type Part interface{ part() }

// Layout says how much room a figure takes.
type Layout string

const (
	Narrow Layout = ""       // as wide as the text
	Wide   Layout = "wide"   // text and margin together
	Facing Layout = "facing" // wide, with a fold in the middle
)

// Figure is a figure: the drawing for print, and the data of the interactive
// one where there is one.
type Figure struct {
	Number    int
	ID        string // unique; letters, digits and hyphens, starting with a letter
	Layout    Layout
	Caption   string
	Alt       string // what the figure shows, for readers who cannot see it
	SVG       []byte // one <svg> element; an XML declaration before it is dropped
	ChartJSON []byte // nil where the figure does not move
}

// Side is the page of a spread that something belongs to. It has a colour and
// a shape: fired is a vermilion triangle, dug a blue ring.
type Side string

const (
	NoSide Side = ""
	Fired  Side = "fired" // left: replica
	Dug    Side = "dug"   // right: excavated
)

// Column heads a column. The first column of a table names its rows. A head
// may be broken at its spaces and behind the operators of a formula.
type Column struct {
	Head    string
	Unit    string // "wt%"; printed below the head
	Sub     string // a second line, for example how the number was found
	Numeric bool   // set flush right in even figures
}

// ColumnGroup is a head above neighbouring columns. The spans of a table's
// groups add up to its columns; an empty head makes an empty cell.
type ColumnGroup struct {
	Head string
	Span int
	Side Side
}

// Class says what is special about a cell.
type Class string

const (
	Ordinary   Class = ""
	Censored   Class = "censored"     // below detection or above range; the text says so
	Flagged    Class = "flagged"      // to be looked at
	OutOfRange Class = "out-of-range" // outside the model's range
	Absent     Class = "absent"       // not analysed
	Clear      Class = "clear"        // a difference larger than twice its uncertainty; set bold
)

// Cell is one cell of a table.
type Cell struct {
	Text  string
	Sub   string // set small on a line of its own below the text, never broken: "± 0.13"
	Note  string // where the number comes from; shown on pointing and focus, not in print
	Class Class
	Sort  *float64 // sorts the row; by Text where nil

	// For files of the table: the standard uncertainty with all its digits and the
	// cells that the number comes from, where they are known.
	U    *float64
	From []source.Cell
}

// Row is a row of a table. A row with a Sample can be picked.
type Row struct {
	Sample string
	Side   Side
	Cells  []Cell
}

// Named reports whether the first cell of the row is the name of its sample.
func (r Row) Named() bool {
	return r.Sample != "" && len(r.Cells) > 0 && r.Cells[0].Text == r.Sample
}

// Table is a plain table.
type Table struct {
	Number     int
	ID         string // "table-2" where empty
	Caption    string
	Groups     []ColumnGroup // nil for none
	Columns    []Column
	Rows       []Row
	Notes      []string // below the table
	Sortable   bool
	Filterable bool
	Long       bool // folded away on the screen, whole in print; so is any table of very many rows
	Compact    bool // printed in the smallest readable type: a listing to look things up in
}

// Leaf is one page of a spread.
type Leaf struct {
	Name  string // the group's name: "fired"
	Label string // what it is: "experimental slag, 8 samples"
}

// SpreadRow is one row of a spread. Left and Right have one cell for each of
// the spread's columns, in the same order.
type SpreadRow struct {
	Name        string // "SiO2"
	Unit        string
	Left, Right []Cell
	Difference  Cell
}

// Spread is a table on facing pages: the same columns for replica (left) and
// excavated material (right), the difference in the gutter. The left page is
// set mirrored, so that the first column of both stands at the gutter.
type Spread struct {
	Number      int
	ID          string // "table-2" where empty
	Caption     string
	Left, Right Leaf
	Columns     []Column
	Gutter      Column // head of the difference
	Rows        []SpreadRow
	Notes       []string
}

// Style is how a run of text is set.
type Style string

const (
	Roman    Style = ""
	Emphasis Style = "em"
	Strong   Style = "strong"
	Code     Style = "code"
)

// Run is a stretch of text in one style. A link is an http or https address, or
// the id of a work in the list of references behind a #.
type Run struct {
	Text  string
	Style Style
	Link  string

	// Cite is the key of a work that stands here by author and year; whoever knows
	// the references puts Text and Link in its place before the page is written.
	Cite string
}

// Equation is an equation that stands by itself, with the meaning of its signs
// below it.
type Equation struct {
	Number int
	Lines  []equation.Math
	Where  []Symbol
	Source []Run // nil where there is none
}

// Symbol is what a sign of an equation stands for, with its unit and, where it has
// one, its value.
type Symbol struct {
	Sign  equation.Math
	Means []Run
}

// Text is paragraphs, each of runs.
type Text struct{ Paragraphs [][]Run }

// Lines returns each string as a paragraph.
func Lines(lines ...string) *Text {
	t := &Text{}
	for _, l := range lines {
		t.Paragraphs = append(t.Paragraphs, []Run{{Text: l}})
	}
	return t
}

// Notices is a list of what is to be said about an entry's numbers.
type Notices struct{ List source.Notices }

// Colophon says how the report was made.
type Colophon struct {
	Version string
	Seed    uint64
	Draws   int // 0 where nothing was drawn at random
	Files   []File
	Notices source.Notices
}

// File is a file that the report was made from.
type File struct {
	Name   string
	SHA256 string // lower-case hexadecimal
	Bytes  int64
}

func (*Prose) block()   {}
func (*Entry) block()   {}
func (*Figure) part()   {}
func (*Table) part()    {}
func (*Spread) part()   {}
func (*Text) part()     {}
func (*Equation) part() {}
func (*Notices) part()  {}
