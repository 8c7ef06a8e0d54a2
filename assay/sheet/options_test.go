package sheet

import (
	"context"
	"strings"
	"testing"

	"smeltbook/assay/quantity"
)

func TestReading(t *testing.T) {
	for name, c := range map[string]struct {
		text    string
		reading Reading
		want    string
	}{
		"unit": {"Sample,SiO2,Cu ppm\nKR-1,31.2,900\n", Reading{Unit: "wt%"}, "KR-1 [sample]: SiO2=31.2 Cu=0.09"},
		"analyte of a column": {"Sample,SiO2 %,CO %,Weird %,Zn ppm\nKR-1,31.2,0.1,2.5,40\n",
			Reading{Columns: map[string]string{"CO %": "Co", "weird %": "CaO", "Zn ppm": ""}}, "KR-1 [sample]: SiO2=31.2 Co=0.1 CaO=2.5 {Zn ppm: 40}"},
		"decimal comma": {"Sample;Cu ppm;Zn ppm\nKR-1;1,234;2,345\n", Reading{Decimal: ","}, "KR-1 [sample]: Cu=0.0001234 Zn=0.0002345"},
		"decimal point": {"Sample;Cu ppm;Zn ppm\nKR-1;1,234;2,345\n", Reading{Decimal: "."}, "KR-1 [sample]: Cu=0.1234 Zn=0.2345"},
		"negative":      {"Sample,Cu ppm,LOI %\nKR-1,-5,-0.5\n", Reading{NegativeIsLimit: true}, "KR-1 [sample]: Cu:lt0.0005 LOI=-0.5"},
		"error column":  {"Sample,Cu ppm,Cu Error,Zn ppm\nKR-1,<LOD,12,40\n", Reading{ErrorIsLimit: true}, "KR-1 [sample]: Cu:lt0.0012 Zn=0.004"},
		"heading row":   {"Cu %,Fe %,S %\n5,40,1\nSample,SiO2 %,CaO %\nKR-1,31.2,5.1\n", Reading{HeaderRow: 3}, "KR-1 [sample]: SiO2=31.2 CaO=5.1"},
		"as records":    {"Sample,SiO2 %,CaO %\nKR-1,31.2,5.1\n", Reading{Records: true}, `2: "KR-1"; 31.2; 5.1;`},
		"skip":          {"Sample,SiO2 %,CaO %\nKR-1,31.2,5.1\n", Reading{Skip: true}, ""},
	} {
		b, err := readBytes(context.Background(), []byte(c.text), "s.csv", Options{Sheets: map[string]Reading{"": c.reading}})
		if err != nil {
			t.Fatal(err)
		}
		got := describeBook(b)
		if c.want == "" && got != "" || !strings.Contains(got, c.want) {
			t.Errorf("%s: got\n%swant %q", name, got, c.want)
		}
	}
}

// TestWrongCalls are mistakes of the caller, not of the file.
func TestWrongCalls(t *testing.T) {
	for name, o := range map[string]Options{
		"decimal":     {Sheets: map[string]Reading{"": {Decimal: "x"}}},
		"unit":        {Sheets: map[string]Reading{"": {Unit: "furlong"}}},
		"analyte":     {Sheets: map[string]Reading{"": {Columns: map[string]string{"a": "Unobtainium"}}}},
		"orientation": {Sheets: map[string]Reading{"": {Orientation: "diagonal"}}},
		"heading row": {Sheets: map[string]Reading{"": {HeaderRow: -1}}},
		"charset":     {Charset: "klingon"},
		"limit":       {Limits: Limits{Rows: -1}},
	} {
		if b, err := Read(context.Background(), "absent.csv", "", o); err == nil || b != nil {
			t.Errorf("%s: %v, %v; want an error", name, b, err)
		}
	}
}

func TestRecordNumbers(t *testing.T) {
	b, err := readBytes(context.Background(), []byte("Run ID,Ore (kg),peak_T [°C],Charcoal,Note\nF1,2.5,<1100,12.5O,\nF2,,1180,11,dry day\n"), "field/runs.csv", Options{})
	if err != nil || len(b.Records) != 1 || len(b.Records[0].Rows) != 2 {
		t.Fatalf("%v, %+v", err, b)
	}
	r := &b.Records[0]
	first, second := r.Rows[0], r.Rows[1]
	if !r.Has("run-id") || r.Has("slag") {
		t.Error("Has is wrong")
	}
	if s, at := r.Text(first, "id", "RUN ID"); s != "F1" || at.Ref != "A2" || at.File != "field/runs.csv" {
		t.Errorf("Text = %q at %v", s, at)
	}
	if q := first.Number("ore"); q.Value != 2.5 || q.Unit != "kg" || q.From[0].Ref != "B2" {
		t.Errorf("ore = %+v", q)
	}
	if q := first.Number("Peak T"); q.Class != quantity.Below || q.Limit != 1100 || q.Unit != "°C" {
		t.Errorf("peak T = %+v", q)
	}
	if q := first.Number("charcoal"); q.Class != quantity.Unusable || !strings.Contains(q.UNote, "letter O for zero") {
		t.Errorf("charcoal = %+v", q)
	}
	if q := second.Number("ore"); q.Class != quantity.Missing {
		t.Errorf("missing ore = %+v", q)
	}
	if q := second.Number("slag"); q.Class != quantity.Missing || len(q.From) != 0 {
		t.Errorf("no such field = %+v", q)
	}
	if got := second.Text("absent", "note"); got != "dry day" {
		t.Errorf("note = %q", got)
	}
	if (Record{}).Text("x") != "" || (Record{}).Number("x").Known() {
		t.Error("the zero Record holds something")
	}
}

// TestAddresses: every value knows its file, sheet and cell.
func TestAddresses(t *testing.T) {
	b := readBook(t, makeBook(t, sheetOpen+headingRow+sampleRow+sheetClose, nil), Options{})
	v, ok := b.Tables[0].Row(0).Value("Cu")
	if at := v.From[0]; !ok || at.File != "lab/book.xlsx" || at.Sheet != "Slag" || at.Ref != "C2" {
		t.Errorf("Cu stands in %v", v.From)
	}
	if got := b.Tables[0].Row(0).NameCell.String(); got != `lab/book.xlsx, sheet "Slag", cell A2` {
		t.Errorf("the name stands in %s", got)
	}
}
