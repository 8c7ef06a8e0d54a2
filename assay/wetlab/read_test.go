package wetlab

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"smeltbook/assay/quantity"
	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
)

// readText reads text as a sheet of readings; ok is false where it is none.
func readText(t testing.TB, text string) (s Sheet, ok bool) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "bench.csv")
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	book, err := sheet.Read(context.Background(), path, "bench.csv", sheet.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for i := range book.Records {
		if Recognise(&book.Records[i]) {
			return Read(&book.Records[i]), true
		}
	}
	return Sheet{}, false
}

// TestReadSheet reads one determination of every shape: the values are those
// of testdata/wetlab/worked.csv (W14, W10, W11, W18 by its line, W19) and the
// titres of TestTitres.
func TestReadSheet(t *testing.T) {
	s, ok := readText(t, `Bench
Sample,Method,Analyte,Sample mass (mg),Volume (mL),Volume ± (mL),Blank (mL),Concentration (mmol/L),Titrant,Flask (mL),Aliquot (mL),Made up to (mL),Precipitate (mg),Blank mass (mg),Added volume (mL),Standard (mg/L),Signal,Calibration
Na2S2O3 A,standardisation,Cu,500,50.5,,,,,,,,,,,,,
S1,Pratt,FeO,500,17.85,0.02,0.05,16.67,,,,,,,,,,
S1,iodide,,2000,55.6,,,,na2s2o3 a,,,,,,,,,
S2,barium sulphate,SO3,1000,,,,,,,,,31.2,0.6,,,,
S2,edta calcium,CaO,500,8.45,,0.05,10.12,,250,25,,,,,,,
P line,calibration standard,,,,,,,,,,,,,,0,0.0123,
P line,calibration standard,,,,,,,,,,,,,,1,0.2333,
P line,calibration standard,,,,,,,,,,,,,,2,0.4543,
S2,phosphorus blue,P,500,,,,,,250,10,50,,,,,0.318,p-line
S3,standard addition,Cu,3120,,,,,,100,25,,,,0,300,0.214,
S3,standard addition,Cu,3120,,,,,,100,25,,,,0.1,300,0.386,
S3,standard addition,Cu,3120,,,,,,100,25,,,,0.2,300,0.554,
S3,standard addition,Cu,3120,,,,,,100,25,,,,0.3,300,0.728,
QC blank,Pratt,FeO,500,17.85,0.02,0.05,16.67,,,,,,,,,,
`)
	if !ok {
		t.Fatal("not recognised")
	}
	if s.AllNotices().Failed() {
		t.Fatal(s.AllNotices().Of(source.Error))
	}
	want := []struct {
		sample, analyte string
		value, tol      float64
		cells           string // some of those behind it
	}{
		{"S1", "FeO", 25.582, 0.01, "E4 H4 D4 G4"},
		{"S1", "Cu", 27.52, 0.03, "E5 I5 D3 E3 D5"},
		{"S2", "SO3", 1.0497, 0.0005, "M6 D6 N6"},
		{"S2", "CaO", 9.534, 0.01, "E7 H7 D7 G7 J7 K7"},
		{"S2", "P", 0.3458, 0.001, "Q11 P8 Q8 P9 Q9 P10 Q10"},
		{"QC blank", "FeO", 25.582, 0.01, "E16"},
		{"S3", "Cu", 48.13e-4, 5e-7, "O12 Q12 O13 Q13 O14 Q14 O15 Q15"},
	}
	if len(s.Results) != len(want) {
		t.Fatalf("%d results, want %d: %v", len(s.Results), len(want), s.Results)
	}
	for i, w := range want {
		r := s.Results[i]
		if r.Sample != w.sample || r.Analyte != w.analyte || math.Abs(r.Value.Value-w.value) > w.tol {
			t.Errorf("%s = %g, want %s in %s %g", r, r.Value.Value, w.analyte, w.sample, w.value)
		}
		var refs []string
		for _, c := range r.Value.From {
			refs = append(refs, c.Ref)
		}
		if !strings.Contains(strings.Join(refs, " "), w.cells) {
			t.Errorf("%s rests on %v, want %s", r, refs, w.cells)
		}
	}
	if u := s.Results[0].Terms[0].Dy; math.Abs(u-25.582*0.02/17.80) > 1e-4 {
		t.Errorf("the stated uncertainty of the volume gives %g wt%%", u)
	}
	if s.Results[0].Control || !s.Results[5].Control {
		t.Error("controls are not told from samples")
	}
	// W19: s = 0.517 µg/g of the line, beside flask and sample mass.
	if got := s.Results[6].Terms[0].Dy; math.Abs(got-0.5174e-4) > 1e-8 {
		t.Errorf("the line through the additions gives %g wt%%, want 0.5174 µg/g", got)
	}
}

func TestSheetMistakes(t *testing.T) {
	head := "Sample,Method,Analyte,Sample mass (g),Volume (mL),Concentration (mol/L),Titrant\n"
	for name, c := range map[string]struct {
		text string
		code string
		at   string
		word string
	}{
		"no unit":         {"Sample,Method,Analyte,Sample mass,Volume (mL)\nS1,Pratt,FeO,1,2\n", "WRONG_UNIT", "D1", "has no unit"},
		"wrong unit":      {"Sample,Method,Analyte,Sample mass (mL),Volume (mL)\nS1,Pratt,FeO,1,2\n", "WRONG_UNIT", "D1", "give the sample mass in"},
		"normality":       {"Sample,Method,Analyte,Sample mass (g),Concentration (N)\nS1,Pratt,FeO,1,2\n", "WRONG_UNIT", "E1", "mol/L"},
		"unknown heading": {"Sample,Method,Analyte,Sample mass (g),Volumme (mL)\nS1,Pratt,FeO,1,2\n", "UNKNOWN_COLUMN", "E1", `did you mean "volume"?`},
		"twice":           {"Sample,Method,Analyte,Volume (mL),Titration (mL)\nS1,Pratt,FeO,1,2\n", "DUPLICATE_COLUMN", "E1", "volume"},
		"unknown method":  {head + "S1,Prat,FeO,1,2,0.1,\n", "UNKNOWN_WET_METHOD", "B2", `did you mean "Pratt"?`},
		"no method":       {head + "S1,,FeO,1,2,0.1,\n", "NO_METHOD", "B2", "S1"},
		"no sample":       {head + ",Pratt,FeO,1,2,0.1,\n", "NO_SAMPLE", "A2", "names no sample"},
		"wrong analyte":   {head + "S1,Pratt,CuO,1,2,0.1,\n", "WRONG_ANALYTE", "C2", "FeO"},
		"no analyte":      {head + "S1,AAS,,1,2,0.1,\n", "NO_ANALYTE", "C2", "AAS"},
		"no number":       {head + "S1,Pratt,FeO,1,\"2,5x\",0.1,\n", "BAD_READING", "E2", "volume"},
		"below a limit":   {head + "S1,Pratt,FeO,1,<2,0.1,\n", "BAD_READING", "E2", "volume"},
		"missing mass":    {head + "S1,Pratt,FeO,,2,0.1,\n", "MISSING_READING", "D2", "sample mass"},
		"unknown titrant": {head + "S1,Pratt,FeO,1,2,,K2Cr2O7\n", "UNKNOWN_TITRANT", "G2", "not standardised"},
		"odd titrant":     {head + "blue,standardisation,Fe,1,2,,\n", "STANDARDISATION", "A2", "begin the name"},
	} {
		s, ok := readText(t, c.text)
		if !ok {
			t.Errorf("%s: not recognised", name)
			continue
		}
		severity := source.Error
		if c.code == "UNKNOWN_COLUMN" {
			severity = source.Warning
		}
		wantNotice(t, s.AllNotices(), severity, c.code, "bench.csv, cell "+c.at, c.word)
	}
}

func TestOtherSheetsAreNoReadings(t *testing.T) {
	for _, text := range []string{
		"id,kind,origin,site\nS1,slag,experimental,Kettle Rigg\n",
		"Run,Date,Ore (kg),Volume (L)\nF1,2026-06-13,12,3\n",
		"Sample,Method,Note\nS1,XRF,bead\n",
		"Sample,SiO2,FeO,Method\n,wt%,wt%,\nS1,30,50,XRF\n",
	} {
		if _, ok := readText(t, text); ok {
			t.Errorf("taken for readings: %q", text)
		}
	}
}

// plainRecords cuts text at line breaks and commas, without the help of package
// sheet, so that entries come through that it would have sorted out.
func plainRecords(text string) sheet.Records {
	r := sheet.Records{File: "f.csv"}
	for i, line := range strings.Split(text, "\n") {
		var cells []sheet.RecordCell
		for j, entry := range strings.Split(line, ",") {
			at := source.Cell{File: "f.csv", Ref: fmt.Sprintf("R%dC%d", i+1, j+1)}
			if i == 0 {
				f := sheet.Field{Name: strings.TrimSpace(entry), Ref: at.Ref}
				if name, unit, ok := strings.Cut(f.Name, "("); ok {
					f.Name, f.Unit = strings.TrimSpace(name), strings.TrimSuffix(unit, ")")
				}
				r.Fields = append(r.Fields, f)
				continue
			}
			c := sheet.RecordCell{Text: entry, Value: math.NaN(), Limit: math.NaN(), Class: quantity.Unusable, At: at}
			if x, err := strconv.ParseFloat(entry, 64); err == nil {
				c.Value, c.Class = x, quantity.Measured
			} else if entry == "" {
				c.Class = quantity.Missing
			}
			cells = append(cells, c)
		}
		if i > 0 {
			r.Rows = append(r.Rows, sheet.Record{Row: i + 1, Cells: cells})
		}
	}
	return r
}

func FuzzRead(f *testing.F) {
	for _, s := range []string{
		"Sample,Method,Analyte,Sample mass (g),Volume (mL),Blank (mL),Concentration (mol/L)\nS1,Pratt,FeO,0.5,17.85,0.05,0.01667\n",
		"Sample,Method,Analyte,Sample mass (g),Volume ± (%),Volume (mL),Titre (mg/mL)\nS1,iodide,Cu,0.5,1e-3,1e300,1e9\n",
		"Sample,Method,Analyte,Signal,Standard (mg/L),Calibration\nL,calibration standard,,1,0,\nL,calibration standard,,2,1,\nL,calibration standard,,3,2,\nS,AAS,Zn,2,,L\n",
		"Sample,Method,Analyte,Added volume (mL),Signal,Aliquot (mL),Standard (mg/L),Flask (mL),Sample mass (g)\nS,standard addition,Cu,0,1,25,300,100,1\nS,standard addition,Cu,1,2,25,300,100,1\nS,standard addition,Cu,2,2,25,300,100,1\n",
		"Sample,Method,Analyte,Purity,Sample mass (g),Volume (mL)\nEDTA,standardisation,Zn,0.99,1,0\n",
		"id,method,±,u,±\n,,,,\n",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		r := plainRecords(text)
		if !Recognise(&r) {
			return
		}
		s := Read(&r)
		for _, n := range s.AllNotices() {
			if n.Message == "" || n.Code == "" || n.At.File == "" {
				t.Errorf("a notice without words or place: %+v", n)
			}
		}
		for _, r := range s.Results {
			q := r.Value
			switch {
			case !q.Known():
				if !r.Notices.Failed() {
					t.Errorf("%s: no value and no error", r)
				}
			case math.IsInf(q.Value, 0) || math.IsNaN(q.U) || math.IsInf(q.U, 0) || q.U < 0:
				t.Errorf("%s = %v ± %v", r, q.Value, q.U)
			case len(q.From) == 0:
				t.Errorf("%s rests on no cell", r)
			}
		}
	})
}
