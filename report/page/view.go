package page

import (
	"bytes"
	"encoding/json"
	"fmt"
	"html/template"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"smeltbook/assay/source"
	"smeltbook/report/equation"
)

// view is a document made ready for the template.
type view struct {
	Document
	Policy   template.HTMLAttr
	Style    template.CSS
	Scripts  []template.JS
	Contents []contentsLine
	Large    bool // with packed notes
	Blocks   []blockView
}

// contentsLine is a line of the table of contents.
type contentsLine struct {
	ID     string
	Number int // of an entry; 0 for a heading
	Text   string
	Depth  int // 0 or 1
}

// blockView is either prose or an entry.
type blockView struct {
	Prose template.HTML
	Entry *entryView
}

// entryView is an entry. Lead stands beside the margin notes, Rest below at
// full width. An entry is broad when it has no lead: its margin notes then
// stand in one line under its title, because a margin would leave a gap, and
// its first part opens it, kept with them on one printed page.
type entryView struct {
	*Entry
	ID         string
	Title      string
	H2         bool // the title is a heading of the second level, not the third
	Broad      bool
	Lead, Rest []partView
	Opening    *partView
}

// partView is one part; the field of its type is set.
type partView struct {
	Figure  *figureView
	Table   *tableView
	Spread  *spreadView
	Photos  *photographsView
	Text    *Text
	Maths   *mathsView
	Notices source.Notices
}

type mathsView struct {
	*Equation
	Lines []template.HTML
	Where []signView
}

type signView struct {
	Sign  template.HTML
	Means []Run
}

type figureView struct {
	*Figure
	Drawing template.HTML
	JSON    template.JS
	Packed  template.HTML // in its place where it is long
}

type tableView struct {
	*Table
	ID      string
	Legend  []string
	Packed  template.HTML // the notes of its cells, where the page has many
	Folded  bool
	Wide    bool
	Tall    bool // may run over the foot of a printed page
	Compact bool // of the table, or of so many rows that it is a listing
	Dense   bool // of so many columns that values and uncertainties fit on one printed line in small type alone
	Paired  bool // printed in two columns, so that no half of the page is empty
}

// spreadView is a spread with its left page mirrored.
type spreadView struct {
	*Spread
	ID       string
	Mirrored []Column
	Packed   template.HTML // the notes of its cells, where the page has many
	Rows     []spreadRowView
	Legend   []string
	Folded   bool
	Tall     bool // may run over the foot of a page, between rows
	// Widths of the columns in percent. Both pages are equally wide; the
	// rows' names stand on the left one.
	StubWidth, LeftWidth, GutterWidth, RightWidth float64
}

// Widths of a spread in percent.
const (
	stubWidth   = 12.0
	gutterWidth = 15.0
	leafWidth   = (100 - gutterWidth) / 2
)

type spreadRowView struct {
	Name, Unit  string
	Left, Right []placedCell
	Difference  Cell
}

// placedCell is a cell with its column and its place, counted from 1, when
// the row is folded on a narrow screen.
type placedCell struct {
	Cell
	Head  string
	Place int
}

// widestNarrow is the most columns of a table that is set beside the margin,
// longestWhole the most rows of one that is kept on one printed page, longestOpen
// the most of one that is not folded away on the screen; with more rows than
// longestText a table is printed as a listing.
const (
	longestText  = 40
	longestOpen  = 200
	widestNarrow = 6
	longestWhole = 7
)

// fewestDense is the fewest columns of a table that is printed in small type.
const fewestDense = 9

// widestPaired is the most columns, fewestPaired the fewest rows, widestRow the
// most letters of a row of a compact table that is printed in two columns; browsers
// repeat the heading over the second column only where it is short beside the rest.
const (
	widestPaired = 6
	fewestPaired = 24
	widestRow    = 64
)

// looseText is from how many letters on a cell may be broken in the print of a
// compact table, and wants some width on a phone; shorter texts keep to one line.
const looseText = 40

// mostNotices is the most notices of the colophon that are shown unfolded.
const mostNotices = 6

func manyNotices(ns source.Notices) bool { return len(ns) > mostNotices }

func newView(d Document) (*view, error) {
	v := &view{Document: d}
	inSection := false
	for _, b := range d.Blocks {
		switch b := b.(type) {
		case *Prose:
			for _, h := range b.Headings {
				inSection = true
				if h.Level <= 3 {
					v.Contents = append(v.Contents, contentsLine{ID: h.ID, Text: h.Text, Depth: max(h.Level-2, 0)})
				}
			}
			v.Blocks = append(v.Blocks, blockView{Prose: b.HTML})
		case *Entry:
			e := &entryView{Entry: b, ID: b.id(), Title: b.Title, H2: !inSection}
			if e.Title == "" {
				e.Title = strings.ToUpper(b.Kind[:min(1, len(b.Kind))]) + b.Kind[min(1, len(b.Kind)):]
			}
			depth := 0
			if inSection {
				depth = 1
			}
			v.Contents = append(v.Contents, contentsLine{ID: e.ID, Number: b.Number, Text: e.Title, Depth: depth})
			for _, p := range b.Parts {
				pv, wide, err := viewPart(held(p))
				if err != nil {
					return nil, fmt.Errorf("page: entry %d (%s): %w", b.Number, b.Kind, err)
				}
				if wide || len(e.Rest) > 0 {
					e.Rest = append(e.Rest, pv)
				} else {
					e.Lead = append(e.Lead, pv)
				}
			}
			if len(e.Lead) == 0 && len(e.Rest) > 0 {
				e.Broad, e.Opening, e.Rest = true, &e.Rest[0], e.Rest[1:]
			}
			v.Blocks = append(v.Blocks, blockView{Entry: e})
		}
	}
	return v, v.packNotes()
}

// viewPart makes a part ready; wide tells whether it needs the margin's room.
func viewPart(p Part) (pv partView, wide bool, err error) {
	switch p := p.(type) {
	case *Figure:
		f := &figureView{Figure: p}
		if f.Drawing, err = safeSVG(p.ID, p.SVG); err != nil {
			return pv, false, fmt.Errorf("figure %q: %w", p.ID, err)
		}
		if p.ChartJSON != nil {
			var compact, escaped bytes.Buffer
			if err := json.Compact(&compact, p.ChartJSON); err != nil {
				return pv, false, fmt.Errorf("figure %q: the chart is not JSON: %w", p.ID, err)
			}
			json.HTMLEscape(&escaped, compact.Bytes())
			if compact.Len() > openChart {
				if f.Packed, err = pack(compact.Bytes()); err != nil {
					return pv, false, fmt.Errorf("figure %q: %w", p.ID, err)
				}
			} else {
				f.JSON = template.JS(escaped.String())
			}
		}
		return partView{Figure: f}, p.Layout != Narrow, nil
	case *Table:
		t := &tableView{Table: p, ID: p.id(), Legend: p.Legend(), Folded: p.Long || len(p.Rows) > longestOpen}
		t.Wide, t.Tall = t.Folded || len(p.Columns) > widestNarrow, t.Folded || len(p.Rows) > longestWhole
		t.Dense = len(p.Columns) >= fewestDense
		t.Compact = p.Compact || len(p.Rows) > longestText
		t.Paired = t.Compact && len(p.Rows) >= fewestPaired && len(p.Columns) <= widestPaired && len(p.Groups) == 0
		for _, r := range p.Rows {
			t.Paired = t.Paired && shortRow(r)
		}
		return partView{Table: t}, t.Wide, nil
	case *Spread:
		return partView{Spread: viewSpread(p)}, true, nil
	case *Photographs:
		return partView{Photos: viewPhotographs(p)}, true, nil
	case *Text:
		return partView{Text: p}, false, nil
	case *Equation:
		v := &mathsView{Equation: p}
		for _, l := range p.Lines {
			v.Lines = append(v.Lines, template.HTML(equation.Display(l)))
		}
		for _, s := range p.Where {
			v.Where = append(v.Where, signView{template.HTML(equation.Inline(s.Sign)), s.Means})
		}
		return partView{Maths: v}, false, nil
	case *Notices:
		return partView{Notices: p.List}, false, nil
	}
	return pv, false, fmt.Errorf("a part is of the unknown type %T", p)
}

func viewSpread(s *Spread) *spreadView {
	v := &spreadView{Spread: s, ID: s.id(), Legend: s.Legend(), Mirrored: slices.Clone(s.Columns)}
	slices.Reverse(v.Mirrored)
	columns := float64(max(len(s.Columns), 1))
	v.Folded, v.Tall = len(s.Rows) > longestOpen, len(s.Rows) > longestWhole
	v.StubWidth, v.GutterWidth = stubWidth, gutterWidth
	v.LeftWidth = math.Round(10*(leafWidth-stubWidth)/columns) / 10
	v.RightWidth = math.Round(10*leafWidth/columns) / 10
	for _, r := range s.Rows {
		row := spreadRowView{Name: r.Name, Unit: r.Unit, Difference: r.Difference}
		place := func(cells []Cell) (out []placedCell) {
			for i, c := range cells {
				out = append(out, placedCell{c, s.Columns[i].Head, i + 1})
			}
			return out
		}
		row.Left, row.Right = place(r.Left), place(r.Right)
		slices.Reverse(row.Left)
		v.Rows = append(v.Rows, row)
	}
	return v
}

// shortRow tells whether a row fits into half the width of a printed page.
func shortRow(r Row) bool {
	letters := 0
	for _, c := range r.Cells {
		letters += utf8.RuneCountInString(c.Text) + utf8.RuneCountInString(c.Sub)
	}
	return letters <= widestRow
}

// sortDigits is enough to order rows by; more would only fill the page.
const sortDigits = 6

// cellClass returns the classes of a cell in a column: t for text, for most
// cells hold numbers.
func cellClass(in Column, c Cell) string {
	switch {
	case in.Numeric:
		return string(c.Class)
	case c.Class == Ordinary && len(c.Text) > looseText:
		return "t loose"
	}
	return strings.TrimSuffix("t "+string(c.Class), " ")
}

// plainNumber is a text that sorts by the number it begins with.
var plainNumber = regexp.MustCompile(`^(?:[−-] ?)?(\d+)(?:\.(\d+))?(?: ± .*)?$`)

// sortKey returns the attribute that a cell sorts by; none where its text says
// the same number.
func sortKey(c Cell) string {
	if c.Sort == nil {
		return ""
	}
	if m := plainNumber.FindStringSubmatch(c.Text); m != nil {
		shown, err := strconv.ParseFloat(strings.TrimSuffix(m[1]+"."+m[2], "."), 64)
		if err == nil && math.Abs(shown-math.Abs(*c.Sort)) <= 0.51*math.Pow10(-len(m[2])) {
			return ""
		}
	}
	return strconv.FormatFloat(*c.Sort, 'g', sortDigits, 64)
}

// size prints a file size.
func size(n int64) string {
	switch {
	case n < 1000:
		return strconv.FormatInt(n, 10) + " bytes"
	case n < 1000_000:
		return strconv.FormatFloat(float64(n)/1e3, 'f', 1, 64) + " kB"
	}
	return strconv.FormatFloat(float64(n)/1e6, 'f', 1, 64) + " MB"
}
