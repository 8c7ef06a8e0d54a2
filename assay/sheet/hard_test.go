package sheet

import (
	"context"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"smeltbook/assay/source"
)

const hardDir = "../../testdata/sheets/hard"

// expectation is the part of expected.json that its own rule makes binding.
type expectation struct {
	Files []struct {
		File     string
		Expect   string
		Error    string
		Warnings []string
		Must     []string `json:"must_not_import"`
		Tables   []struct {
			Sheet          string
			Orientation    string
			ReportedTotals map[string]float64 `json:"reported_totals"`
			Samples        []struct {
				Name      string
				BaseName  string `json:"base_name"`
				Role      string
				Replicate string
				Values    map[string]struct {
					Wt      *float64
					Cell    string
					Censor  string
					LimitWt *float64 `json:"limit_wt"`
					UncWt   *float64 `json:"unc_wt"`
				}
			}
		}
	}
}

func readExpectation(t testing.TB) expectation {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(hardDir, "expected.json"))
	if err != nil {
		t.Fatal(err)
	}
	var e expectation
	if err := json.Unmarshal(data, &e); err != nil {
		t.Fatal(err)
	}
	return e
}

// near follows the rule of expected.json: 1e-6 relative or 1e-9 absolute.
func near(a, b float64) bool {
	d := math.Abs(a - b)
	return d <= 1e-9 || d <= 1e-6*math.Abs(b)
}

// TestHardSheets reads every hard sheet and compares the result with what a
// right reader returns, by the rule stated in expected.json.
func TestHardSheets(t *testing.T) {
	e := readExpectation(t)
	if len(e.Files) != 16 {
		t.Fatalf("expected.json lists %d files, want 16", len(e.Files))
	}
	for _, f := range e.Files {
		t.Run(f.File, func(t *testing.T) {
			book, err := Read(context.Background(), filepath.Join(hardDir, f.File), "lab/"+f.File, Options{})
			if err != nil {
				t.Fatalf("Read: %v", err)
			}
			t.Cleanup(func() {
				if t.Failed() {
					for _, n := range book.Notices {
						t.Logf("%s %s %s", n.Severity, n.Code, n.Error())
					}
				}
			})
			codes := map[string]bool{}
			for _, n := range book.Notices {
				codes[n.Code] = true
				if n.At.File != "lab/"+f.File || n.Message == "" || strings.Contains(n.Message, "%!") {
					t.Errorf("notice %q has no good address or text: %+v", n.Code, n)
				}
			}
			if f.Expect == "error" {
				if len(book.Tables)+len(book.Records) > 0 {
					t.Errorf("%d tables and %d records of a file to be refused", len(book.Tables), len(book.Records))
				}
				if !codes[f.Error] || !book.Notices.Failed() {
					t.Errorf("no error %s; got %v", f.Error, book.Notices)
				}
				return
			}
			for _, w := range f.Warnings {
				if !codes[w] {
					t.Errorf("%s was not raised", w)
				}
			}
			if len(book.Tables) != len(f.Tables) {
				t.Fatalf("%d tables, want %d", len(book.Tables), len(f.Tables))
			}
			for i, want := range f.Tables {
				got := book.Tables[i]
				if got.Sheet != want.Sheet {
					t.Errorf("table %d is of sheet %q, want %q", i, got.Sheet, want.Sheet)
				}
				if got.Transposed != (want.Orientation == "columns") {
					t.Errorf("table %d: transposed is %v", i, got.Transposed)
				}
				if got.Len() != len(want.Samples) {
					t.Errorf("table %d: %d rows, want %d", i, got.Len(), len(want.Samples))
					continue
				}
				for j, s := range want.Samples {
					row := got.Row(j)
					if row.Name != s.Name {
						t.Errorf("row %d is %q, want %q", j, row.Name, s.Name)
					}
					if control := s.Role == "QC" || s.Role == "blank"; control != (row.Role == RowControl) {
						t.Errorf("%s: role %q, want %q", s.Name, row.Role, s.Role)
					}
					if s.Role == "replicate" && row.Replicate != s.BaseName {
						t.Errorf("%s: replicate of %q, want %q", s.Name, row.Replicate, s.BaseName)
					}
					if s.Role == "sample" && row.Replicate != "" {
						t.Errorf("%s: replicate of %q, want none", s.Name, row.Replicate)
					}
					for id, w := range s.Values {
						v, ok := row.Value(id)
						switch {
						case !ok:
							t.Errorf("%s: no %s", s.Name, id)
							continue
						case w.Wt != nil && (!v.Known() || !near(v.Value, *w.Wt)):
							t.Errorf("%s %s = %v (%s), want %v", s.Name, id, v.Value, v.Class, *w.Wt)
						case w.Wt == nil && string(v.Class) != w.Censor:
							t.Errorf("%s %s is %q, want %q", s.Name, id, v.Class, w.Censor)
						}
						if w.LimitWt != nil && !near(v.Limit, *w.LimitWt) {
							t.Errorf("%s %s: limit %v, want %v", s.Name, id, v.Limit, *w.LimitWt)
						}
						if w.UncWt != nil && !near(v.U, *w.UncWt) {
							t.Errorf("%s %s: u = %v, want %v", s.Name, id, v.U, *w.UncWt)
						}
						if ref := v.From[0].Ref; !strings.HasPrefix(w.Cell, "R") && ref != w.Cell {
							t.Errorf("%s %s stands in %s, want %s", s.Name, id, ref, w.Cell)
						}
					}
					present := 0
					for _, v := range row.Values {
						if v.Class != "missing" {
							present++
						}
					}
					want := 0
					for _, w := range s.Values {
						if w.Censor != "missing" {
							want++
						}
					}
					if present != want {
						t.Errorf("%s: %d values, want %d", s.Name, present, want)
					}
					if total, ok := lookupTotal(f.Tables[i].ReportedTotals, s.Name); ok && (row.ReportedTotal == nil || !near(row.ReportedTotal.Value, total)) {
						t.Errorf("%s: reported total %v, want %v", s.Name, row.ReportedTotal, total)
					}
				}
			}
			mustNotImport(t, book, f.Must)
		})
	}
}

func lookupTotal(m map[string]float64, key string) (float64, bool) { x, ok := m[key]; return x, ok }

func mustNotImport(t *testing.T, book *Book, texts []string) {
	t.Helper()
	for _, table := range book.Tables {
		for row := range table.Rows() {
			if slices.Contains(texts, row.Name) {
				t.Errorf("%q was imported as a name", row.Name)
			}
			for _, v := range row.Values {
				if slices.Contains(texts, v.Raw) || slices.Contains(texts, v.Analyte) {
					t.Errorf("%q (%s) was imported as a value", v.Raw, v.Analyte)
				}
			}
		}
	}
}

// TestRefusalsSayWhatToDo keeps the sentences of refused files useful.
func TestRefusalsSayWhatToDo(t *testing.T) {
	for file, words := range map[string][]string{
		"P13_unpacks_huge.xlsx":    {"256 MiB", "nothing was read"},
		"P14_entity_in_sheet.xlsx": {"document type", "nothing was read"},
		"P16_old_binary.xlsx":      {".xls", "password", "save it as .xlsx or .csv"},
		"absent.xlsx":              {"no such file", "check the name"},
	} {
		book, err := Read(context.Background(), filepath.Join(hardDir, file), file, Options{})
		if err != nil {
			t.Fatal(err)
		}
		errs := book.Notices.Of(source.Error)
		if len(errs) != 1 {
			t.Errorf("%s: %d errors, want 1", file, len(errs))
			continue
		}
		for _, w := range words {
			if !strings.Contains(errs[0].Message, w) {
				t.Errorf("%s: message %q lacks %q", file, errs[0].Message, w)
			}
		}
	}
}
