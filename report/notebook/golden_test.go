package notebook

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"go.yaml.in/yaml/v3"

	"smeltbook/assay"
	"smeltbook/assay/chem"
	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// echo answers every value with its own words, and a mark that has to be
// escaped.
func echo(c Call) (Value, source.Notices) {
	return Value{Text: fmt.Sprintf("<%s %s>", c.Func, strings.Join(c.Args, ",")), Note: `a "note" & more`}, nil
}

func readSample(t *testing.T) *Notebook {
	t.Helper()
	src, err := os.ReadFile(filepath.Join("testdata", "sample.md"))
	if err != nil {
		t.Fatal(err)
	}
	n, notices := Parse("notebook.md", src)
	if len(notices) > 0 {
		t.Fatalf("the sample has notices: %v", notices)
	}
	return n
}

// outline prints a notebook's body for comparison.
func outline(t *testing.T, n *Notebook) string {
	t.Helper()
	var b strings.Builder
	for _, block := range n.Blocks {
		switch block := block.(type) {
		case *Prose:
			r, notices := block.Render(Sources{Values: echo})
			if len(notices) > 0 {
				t.Errorf("rendering: %v", notices)
			}
			for _, h := range r.Headings {
				fmt.Fprintf(&b, "heading %d %s: %s\n", h.Level, h.ID, h.Text)
			}
			fmt.Fprintf(&b, "prose:\n%s\n", r.HTML)
		case *Entry:
			options := []byte("none\n")
			if block.Options != nil {
				var err error
				if options, err = yaml.Marshal(block.Options); err != nil {
					t.Fatal(err)
				}
			}
			fmt.Fprintf(&b, "entry %s, line %d, title %q, options:\n%s\n", block.Kind, block.Line, block.Title, options)
		}
	}
	return b.String()
}

func TestSampleBody(t *testing.T) {
	got := outline(t, readSample(t))
	if again := outline(t, readSample(t)); again != got {
		t.Error("the same notebook reads differently the second time")
	}
	golden := filepath.Join("testdata", "sample.golden")
	if *update {
		if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("body differs from %s (-want +got):\n%s", golden, diff)
	}
}

func TestSampleFrontMatter(t *testing.T) {
	n := readSample(t)
	want := &Notebook{
		File: "notebook.md", Title: "Orrin Vale, second season",
		Subtitle: "Did the bowl furnaces run as hot as the old ones?",
		Authors:  []string{"A. Reeve", "T. Marsh"}, Date: "2026-08-14", Site: "Kettle Rigg",
		Config: assay.Config{
			Data: []string{"lab/xrf.xlsx", "lab/wet-chemistry.xlsx", "field/*.xlsx"}, DataLines: []int{7, 7, 7},
			Groups: []assay.GroupRule{
				{Name: "fired", Origins: []string{"experimental"}, Kinds: []string{"slag"}, Line: 9},
				{Name: "dug", Origins: []string{"excavated"}, Kinds: []string{"slag"}, Except: []string{"LS-07"}, Line: 10},
			},
			Methods: []assay.MethodRule{
				{File: "lab/xrf.xlsx", Method: "XRF", Line: 12},
				{File: "lab/wet-chemistry.xlsx", Sheet: "Cu", Method: "iodometry", Line: 13},
			},
			Sheets: []assay.SheetRule{{File: "lab/xrf.xlsx", Sheet: "Slag", Line: 15, Reading: sheet.Reading{
				HeaderRow: 4, Orientation: sheet.SamplesInColumns,
				Columns: map[string]string{"SiO2 %": "SiO2", "Remarks": ""},
			}}},
			Recipe: assay.Recipe{
				Basis:  chem.Normalised,
				Iron:   map[string]chem.Iron{"slag": chem.AsFeO, "ore": chem.AsFe2O3},
				Prefer: []string{"iodometry", "XRF"},
			},
			Extra: []assay.Uncertainty{{Method: "XRF", Relative: 0.05}, {Method: "iodometry", Relative: 0.01}},
		},
		Seed: 20260814, Draws: 2000,
	}
	got := *n
	if text := got.Front; !strings.HasPrefix(text, "title: Orrin Vale") || strings.Contains(text, "---") {
		t.Errorf("the first lines as written: %q", text)
	}
	got.Blocks, got.Front = nil, ""
	if diff := cmp.Diff(want, &got); diff != "" {
		t.Errorf("front matter (-want +got):\n%s", diff)
	}
}

func TestCallsKeepTheirLine(t *testing.T) {
	want := []Call{
		{"median", []string{"fired", "liquidus"}, 29},
		{"median", []string{"dug", "liquidus"}, 30},
		{"median", []string{"fired", "liquidus"}, 44},
		{"count", []string{"dug"}, 56},
	}
	if diff := cmp.Diff(want, readSample(t).Calls()); diff != "" {
		t.Errorf("calls (-want +got):\n%s", diff)
	}
}

func BenchmarkParse(b *testing.B) {
	src, err := os.ReadFile(filepath.Join("testdata", "sample.md"))
	if err != nil {
		b.Fatal(err)
	}
	b.SetBytes(int64(len(src)))
	for b.Loop() {
		Parse("notebook.md", src)
	}
}
