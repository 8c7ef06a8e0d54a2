package deposit

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"smeltbook/assay"
	"smeltbook/report/equation"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
	"smeltbook/report/study"
)

const front = `---
title: Two pieces, one "firing"
subtitle: A small season
authors: ["Reeve, Ada", T. Marsh]
date: 2026-11-02
site: Kettle Rigg
licence: cc-by-4.0
subjects: [slag, copper]
data: [lab.csv, samples.csv, runs.csv]
groups:
  fired: {origin: experimental}
draws: 50
---

Prose.
`

var sheets = map[string]string{
	"lab.csv": "Sample,SiO2,SiO2 ±,FeO,CaO,Al2O3,Cu,As\n,wt%,wt%,wt%,wt%,wt%,wt%,wt%\n" +
		"KR-S01,34,0.3,54,4,6,1.2,<0.01\n=LS-S01,31,0.3,58,3,5,0.8,n.d.\n",
	"samples.csv": "id,kind,origin,site,run\nKR-S01,slag,experimental,Kettle Rigg,KR-F1\n=LS-S01,slag,excavated,Low Sallow,\n",
	"runs.csv":    "Run,Ore (kg),Note\nKR-F1,10,-cold\n",
}

// input makes a campaign of two slags; edit changes its notebook.
func input(t testing.TB, edit func(string) string) Input {
	t.Helper()
	text := front
	if edit != nil {
		text = edit(text)
	}
	dir := t.TempDir()
	in := Input{Report: []byte("<!doctype html>\n"), Program: Program{Name: "smeltbook", Version: "1", Go: "go", Modules: []Module{{"example.org/a", "v1", ""}}},
		Document: page.Document{Blocks: []page.Block{&page.Entry{Number: 1, Kind: "flow", Title: "Flow", Assumed: []string{"reach 1 Pa·s"}}}},
		Inputs:   map[string][]byte{assay.NotebookName: []byte(text)}}
	for name, data := range sheets {
		in.Inputs[name] = []byte(data)
		if err := os.WriteFile(filepath.Join(dir, name), []byte(data), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	n, notices := notebook.Parse(assay.NotebookName, []byte(text))
	c, err := assay.Load(context.Background(), dir, n.Config, nil)
	if err != nil || notices.Failed() || c.Notices.Failed() {
		t.Fatal(err, notices, c.Notices)
	}
	in.Notebook, in.Notices = n, c.Notices
	if in.Study, err = study.Compute(context.Background(), c, study.ConditionsOf(n.Seed, n.Draws), nil); err != nil {
		t.Fatal(err)
	}
	return in
}

func packed(t testing.TB, in Input) []byte {
	t.Helper()
	var b bytes.Buffer
	if notices, err := Write(&b, in); err != nil || notices.Failed() {
		t.Fatal(err, notices)
	}
	return b.Bytes()
}

func prove(data []byte) (Proof, error) {
	return Verify(context.Background(), bytes.NewReader(data), int64(len(data)))
}

// unpack returns the files of an archive below its one folder.
func unpack(t testing.TB, data []byte) map[string][]byte {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	out := map[string][]byte{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		_, name, _ := strings.Cut(f.Name, "/")
		out[name] = text
	}
	return out
}

func TestRoundTrip(t *testing.T) {
	in := input(t, nil)
	data := packed(t, in)
	if !bytes.Equal(data, packed(t, in)) {
		t.Error("two runs differ")
	}
	p, err := prove(data)
	if err != nil {
		t.Fatal(err)
	}
	// Twelve values, two samples, three things recorded of one firing; four
	// inputs, three tables, and what describes them.
	if p.Tables != 3 || p.Rows != 12+2+3 || p.Files != 4+3+6 {
		t.Errorf("proof: %d tables, %d rows, %d files", p.Tables, p.Rows, p.Files)
	}
	files := unpack(t, data)
	for name, want := range in.Inputs {
		if got := files["data/campaign/"+name]; !bytes.Equal(got, want) || !bytes.Equal(got, p.Campaign[name]) {
			t.Errorf("%s does not come back", name)
		}
	}
	values, err := Values(in.Study.Campaign)
	if err != nil || !bytes.Equal(values, p.Values) {
		t.Errorf("the values are not those of the campaign: %v", err)
	}
	if !bytes.Equal(files["data/report.html"], in.Report) {
		t.Error("the report does not come back")
	}
}

func TestTablesMatchTheirDescription(t *testing.T) {
	files := unpack(t, packed(t, input(t, nil)))
	var p dataPackage
	if err := json.Unmarshal(files["data/datapackage.json"], &p); err != nil {
		t.Fatal(err)
	}
	for _, r := range p.Resources {
		records, err := csv.NewReader(bytes.NewReader(files["data/"+r.Path])).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		var names []string
		for i, f := range r.Schema.Fields {
			names = append(names, f.Name)
			if f.Description == "" || !slices.Contains([]string{stringType, numberType, booleanType}, f.Type) {
				t.Errorf("%s.%s: type %q, description %q", r.Name, f.Name, f.Type, f.Description)
			}
			if (f.Type == numberType) != (f.Unit != "") && r.Name != "firings" {
				t.Errorf("%s.%s is a %s with the unit %q", r.Name, f.Name, f.Type, f.Unit)
			}
			for _, record := range records[1:] {
				if err := f.check(record[i]); err != nil {
					t.Errorf("%s.%s: %v", r.Name, f.Name, err)
				}
			}
		}
		if !slices.Equal(names, records[0]) {
			t.Errorf("%s: fields %v, headings %v", r.Name, names, records[0])
		}
		// Table Schema: a string that stands for nothing has to be told.
		if !slices.Equal(r.Schema.MissingValues, []string{""}) || r.Profile != "tabular-data-resource" {
			t.Errorf("%s: missing values %q, profile %q", r.Name, r.Schema.MissingValues, r.Profile)
		}
	}
}

func TestValuesKeepWhatTheCellsSay(t *testing.T) {
	files := unpack(t, packed(t, input(t, nil)))
	text := string(files["data/tables/values.csv"])
	for _, want := range []string{
		"KR-S01,SiO2,34,wt%,34,wt%,0.3,",
		"KR-S01,As,<0.01,wt%,,wt%,,,lt,0.01,",
		"'=LS-S01,As,n.d.,wt%,,wt%,,,nd,,",
		",lab.csv,,H3\n",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
	if firings := string(files["data/tables/firings.csv"]); !strings.Contains(firings, "KR-F1,Ore,10,10,kg,runs.csv,,B2\n") || !strings.Contains(firings, "KR-F1,Note,'-cold,") {
		t.Errorf("firings\n%s", firings)
	}
}

// The mandatory properties are those of the DataCite Metadata Schema 4.5,
// table 1: identifier, creator, title, publisher, publication year, resource
// type.
func TestDataCiteHasWhatIsMandatory(t *testing.T) {
	files := unpack(t, packed(t, input(t, nil)))
	var d map[string]any
	if err := json.Unmarshal(files["data/datacite.json"], &d); err != nil {
		t.Fatal(err)
	}
	for _, key := range []string{"identifiers", "creators", "titles", "publisher", "publicationYear", "types", "schemaVersion", "rightsList", "subjects"} {
		if d[key] == nil {
			t.Errorf("%s is missing", key)
		}
	}
	text := string(files["data/datacite.json"])
	for _, want := range []string{`"publicationYear": "2026"`, `"resourceTypeGeneral": "Dataset"`, `"familyName": "Reeve"`, `"name": "T. Marsh"`,
		`"rightsIdentifier": "cc-by-4.0"`, `"title": "Two pieces, one \"firing\""`} {
		if !strings.Contains(text, want) {
			t.Errorf("no %s in\n%s", want, text)
		}
	}
}

// Sentences, equations and works of the methods go into the deposit as text.
func TestMethodHoldsEquationsAndWorks(t *testing.T) {
	in := input(t, nil)
	in.Document.Blocks = append(in.Document.Blocks, &page.Entry{Number: 2, Kind: "methods", Parts: []page.Part{
		&page.Text{Paragraphs: [][]page.Run{{{Text: "Flow. ", Style: page.Strong}, {Text: "after "}, {Text: "Roscoe 1952", Link: "#ref-1"}}}},
		&page.Equation{Number: 1, Lines: []equation.Math{equation.Line("η = η_l f")}, Where: []page.Symbol{{Sign: equation.Line("η"), Means: []page.Run{{Text: "is the viscosity, Pa·s"}}}}}}})
	in.Document.References = []string{"Roscoe, R. 1952. Suspensions."}
	files := unpack(t, packed(t, in))
	for _, want := range []string{"Flow. after Roscoe 1952\n\n(1) η = η_l f, where η is the viscosity, Pa·s.", "THE WORKS cited in the report\n\nRoscoe, R. 1952. Suspensions."} {
		if !strings.Contains(string(files["data/method.txt"]), want) {
			t.Errorf("method.txt does not say %q:\n%s", want, files["data/method.txt"])
		}
	}
	if !strings.Contains(string(files["data/method.json"]), `"Roscoe, R. 1952. Suspensions."`) {
		t.Error("method.json has no works")
	}
}

func TestMethodTellsWhatWasAssumed(t *testing.T) {
	files := unpack(t, packed(t, input(t, nil)))
	var m method
	if err := json.Unmarshal(files["data/method.json"], &m); err != nil {
		t.Fatal(err)
	}
	if m.Seed != study.DefaultSeed || m.Draws != 50 || len(m.Recipe) < 10 || len(m.Assumptions) == 0 || m.Entries[0].Assumed[0] != "reach 1 Pa·s" {
		t.Errorf("%+v", m)
	}
	for _, want := range []string{"reach 1 Pa·s", "basis: normalised (default)", "example.org/a v1", "fired (origin: experimental): KR-S01"} {
		if !strings.Contains(string(files["data/method.txt"]), want) {
			t.Errorf("method.txt does not say %q", want)
		}
	}
}

func TestWhatIsMissingIsAskedFor(t *testing.T) {
	without := func(key string) func(string) string {
		return func(s string) string {
			lines := strings.SplitAfter(s, "\n")
			return strings.Join(slices.DeleteFunc(lines, func(l string) bool { return strings.HasPrefix(l, key+":") }), "")
		}
	}
	replace := func(from, to string) func(string) string {
		return func(s string) string { return strings.Replace(s, from, to, 1) }
	}
	for _, tt := range []struct {
		code, says string
		edit       func(string) string
	}{
		{"NO_TITLE", "title:", without("title")},
		{"NO_AUTHORS", "authors:", without("authors")},
		{"NO_DATE", "date: 2026-11-02", without("date")},
		{"NO_DATE", "no clock is read", replace("2026-11-02", "last autumn")},
		{"NO_DATE", "of the form", replace("2026-11-02", "2026-13-02")},
		{"NO_LICENCE", "only you can choose it", without("licence")},
		{"UNKNOWN_LICENCE", "did you mean CC-BY-4.0?", replace("cc-by-4.0", "CC-BX-4.0")},
	} {
		var b bytes.Buffer
		notices, err := Write(&b, input(t, tt.edit))
		if err != nil || b.Len() > 0 || !notices.Failed() || notices[0].Code != tt.code || !strings.Contains(notices[0].Message, tt.says) {
			t.Errorf("%s: %v, %d bytes, %v", tt.code, err, b.Len(), notices)
		}
	}
	var b bytes.Buffer
	notices, err := Write(&b, input(t, replace("cc-by-4.0", "as agreed with the estate")))
	if err != nil || notices.Failed() || notices[0].Code != "UNKNOWN_LICENCE" {
		t.Errorf("terms in words: %v %v", err, notices)
	}
	if notices, err = Write(&b, input(t, without("site"))); err != nil || !strings.Contains(notices[0].Message, "without publisher:, abstract:, site:") {
		t.Errorf("what was left out: %v %v", err, notices)
	}
}

func TestAnInputThatChangedStopsTheDeposit(t *testing.T) {
	in := input(t, nil)
	in.Inputs["lab.csv"] = []byte("changed")
	var b bytes.Buffer
	if notices, err := Write(&b, in); err != nil || b.Len() > 0 || !slices.Contains(notices.Codes(), "INPUT_CHANGED") {
		t.Errorf("%v, %d bytes, %v", err, b.Len(), notices)
	}
}
