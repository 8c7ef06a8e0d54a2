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
		"decimal comma":        {"Sample;Cu ppm;Zn ppm\nKR-1;1,234;2,345\n", Reading{Decimal: ","}, "KR-1 [sample]: Cu=0.0001234 Zn=0.0002345"},
		"decimal point":        {"Sample;Cu ppm;Zn ppm\nKR-1;1,234;2,345\n", Reading{Decimal: "."}, "KR-1 [sample]: Cu=0.1234 Zn=0.2345"},
		"negative":             {"Sample,Cu ppm,LOI %\nKR-1,-5,-0.5\n", Reading{NegativeIsLimit: true}, "KR-1 [sample]: Cu:lt0.0005 LOI=-0.5"},
		"error column":         {"Sample,Cu ppm,Cu Error,Zn ppm\nKR-1,<LOD,12,40\n", Reading{ErrorIsLimit: true}, "KR-1 [sample]: Cu:lt0.0012 Zn=0.004"},
		"heading row":          {"Cu %,Fe %,S %\n5,40,1\nSample,SiO2 %,CaO %\nKR-1,31.2,5.1\n", Reading{HeaderRow: 3}, "KR-1 [sample]: SiO2=31.2 CaO=5.1"},
		"unit of one column":   {"Sample,SiO2 %,Cu ppm\nKR-1,31.2,0.9\n", Reading{Units: map[string]string{"Cu ppm": "wt%"}}, "KR-1 [sample]: SiO2=31.2 Cu=0.9"},
		"unit against a title": {"All in ppm\nSample,SiO2,Cu\nKR-1,31.2,0.9\n", Reading{Unit: "wt%"}, "KR-1 [sample]: SiO2=31.2 Cu=0.9"},
		"twin columns":         {"Sample,SiO2 %,Cu %,Cu %\nKR-1,31.2,0.9,0.8\n", Reading{Columns: map[string]string{"C1": "ignore"}}, "KR-1 [sample]: SiO2=31.2 Cu=0.8"},
		"iron is no total":     {"Sample,SiO2 %,Fe2O3 %\nKR-1,31.2,5.1\n", Reading{Columns: map[string]string{"Fe2O3 %": "Fe2O3"}}, "KR-1 [sample]: SiO2=31.2 Fe2O3=5.1"},
		"name column":          {"Sample,Bag,SiO2 %,CaO %\n1,KR-1,31.2,5.1\n", Reading{Columns: map[string]string{"Bag": "name"}}, "KR-1 [sample]: SiO2=31.2 CaO=5.1 {Sample: 1}"},
		"error column by name": {"Sample,SiO2 %,plus,CaO %\nKR-1,31.2,0.4,5.1\n", Reading{Columns: map[string]string{"plus": "uncertainty"}, K: 2}, "KR-1 [sample]: SiO2=31.2±0.2 CaO=5.1"},
		"unit column":          {"Sample,in,Fe,Cu\nKR-1,ppm,900,40\n", Reading{Columns: map[string]string{"in": "unit"}}, "KR-1 [sample]: Fe=0.09 Cu=0.004"},
		"orientation":          {"Sample,SiO2,CaO\nSiO2 (%),31,32\nCaO (%),5,6\n", Reading{Orientation: SamplesInColumns}, "SiO2 [sample]: SiO2=31 CaO=5"},
		"heading column":       {"x,Sample,KR-1\nAl2O3 %,SiO2 (%),31\nFe2O3 %,CaO (%),5\n", Reading{Orientation: SamplesInColumns, HeaderRow: 2}, "KR-1 [sample]: SiO2=31 CaO=5"},
		"one analyte":          {"Sample,Cu %\nKR-1,0.9\n", Reading{HeaderRow: 1}, "KR-1 [sample]: Cu=0.9"},
		"nd":                   {"Sample,SiO2 %,Cu ppm\nKR-1,31.2,n.d.\n", Reading{Nd: "not analysed"}, "KR-1 [sample]: SiO2=31.2 Cu:na"},
		"basis":                {"Sample,SiO2 %,Cu ppm\nKR-1,31.2,5\n", Reading{Basis: "dry"}, "KR-1 [sample]: SiO2/dry=31.2 Cu/dry=0.0005"},
		"samples":              {"Sample,SiO2 %,Cu ppm\nMean,31.2,5\nStd,30,6\n", Reading{Samples: []string{"Mean", "Std"}}, "Std [sample]: SiO2=30 Cu=0.0006"},
		"controls":             {"Sample,SiO2 %,Cu ppm\nKR-1,31.2,5\nGlass,30,6\n", Reading{Controls: []string{"Glass"}}, "Glass [control]: SiO2=30 Cu=0.0006"},
		"distinct":             {"Sample,SiO2 %,Cu ppm\nKR-1,31.2,5\nKR-1a,30,6\n", Reading{DistinctNames: true}, "KR-1a [sample]: SiO2=30 Cu=0.0006"},
		"delimiter":            {"Sample;SiO2, %;CaO, %\nKR-1;31;5\n", Reading{Delimiter: ";"}, "KR-1 [sample]: SiO2=31 CaO=5"},
		"charset":              {"Sample,SiO2 %,Cu \xb5g/g\nKR-1,31.2,5\n", Reading{Charset: "macintosh"}, "SiO2=31.2"},
		"as records":           {"Sample,SiO2 %,CaO %\nKR-1,31.2,5.1\n", Reading{Records: true}, `2: "KR-1"; 31.2; 5.1;`},
		"skip":                 {"Sample,SiO2 %,CaO %\nKR-1,31.2,5.1\n", Reading{Skip: true}, ""},
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
		"charset":     {Sheets: map[string]Reading{"": {Charset: "klingon"}}},
		"delimiter":   {Sheets: map[string]Reading{"": {Delimiter: ":"}}},
		"nd":          {Sheets: map[string]Reading{"": {Nd: "perhaps"}}},
		"k":           {Sheets: map[string]Reading{"": {K: -1}}},
		"basis":       {Sheets: map[string]Reading{"": {Basis: "wishful"}}},
		"units":       {Sheets: map[string]Reading{"": {Units: map[string]string{"Cu": "cps"}}}},
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

// TestGuessesTellTheirSetting reads sheets with a guess in each, and reads them
// again with what the notice says overrules it.
func TestGuessesTellTheirSetting(t *testing.T) {
	for code, c := range map[string]struct{ text, want string }{
		"UNIT_MISSING":          {"Sample,SiO2,Cu\nKR-1,31.2,0.9\n", "unit: wt%"},
		"UNIT_FROM_TEXT":        {"All in ppm\nSample,SiO2,Cu\nKR-1,31.2,0.9\n", "unit: wt%"},
		"UNIT_FROM_ROW":         {"Sample,SiO2,Cu\n,wt%,ppm\nKR-1,31.2,9\n", "units: {SiO2: ppm, Cu: wt%}"},
		"UNIT_DOUBTFUL":         {"Sample,SiO2 %,Cu %\nKR-1,31.2,900\n", `units: {"Cu %": ppm}`},
		"IRON_ASSUMED_TOTAL":    {"Sample,SiO2 %,Fe2O3 %\nKR-1,31.2,5.1\n", `columns: {"Fe2O3 %": Fe2O3}`},
		"HEADER_REPAIRED":       {"Sample,Si02 %,CaO %\nKR-1,31.2,5.1\n", `columns: {"Si02 %": SiO2}`},
		"UNKNOWN_COLUMN":        {"Sample,SiO2 %,CaO %,Q7\nKR-1,31.2,5.1,3\n", "columns: {Q7: note}"},
		"DUPLICATE_ANALYTE":     {"Sample,SiO2 %,Cu %,Cu %\nKR-1,31.2,0.9,0.8\n", "columns: {D1: ignore}"},
		"DECIMAL_UNDECIDED":     {"Sample;Cu ppm;Zn ppm\nKR-1;1,234;2,345\n", `decimal: ","`},
		"ND_MEANING":            {"Sample,SiO2 %,Cu ppm\nKR-1,31.2,n.d.\n", `nd: "not analysed"`},
		"UNCERTAINTY_K_UNKNOWN": {"Sample,SiO2 %,±,CaO %\nKR-1,31.2,0.4,5.1\n", "k: 2"},
		"NEGATIVE_VALUE":        {"Sample,SiO2 %,Cu ppm\nKR-1,31.2,-5\n", "negative_is_limit: true"},
		"REPLICATE":             {"Sample,SiO2 %,Cu ppm\nKR-1,31.2,5\nKR-1a,30,6\n", "distinct_names: true"},
		"QC_ROW":                {"Sample,SiO2 %,Cu ppm\nKR-1,31.2,5\nStd A,30,6\n", `samples: ["Std A"]`},
		"STAT_ROW":              {"Sample,SiO2 %,Cu ppm\nKR-1,31.2,5\nMin,30,6\n", "samples: [Min]"},
		"TRANSPOSED":            {"Sample,KR-1,KR-2\nSiO2 (%),31,32\nCaO (%),5,6\n", "orientation: rows"},
		"ENCODING":              {"Sample,SiO2 %,Cu \xb5g/g\nKR-1,31.2,5\n", "charset: windows-1250"},
		"DELIMITER":             {"Sample;SiO2 %;CaO %\nKR-1;31;5\n", `delimiter: ","`},
	} {
		b, err := readBytes(context.Background(), []byte(c.text), "s.csv", Options{})
		if err != nil {
			t.Fatal(err)
		}
		found := false
		for _, n := range b.Notices {
			if n.Code == code {
				found = true
				if n.Setting != c.want {
					t.Errorf("%s: setting %q, want %q", code, n.Setting, c.want)
				}
			}
		}
		if !found {
			t.Errorf("%s was not raised: %v", code, b.Notices.Codes())
		}
	}
}
