package page

import (
	"strings"
	"testing"

	"golang.org/x/net/html"

	"smeltbook/assay/source"
)

// classed returns the elements that have a class.
func classed(n *html.Node, class string) []*html.Node {
	var out []*html.Node
	for _, e := range all(n) {
		for _, c := range strings.Fields(attr(e, "class")) {
			if c == class {
				out = append(out, e)
			}
		}
	}
	return out
}

func entryPage(t *testing.T, e *Entry) *html.Node {
	t.Helper()
	return tree(t, render(t, Document{Title: "T", Blocks: []Block{e}}, Assets{}))
}

// What stands below a value is kept apart from it, so that the value alone is
// sorted by and picked.
func TestSecondLineOfACell(t *testing.T) {
	root := entryPage(t, &Entry{Number: 1, Kind: "composition", Parts: []Part{&Table{Number: 1, Sortable: true,
		Columns: []Column{{Head: "sample"}, {Head: "SiO₂", Numeric: true}},
		Rows:    []Row{{Sample: "KR-S01", Side: Fired, Cells: []Cell{{Text: "KR-S01", Sub: "KR-F1"}, {Text: "45.90", Sub: "± 0.13", Class: Flagged}}}}}}})
	below := all(root, "small")
	if len(below) != 2 || textOf(below[0]) != "KR-F1" || textOf(below[1]) != "± 0.13" {
		t.Fatalf("%d second lines, want those of the sample and of the value", len(below))
	}
	if name := below[0].PrevSibling; strings.TrimSpace(name.Data) != "KR-S01" {
		t.Errorf("the name that is picked is %q", name.Data)
	}
	if cell := strings.TrimSpace(textOf(below[1].Parent)); cell != "45.90† ± 0.13" {
		t.Errorf("the cell reads %q", cell)
	}
}

// An entry that begins with something wide has no margin to leave a gap
// beside it; one that begins with text has.
func TestMarginOfBroadEntries(t *testing.T) {
	wide := &Figure{Number: 1, ID: "f", Alt: "a", Layout: Facing, SVG: []byte("<svg/>")}
	margin := []string{"WD-XRF: 30 analyses", "lab/xrf.xlsx"}
	for _, tt := range []struct {
		name    string
		parts   []Part
		sources int
		margins int
	}{
		{"wide first", []Part{wide, Lines("after")}, 1, 0},
		{"text first", []Part{Lines("before"), wide}, 0, 1},
		{"nothing", nil, 0, 1},
	} {
		t.Run(tt.name, func(t *testing.T) {
			root := entryPage(t, &Entry{Number: 1, Kind: "melting", Margin: margin, Parts: tt.parts})
			if got := len(classed(root, "sources")); got != tt.sources {
				t.Errorf("%d lines of sources, want %d", got, tt.sources)
			}
			if got := len(classed(root, "margin")); got != tt.margins {
				t.Errorf("%d margins, want %d", got, tt.margins)
			}
			if got := len(all(root, "figure")); len(tt.parts) > 0 && got != 1 {
				t.Errorf("%d figures, want 1", got)
			}
			for _, note := range margin {
				if n := strings.Count(textOf(root), note); n != 1 {
					t.Errorf("%q is there %d times", note, n)
				}
			}
			for _, o := range classed(root, "opening") {
				if len(all(o, "h2")) != 1 || len(all(o, "figure")) != 1 {
					t.Error("title and figure do not stand together in the opening")
				}
			}
		})
	}
}

func TestBreaksOfHeads(t *testing.T) {
	for head, want := range map[string]string{
		"":                       "",
		"CaO/SiO₂":               "CaO/SiO₂",
		"mean ± s":               "mean ± s",
		"(CaO+MgO)/SiO₂":         "(CaO+MgO)/|SiO₂",
		"(CaO+MgO)/(SiO₂+Al₂O₃)": "(CaO+MgO)/|(SiO₂+Al₂O₃)",
		"SiO₂+Al₂O₃+TiO₂+P₂O₅":   "SiO₂+|Al₂O₃+|TiO₂+|P₂O₅",
	} {
		if got := strings.Join(breaks(head), "|"); got != want {
			t.Errorf("%q breaks as %q, want %q", head, got, want)
		}
	}
}

// Many notices are folded away, few are not; printed are all.
func TestNoticesOfTheColophon(t *testing.T) {
	for _, n := range []int{0, mostNotices, mostNotices + 1} {
		d := Document{Title: "T"}
		for range n {
			d.Colophon.Notices = append(d.Colophon.Notices, source.Notice{Severity: source.Warning, Message: "a cell is empty"})
		}
		root := tree(t, render(t, d, Assets{}))
		if got := strings.Count(textOf(root), "a cell is empty"); got != n {
			t.Errorf("%d of %d notices", got, n)
		}
		if folded := len(classed(root, "many")) == 1; folded != (n > mostNotices) {
			t.Errorf("%d notices folded: %v", n, folded)
		}
	}
}

func TestHowTablesArePrinted(t *testing.T) {
	for _, tt := range []struct {
		name          string
		table         Table
		tall, compact bool
	}{
		{"short", Table{Rows: make([]Row, longestWhole)}, false, false},
		{"longer than a part of a page", Table{Rows: make([]Row, longestWhole+1)}, true, false},
		{"listing", Table{Rows: make([]Row, 1), Long: true, Compact: true}, true, true},
	} {
		root := entryPage(t, &Entry{Number: 1, Kind: "data", Parts: []Part{&tt.table}})
		if got := len(classed(root, "tall")) == 1; got != tt.tall {
			t.Errorf("%s: may run over the foot of a page: %v", tt.name, got)
		}
		if got := len(classed(root, "compact")) == 1; got != tt.compact {
			t.Errorf("%s: compact: %v", tt.name, got)
		}
	}
}

// A spread of few rows is printed on one page and open on the screen, one of many
// is folded away like a table, and its rows may go on over the page.
func TestFoldedSpreads(t *testing.T) {
	for _, tt := range []struct {
		rows         int
		tall, folded bool
	}{
		{longestWhole, false, false},
		{longestWhole + 1, true, false},
		{longestOpen, true, false},
		{longestOpen + 1, true, true},
	} {
		spread := &Spread{Number: 12, Caption: "Nearest replicas", Rows: make([]SpreadRow, tt.rows)}
		root := entryPage(t, &Entry{Number: 1, Kind: "likeness", Parts: []Part{Lines("before"), spread}})
		if got := len(classed(root, "tall")) == 1; got != tt.tall {
			t.Errorf("%d rows may run over the foot of a page: %v", tt.rows, got)
		}
		folds := classed(root, "long")
		if got := len(folds) == 1; got != tt.folded {
			t.Fatalf("%d rows are folded: %v", tt.rows, got)
		}
		if !tt.folded {
			continue
		}
		if got := textOf(all(folds[0], "summary")[0]); got != "Table 12. Nearest replicas 201 rows" {
			t.Errorf("the fold is named %q", got)
		}
		if got := len(all(folds[0], "tr")); got != tt.rows+2 {
			t.Errorf("%d rows in the fold, want %d and two of heads", got, tt.rows)
		}
	}
}
