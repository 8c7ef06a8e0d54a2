package assay

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"smeltbook/assay/chem"
	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
)

// folder writes files into a temporary campaign folder.
func folder(t *testing.T, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		path := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func load(t *testing.T, files map[string]string, cfg Config) *Campaign {
	t.Helper()
	c, err := Load(context.Background(), folder(t, files), cfg, nil)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func wantNotice(t *testing.T, ns source.Notices, s source.Severity, code string, words ...string) {
	t.Helper()
	for _, n := range ns {
		if n.Severity != s || n.Code != code {
			continue
		}
		all := true
		for _, w := range words {
			all = all && strings.Contains(n.Error(), w)
		}
		if all {
			return
		}
	}
	t.Errorf("no %v %s with %q among:", s, code, words)
	for _, n := range ns {
		t.Logf("  %v %s %s", n.Severity, n.Code, n.Error())
	}
}

const (
	xrf = `WD-XRF on fused beads; ± is one standard uncertainty (k = 1)
Sample,SiO2,±,Al2O3,±,FeO*,±,CaO,±,CuO,±
,wt%,wt%,wt%,wt%,wt%,wt%,wt%,wt%,wt%,wt%
KR-S01,34.0,0.3,6.0,0.1,54.0,0.5,4.0,0.1,1.5,0.05
LS-S01,31.0,0.3,5.0,0.1,58.0,0.5,4.0,0.1,1.0,0.05

* total iron as FeO
`
	wet = `Wet chemistry
Sample,Cu,S
,wt%,wt%
KR-S01,1.30,0.20
kr-s01,1.34,0.22
`
	field = `id,kind,origin,site,context,run
KR-S01,slag,experimental,Kettle Rigg,,F1
LS-S01,slag,excavated,Low Sallow,trench 1,
`
)

func TestLoadJoinsAndReduces(t *testing.T) {
	c := load(t, map[string]string{"lab/xrf.csv": xrf, "lab/wet.csv": wet, "field/samples.csv": field},
		Config{Groups: []GroupRule{{Name: "fired", Origins: []string{"experimental"}}, {Name: "dug", Origins: []string{"Excavated"}}}})
	if c.Notices.Failed() {
		t.Fatalf("errors: %v", c.Notices.Of(source.Error))
	}
	s, ok := c.Sample("kr-s01")
	if !ok || len(s.Assays) != 3 {
		t.Fatalf("KR-S01 joined %d analyses, want 3", len(s.Assays))
	}
	methods := map[string]int{}
	for _, a := range s.Assays {
		methods[a.Method]++
	}
	if methods[WDXRF] != 1 || methods[WetChemistry] != 2 {
		t.Errorf("methods %v, want one WD-XRF and two wet chemistry", methods)
	}
	// Titrated copper is preferred, its two determinations averaged, and slag
	// copper is stated as the element.
	cu, ok := s.AsReported.Get("Cu")
	if !ok || math.Abs(cu.Value-1.32) > 1e-12 || s.Chosen["Cu"] != WetChemistry {
		t.Errorf("Cu = %v by %q, want 1.32 by wet chemistry", cu.Text(), s.Chosen["Cu"])
	}
	if len(cu.From) != 2 {
		t.Errorf("Cu comes from %v, want both rows", cu.From)
	}
	if _, still := s.AsReported.Get("CuO"); still {
		t.Error("CuO by XRF is counted beside titrated Cu")
	}
	// An uncertainty that nobody stated is assumed and says so.
	sulphur, _ := s.AsReported.Get("S")
	if !strings.Contains(sulphur.UNote, "assumed 1 % relative for wet chemistry") {
		t.Errorf("uncertainty of S: %q", sulphur.UNote)
	}
	if n := c.Assumptions()["assumed 1 % relative for wet chemistry; the sheet states none"]; n != 2 {
		t.Errorf("the assumption is listed %d times, want 2 (Cu and S): %v", n, c.Assumptions())
	}
	var sum float64
	for _, p := range s.Composition.Parts {
		sum += p.Value
	}
	if math.Abs(sum-100) > 1e-9 {
		t.Errorf("normalised composition sums to %g", sum)
	}
	// Sulphur of a slag is sulphide: the oxygen counted for it is taken off.
	if got := s.Total.Measured; math.Abs(got-(34+6+54+4+1.32+0.21*(1-0.49903))) > 1e-5 {
		t.Errorf("total as reported %g", got)
	}
	for name, want := range map[string]string{"fired": "KR-S01", "dug": "LS-S01"} {
		g, err := c.Group(name)
		if err != nil || len(g.Samples) != 1 || g.Samples[0].ID != want {
			t.Errorf("group %s: %v %v", name, g.Samples, err)
		}
	}
}

func TestIronAndCopperFormByKind(t *testing.T) {
	c := load(t, map[string]string{
		"xrf.csv":     "Sample,SiO2,Fe2O3*,CuO,CaO,LOI\n,wt%,wt%,wt%,wt%,wt%\nOV-1,40,20,25,1,14\n\n* total iron as Fe2O3\n",
		"samples.csv": "id,kind,origin\nOV-1,ore,natural\n",
	}, Config{})
	s, _ := c.Sample("OV-1")
	if _, ok := s.AsReported.Get("Fe2O3"); !ok {
		t.Errorf("ore states iron as %v", s.AsReported.Parts)
	}
	if _, ok := s.AsReported.Get("CuO"); !ok {
		t.Errorf("ore states copper as %v", s.AsReported.Parts)
	}
	c = load(t, map[string]string{
		"xrf.csv":     "Sample,SiO2,Fe2O3*,CuO,CaO,LOI\n,wt%,wt%,wt%,wt%,wt%\nKR-1,35,60,2,4,-3\n\n* total iron as Fe2O3\n",
		"samples.csv": "id,kind,origin\nKR-1,slag,experimental\n",
	}, Config{Recipe: Recipe{AcceptTotals: []string{"all"}}})
	s, _ = c.Sample("KR-1")
	// 60 % Fe2O3 is 53.989 % FeO: factor 0.89981 (CIAAW weights).
	if feo := s.AsReported.Wt("FeO"); math.Abs(feo-60*0.89981) > 0.001 {
		t.Errorf("FeO = %g", feo)
	}
	// The gain on ignition is iron oxidising and is no part of the sum.
	if got, want := s.Total.Measured, 35+60*0.89981+2*0.79887+4; math.Abs(got-want) > 0.002 {
		t.Errorf("total = %g, want %g", got, want)
	}
	if s.Iron != chem.AsFeO {
		t.Errorf("iron as %s", s.Iron)
	}
}

func TestBadInput(t *testing.T) {
	for _, c := range []struct {
		name     string
		files    map[string]string
		cfg      Config
		severity source.Severity
		code     string
		words    []string
	}{
		{"empty folder", nil, Config{}, source.Error, "NO_DATA", []string{"no spreadsheet"}},
		{"missing file", map[string]string{"lab/xrf.csv": xrf}, Config{Data: []string{"*.csv", "lab/xfr.csv"}, DataLines: []int{3, 4}}, source.Error, "MISSING_FILE", []string{"notebook.md, line 4", `"lab/xfr.csv"`, `did you mean "lab/xrf.csv"`}},
		{"path out of the folder", nil, Config{Data: []string{"../x.csv"}}, source.Error, "BAD_PATH", []string{"below the campaign folder"}},
		{"joins nothing", map[string]string{"xrf.csv": strings.Replace(xrf, "LS-S01", "LS-S1", 1), "samples.csv": field}, Config{}, source.Error, "JOINS_NOTHING", []string{"xrf.csv", "cell A5", `"LS-S1"`, `"LS-S01"`}},
		{"id twice", map[string]string{"xrf.csv": xrf, "samples.csv": field + "KR-S01,slag,experimental,,,\n"}, Config{}, source.Error, "DUPLICATE_ID", []string{"KR-S01", "cell A2"}},
		{"no id", map[string]string{"xrf.csv": xrf, "samples.csv": field + ",slag,experimental,,,\n"}, Config{}, source.Error, "NO_ID", []string{"samples.csv", "cell A4"}},
		{"not analysed", map[string]string{"xrf.csv": xrf, "samples.csv": field + "KR-S09,slag,experimental,,,\n"}, Config{}, source.Warning, "NOT_ANALYSED", []string{"KR-S09"}},
		{"odd word", map[string]string{"xrf.csv": xrf, "samples.csv": strings.Replace(field, "excavated", "excavted", 1)}, Config{}, source.Warning, "UNKNOWN_WORD", []string{"cell C3", "excavted", `"excavated"`}},
		{"other word", map[string]string{"xrf.csv": xrf, "samples.csv": strings.Replace(field, "experimental", "replica", 1)}, Config{}, source.Warning, "UNKNOWN_WORD", []string{`"replica"`, `did you mean "experimental"?`, "leaves it out"}},
		{"file twice", map[string]string{"xrf.csv": xrf, "xrf copy.csv": xrf, "samples.csv": field}, Config{}, source.Warning, "FILE_TWICE", []string{"xrf.csv", "the same as xrf copy.csv"}},
		{"sheet under data", map[string]string{"xrf.csv": xrf}, Config{Data: []string{"xrf.csv#Slag"}}, source.Error, "MISSING_FILE", []string{`"xrf.csv#Slag"`, `write "xrf.csv" there`, "skip: true"}},
		{"method of a missing file", map[string]string{"xrf.csv": xrf}, Config{Methods: []MethodRule{{File: "xfr.csv", Method: "XRF", Line: 6}}}, source.Warning, "UNUSED_RULE", []string{"line 6", "`methods:` speaks of \"xfr.csv\"", `did you mean "xrf.csv"`}},
		{"no kind", map[string]string{"xrf.csv": xrf}, Config{}, source.Warning, "NO_KIND", []string{"KR-S01, LS-S01", "field sheet"}},
		{"low total", map[string]string{"xrf.csv": strings.Replace(xrf, "54.0", "14.0", 1), "samples.csv": field}, Config{}, source.Error, "TOTAL_OUT_OF_RANGE", []string{"KR-S01 sums to 59", "cell B4", "accept_totals"}},
		{"empty group", map[string]string{"xrf.csv": xrf, "samples.csv": field}, Config{Groups: []GroupRule{{Name: "g", Kinds: []string{"slagg"}, Line: 7}}}, source.Error, "EMPTY_GROUP", []string{"notebook.md", "line 7", `no sample has kind "slagg"; did you mean "slag"`}},
		{"unknown sample", map[string]string{"xrf.csv": xrf, "samples.csv": field}, Config{Groups: []GroupRule{{Name: "g", Except: []string{"KR-S10"}}}}, source.Error, "UNKNOWN_SAMPLE", []string{`"KR-S10"`, "KR-S01"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := load(t, c.files, c.cfg)
			wantNotice(t, got.Notices, c.severity, c.code, c.words...)
		})
	}
}

func TestAcceptedTotalIsUsed(t *testing.T) {
	c := load(t, map[string]string{"xrf.csv": strings.Replace(xrf, "54.0", "14.0", 1), "samples.csv": field},
		Config{Recipe: Recipe{AcceptTotals: []string{"kr-s01"}}})
	if c.Notices.Failed() {
		t.Errorf("an accepted total still fails: %v", c.Notices.Of(source.Error))
	}
	wantNotice(t, c.Notices, source.Warning, "TOTAL_OUT_OF_RANGE", "KR-S01")
}

// A mark that a footnote explains is no part of a sample's name.
func TestMarkedNameJoins(t *testing.T) {
	marked := strings.Replace(xrf, "LS-S01", "LS-S01†", 1)
	c := load(t, map[string]string{"xrf.csv": marked + "† crust of wall on one side\n", "samples.csv": field}, Config{})
	if c.Notices.Failed() {
		t.Fatal(c.Notices.Of(source.Error))
	}
	wantNotice(t, c.Notices, source.Note, "NAME_MARKED", "LS-S01†", "crust of wall")
	if s, _ := c.Sample("LS-S01"); len(s.Assays) != 1 || !strings.Contains(s.Note, "crust of wall on one side") {
		t.Errorf("%d analyses, note %q", len(s.Assays), s.Note)
	}
	// Without a footnote, and with one that explains a heading, it is.
	for _, name := range []string{"LS-S01†", "LS-S01*"} {
		c = load(t, map[string]string{"xrf.csv": strings.Replace(xrf, "LS-S01", name, 1), "samples.csv": field}, Config{})
		wantNotice(t, c.Notices, source.Error, "JOINS_NOTHING", name)
	}
}

func TestUnknownGroupSuggests(t *testing.T) {
	c := load(t, map[string]string{"xrf.csv": xrf, "samples.csv": field}, Config{Groups: []GroupRule{{Name: "fired", Origins: []string{"experimental"}}}})
	_, err := c.Group("fierd")
	if err == nil || !strings.Contains(err.Error(), `did you mean "fired"?`) {
		t.Errorf("error %v", err)
	}
}

func TestRecogniseMethod(t *testing.T) {
	for text, want := range map[string]string{
		"Slag, WD-XRF on fused beads": WDXRF, "handheld XRF on powders": HandheldXRF, "pXRF": HandheldXRF, "lab/xrf.xlsx": XRF,
		"SEM-EDS area scans": SEMEDS, "wet-chemistry.xlsx": WetChemistry, "titration": WetChemistry, "ICP-OES": ICP, "AAS": AAS, "": Unstated, "Sheet1": Unstated,
	} {
		if got := recogniseMethod(text); got != want {
			t.Errorf("%q is %q, want %q", text, got, want)
		}
	}
	if got := recogniseMethod("Sheet1", "portable", "WD-XRF"); got != HandheldXRF {
		t.Errorf("the nearest text should win, got %q", got)
	}
}

// A sample that bears the name of a reference material is a sample where a
// field sheet lists it as one.
func TestListedSampleNamedLikeAControl(t *testing.T) {
	files := map[string]string{
		"lab/xrf.csv": "Sample,SiO2 (%),Al2O3 (%),±\nW-2,64.1,16.2,0.2\nBHVO-2,49.9,13.5,0.2\n",
		"field.csv":   "id,kind,origin\nW-2,lining,experimental\n",
	}
	cfg := Config{Data: []string{"lab/*", "field.csv"}}
	c := load(t, files, cfg)
	s, ok := c.Sample("W-2")
	if !ok || len(s.Assays) != 1 {
		t.Errorf("W-2 is listed as a lining and has lost its analysis: %+v", s)
	}
	if len(c.Controls) != 1 || c.Controls[0].Base != "BHVO-2" {
		t.Errorf("controls are %+v, want BHVO-2 alone", c.Controls)
	}
	wantNotice(t, c.Notices, source.Warning, "NAMED_AS_CONTROL", "W-2", "field.csv", "A2")

	cfg.Sheets = []SheetRule{{File: "lab/xrf.csv", Reading: sheet.Reading{Controls: []string{"W-2"}}}}
	if c = load(t, files, cfg); len(c.Controls) != 2 {
		t.Errorf("W-2 is named under controls: and is read as a sample; controls are %+v", c.Controls)
	}
}

func TestRowsWithoutNameJoinNothing(t *testing.T) {
	c := load(t, map[string]string{
		"lab/xrf.csv": "Sample,SiO2 (%),Al2O3 (%)\n,64.1,16.2\nKR-1,49.9,13.5\n",
		"field.csv":   "id,kind\nKR-1,slag\n",
	}, Config{Data: []string{"lab/*", "field.csv"}})
	wantNotice(t, c.Notices, source.Error, "JOINS_NOTHING", "A2", "no sample name")
}

// A pattern may take in the laboratory's letter and its pictures; a file that
// is named is read, or refused with its reason.
func TestPatternsLeaveLettersAside(t *testing.T) {
	files := map[string]string{"lab/xrf.csv": xrf, "lab/letter.pdf": "%PDF-1.4", "lab/photo.PNG": "\x89PNG", "lab/older/xrf.csv": xrf}
	c := load(t, files, Config{Data: []string{"lab/*"}})
	if c.Notices.Failed() || len(c.Samples) != 2 {
		t.Errorf("%d samples, %v", len(c.Samples), c.Notices)
	}
	wantNotice(t, c.Notices, source.Warning, "LEFT_OUT", "lab/letter.pdf", "lab/photo.PNG", "lab/older")
	if c = load(t, files, Config{Data: []string{"lab/xrf.csv", "lab/letter.pdf"}}); !c.Notices.Failed() {
		t.Error("a PDF that is named was passed over")
	}
}

func TestForgottenSpreadsheetsAreTold(t *testing.T) {
	files := map[string]string{"lab/xrf.csv": xrf, "lab/handheld.csv": xrf, "table.csv": xrf, "paper/table.csv": xrf}
	c := load(t, files, Config{Data: []string{"lab/xrf.csv"}})
	wantNotice(t, c.Notices, source.Note, "NOT_READ", "not read: lab/handheld.csv; add")
	for _, n := range load(t, files, Config{Data: []string{"lab/*"}}).Notices {
		if n.Code == "NOT_READ" {
			t.Errorf("all is read, and %v", n)
		}
	}
}
