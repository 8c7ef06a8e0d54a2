package main

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

func rowsIn(t *testing.T, text string) ([]compositionRow, source.Notices, error) {
	t.Helper()
	return readCompositions(context.Background(), "-", strings.NewReader(text))
}

func TestReadCompositions(t *testing.T) {
	rows, told, err := rowsIn(t, "\ufeffSiO2,sample,FeO,CaO\n30,a,60,\n\n31,,59,10\n")
	if err != nil {
		t.Fatal(err)
	}
	if len(told) > 0 {
		t.Errorf("a plain file is talked about: %v", told)
	}
	if len(rows) != 2 {
		t.Fatalf("%d rows, want 2", len(rows))
	}
	if rows[0].sample != "a" || rows[0].composition.Wt("SiO2") != 30 || rows[0].composition.Wt("FeOT") != 60 {
		t.Errorf("first row %q %v", rows[0].sample, rows[0].composition)
	}
	if _, has := rows[0].composition.Get("CaO"); has {
		t.Error("an empty cell was taken as a number")
	}
	q, _ := rows[1].composition.Get("CaO")
	if len(q.From) != 1 || q.From[0].Ref != "D4" {
		t.Errorf("CaO of the second row comes from %v, want D4", q.From)
	}
}

// What a campaign reads is read: other separators, decimal commas, titles, units,
// totals, limits, samples in columns.
func TestReadCompositionsLikeACampaign(t *testing.T) {
	for name, text := range map[string]string{
		"semicolons":     "sample;SiO2;FeO;CaO\nKR-1;30,5;60,1;3,0\n",
		"no names":       "SiO2;FeO;CaO\n30,5;60,1;3,0\n",
		"tabs":           "sample\tSiO2\tFeO\tCaO\nKR-1\t30.5\t60.1\t3.0\n",
		"a title, units": "Slags by XRF\nSample,Site,SiO2,FeO,CaO,Total\n,,wt%,wt%,ppm,wt%\nKR-1,Kettle Rigg,30.5,60.1,30000,93.6\n",
		"in columns":     "Sample,KR-1,KR-2\nSiO2 (%),30.5,31\nFeO (%),60.1,60\nCaO (%),3.0,2\n",
		"± and a limit":  "sample,SiO2,FeO,CaO,Cu\nKR-1,30.5 ± 0.3,60.1,3.0,<0.1\n",
	} {
		rows, _, err := rowsIn(t, text)
		if err != nil || len(rows) == 0 || rows[0].err != nil {
			t.Errorf("%s: %v %v", name, rows, err)
			continue
		}
		c := rows[0].composition
		if got := [3]float64{c.Wt("SiO2"), c.Wt("FeOT"), c.Wt("CaO")}; got != [3]float64{30.5, 60.1, 3} {
			t.Errorf("%s: %v", name, got)
		}
		if q, _ := c.Get("Cu"); name == "± and a limit" && (q.Class != quantity.Below || q.Limit != 0.1) {
			t.Errorf("%s: Cu is %+v", name, q)
		}
	}
	_, told, _ := rowsIn(t, "sample;SiO2;FeO\nKR-1;30,5;60,1\n")
	if !slices.Contains(told.Codes(), "DECIMAL_COMMA") {
		t.Errorf("decimal commas are read in silence: %v", told)
	}
	rows, told, err := rowsIn(t, "SiO2,SiO2,FeO\n,30,40\n")
	if err != nil || len(rows) != 1 || rows[0].composition.Wt("SiO2") != 30 || len(told) != 1 {
		t.Errorf("two columns of SiO2: %v %v %v", rows, told, err)
	}
	if rows, _, err := rowsIn(t, "sample,SiO2\na,100\n"); err != nil || len(rows) != 1 || rows[0].composition.Wt("SiO2") != 100 {
		t.Errorf("a single oxide: %v %v", rows, err)
	}
}

func TestReadCompositionsOfAWorkbook(t *testing.T) {
	name := filepath.Join(t.TempDir(), "slags.xlsx")
	f := excelize.NewFile()
	for i, row := range [][]any{{"sample", "SiO2", "FeO"}, {"KR-1", 30.5, 60.1}} {
		if err := f.SetSheetRow("Sheet1", fmt.Sprintf("A%d", i+1), &row); err != nil {
			t.Fatal(err)
		}
	}
	if err := f.SaveAs(name); err != nil {
		t.Fatal(err)
	}
	rows, _, err := readCompositions(context.Background(), name, nil)
	if err != nil || len(rows) != 1 || rows[0].sample != "KR-1" || rows[0].composition.Wt("SiO2") != 30.5 {
		t.Fatalf("%v %v", rows, err)
	}
	if q, _ := rows[0].composition.Get("SiO2"); q.From[0].Ref != "B2" || q.From[0].Sheet != "Sheet1" {
		t.Errorf("SiO2 comes from %v", q.From)
	}
}

func TestReadCompositionsRefuses(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"", "the file is empty"},
		{"SiO2,Fe0\n30,60\n", `cell B1: column "Fe0" is no oxide or element; did you mean FeO?`},
		{"SiO2,FeO\n30,60,10\n", "cell C1: the column has numbers but no heading"},
		{"PK\x03\x04...", "the workbook is damaged"},
		{"SiO2,FeO\n", "standard input: there is no composition in it"},
	} {
		if rows, _, err := rowsIn(t, c.text); err == nil || rows != nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: %v, want %q", c.text, err, c.want)
		}
	}
	for _, c := range []struct{ text, want string }{
		{"SiO2,FeO\nx,60\n", `cell A2: "x" is not a number`},
		{"SiO2,FeO\n30,\"1 \"\"x\n", "standard input, cell B2: "},
		{"SiO2,FeO\n30,-1\n", `cell B2: "-1" is negative`},
		{"SiO2,FeO\n30,70\nx,60\ny,60\n", `cell A4: "y" is not a number`},
		{"SiO2,FeO\nInf,30\n", `cell A2: "Inf" is not a number`},
	} {
		rows, told, err := rowsIn(t, c.text)
		if err != nil || len(rows) == 0 || rows[len(rows)-1].err == nil || !strings.Contains(rows[len(rows)-1].err.Error(), c.want) {
			t.Errorf("%q: %v %v, want the row's error %q", c.text, rows, err, c.want)
		}
		if len(told) > 0 {
			t.Errorf("%q: told twice: %v", c.text, told)
		}
	}
}

func FuzzReadCompositions(f *testing.F) {
	for _, seed := range []string{"SiO2,FeO\n30,60\n", "sample,SiO2\n\"a\n\",1e5\n", "SiO2;FeO\n1,2", ",\n,", "\ufeffsample\n"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		rows, _, err := readCompositions(context.Background(), "-", strings.NewReader(text))
		if err != nil && rows != nil {
			t.Error("rows beside an error")
		}
		for _, r := range rows {
			for _, p := range r.composition.Parts {
				if r.err == nil && !(p.Value >= 0 || p.ID == "LOI" || p.ID == "GOI") {
					t.Errorf("%s = %g", p.ID, p.Value)
				}
			}
		}
	})
}
