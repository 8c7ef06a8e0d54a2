package tables_test

import (
	"bytes"
	"encoding/csv"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/xuri/excelize/v2"

	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
	"smeltbook/report/page"
	"smeltbook/report/tables"
)

var update = flag.Bool("update", false, "rewrite the golden files")

func number(x float64) *float64 { return &x }

// samples is a table with everything that a cell can hold.
func samples() *page.Table {
	return &page.Table{Number: 3, Caption: "Slags of KR_F1 & KR-F2, 50 % each.", Notes: []string{"Sum. Point at a number for its cell. Bold: sure.", "* A: =clay on one face.", "Point at it."},
		Groups: []page.ColumnGroup{{Span: 1}, {Head: "oxides", Span: 2}, {Span: 3}},
		Columns: []page.Column{{Head: "sample", Sub: "firing"}, {Head: "SiO₂", Unit: "wt%", Numeric: true}, {Head: "FeO", Unit: "wt%", Numeric: true},
			{Head: "density", Unit: "g/cm³", Sub: "first model", Numeric: true}, {Head: "density", Unit: "g/cm³", Sub: "second", Numeric: true}, {Head: "remark"}},
		Rows: []page.Row{
			{Sample: "A", Side: page.Fired, Cells: []page.Cell{{Text: "A*", Sub: "KR_F1", Note: "field/samples.xlsx, cell A2"},
				{Text: "31.42", Sub: "± 0.15", Sort: number(31.4159), U: number(0.1537), Note: "lab/xrf.xlsx", From: []source.Cell{{File: "lab/xrf.xlsx", Sheet: "Slag", Ref: "B7"}, {File: "lab/xrf.xlsx", Sheet: "Slag", Ref: "C7"}}},
				{Text: "< 0.01", Class: page.Censored, Sort: number(0.01)}, {Text: "3.4", Class: page.OutOfRange, Sort: number(3.4)}, {Text: "1130", Sub: "0.41–1.6", Sort: number(1127)},
				{Text: `=HYPERLINK("http://example.invalid"), 50 %`}}},
			{Sample: "B", Side: page.Dug, Cells: []page.Cell{{Text: "B"}, {Text: "−0.05 ± 0.02", Sort: number(-0.0512)}, {Text: "–", Class: page.Absent, Note: "not analysed"},
				{Text: "3.4–3.6", Sort: number(3.4)}, {Text: "2.0", Sort: number(7)}, {Text: "Fe₂SiO₄ {a\\b} ~x^2 [1]"}}},
		}}
}

func facing() *page.Spread {
	return &page.Spread{Number: 4, Caption: "Facing.", Left: page.Leaf{Name: "fired", Label: "2 samples"}, Right: page.Leaf{Name: "dug", Label: "3 samples"},
		Columns: []page.Column{{Head: "mean ± s", Numeric: true}, {Head: "n", Numeric: true}}, Gutter: page.Column{Head: "difference", Sub: "fired − dug", Numeric: true},
		Rows: []page.SpreadRow{{Name: "Al₂O₃", Unit: "wt%", Left: []page.Cell{{Text: "5.66 ± 0.48"}, {Text: "2"}}, Right: []page.Cell{{Text: "4.99", Note: "one piece"}, {Text: "3"}}, Difference: page.Cell{Text: "0.67 ± 0.67", Class: page.Flagged}}}}
}

func table(t *testing.T, p page.Part) tables.Table {
	t.Helper()
	x, ok := tables.Of(p)
	if !ok {
		t.Fatalf("%T is no table", p)
	}
	return x
}

func written(t *testing.T, write func(io.Writer) error) []byte {
	t.Helper()
	var first, second bytes.Buffer
	for _, b := range []*bytes.Buffer{&first, &second} {
		if err := write(b); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(first.Bytes(), second.Bytes()) {
		t.Error("a second run gives other bytes")
	}
	return first.Bytes()
}

// The files of two tables, byte for byte, and what the workbooks hold.
func TestGolden(t *testing.T) {
	for name, part := range map[string]page.Part{"samples": samples(), "facing": facing()} {
		x := table(t, part)
		golden(t, name+".csv", written(t, x.WriteCSV))
		golden(t, name+".tex", written(t, x.WriteLaTeX))
		golden(t, name+".xlsx.txt", dump(t, written(t, x.WriteXLSX)))
	}
}

func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(string(want), string(got)); d != "" {
		t.Errorf("%s (-want +got):\n%s", name, d)
	}
}

// dump lists the cells of a workbook: as stored, as shown, and any formula.
func dump(t *testing.T, data []byte) []byte {
	t.Helper()
	f := open(t, data)
	var b bytes.Buffer
	for _, name := range f.GetSheetList() {
		fmt.Fprintf(&b, "sheet %s\n", name)
		stored, err := f.GetRows(name, excelize.Options{RawCellValue: true})
		if err != nil {
			t.Fatal(err)
		}
		for i, row := range stored {
			for j, raw := range row {
				at, _ := excelize.CoordinatesToCellName(j+1, i+1)
				shown, err := f.GetCellValue(name, at)
				if err != nil {
					t.Fatal(err)
				}
				if formula, _ := f.GetCellFormula(name, at); formula != "" {
					t.Errorf("%s %s holds the formula %q", name, at, formula)
				}
				switch {
				case raw == "":
				case raw == shown:
					fmt.Fprintf(&b, "  %s %s\n", at, raw)
				default:
					fmt.Fprintf(&b, "  %s %s shown as %s\n", at, raw, shown)
				}
			}
		}
	}
	return b.Bytes()
}

func open(t *testing.T, data []byte) *excelize.File {
	t.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return f
}

// The workbook shows what the csv holds, notes aside, and bears the mark of
// outputs.
func TestWorkbookAgreesWithCSV(t *testing.T) {
	for _, part := range []page.Part{samples(), facing()} {
		x := table(t, part)
		rows, err := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(written(t, x.WriteCSV), []byte("\ufeff")))).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		f := open(t, written(t, x.WriteXLSX))
		for i, row := range rows {
			column := 0
			for j, want := range row {
				if strings.HasSuffix(rows[0][j], "_note") {
					continue
				}
				column++
				at, _ := excelize.CoordinatesToCellName(column, i+1)
				if got, err := f.GetCellValue("table", at); err != nil || got != want {
					t.Errorf("%s shows %q (%v), the csv %q", at, got, err, want)
				}
			}
		}
		if p, err := f.GetDocProps(); err != nil || p.Category != sheet.OutputMark {
			t.Errorf("category %+v (%v)", p, err)
		}
	}
}
