package sheet

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/txtar"

	"smeltbook/assay/quantity"
)

var update = flag.Bool("update", false, "rewrite the expected parts of testdata/cases; read the diff afterwards")

// TestCases reads the invented sheets of testdata/cases and compares what was
// understood, in a short notation, with the part named want.
func TestCases(t *testing.T) {
	files, err := filepath.Glob("testdata/cases/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatalf("no cases: %v", err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txt"), func(t *testing.T) {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			a := txtar.Parse(data)
			var input, want []byte
			for _, f := range a.Files {
				switch f.Name {
				case "sheet.csv":
					input = f.Data
				case "want":
					want = f.Data
				}
			}
			book, err := readBytes(context.Background(), input, "sheet.csv", Options{})
			if err != nil {
				t.Fatal(err)
			}
			got := []byte(describeBook(book))
			if *update {
				a.Files = []txtar.File{{Name: "sheet.csv", Data: input}, {Name: "want", Data: got}}
				if err := os.WriteFile(file, txtar.Format(a), 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			if !bytes.Equal(got, want) {
				t.Errorf("%s (-want +got):\n%s", a.Comment, cmp.Diff(string(want), string(got)))
			}
		})
	}
}

// describeBook writes what was understood in a few lines a person can check.
func describeBook(b *Book) string {
	var w strings.Builder
	for _, t := range b.Tables {
		fmt.Fprintf(&w, "table, heading %d, transposed %v\n", t.HeaderRow, t.Transposed)
		for _, s := range t.Title {
			fmt.Fprintf(&w, "  title: %s\n", s)
		}
		for r := range t.Rows() {
			fmt.Fprintf(&w, "  %s [%s]", r.Name, r.Role)
			if r.Replicate != "" {
				fmt.Fprintf(&w, " repeats %s", r.Replicate)
			}
			w.WriteString(":")
			for _, v := range r.Values {
				w.WriteString(" " + describeValue(v))
			}
			if r.ReportedTotal != nil {
				w.WriteString(" | " + describeValue(*r.ReportedTotal))
			}
			for _, k := range slices.Sorted(maps.Keys(r.Text)) {
				fmt.Fprintf(&w, " {%s: %s}", k, r.Text[k])
			}
			w.WriteString("\n")
		}
		for _, s := range t.Footnotes {
			fmt.Fprintf(&w, "  footnote: %s\n", s)
		}
	}
	for _, r := range b.Records {
		fmt.Fprintf(&w, "records, heading %d:", r.HeaderRow)
		for _, f := range r.Fields {
			fmt.Fprintf(&w, " %s", f.Name)
			if f.Unit != "" {
				fmt.Fprintf(&w, " (%s)", f.Unit)
			}
			w.WriteString(";")
		}
		w.WriteString("\n")
		for _, rec := range r.Rows {
			fmt.Fprintf(&w, "  %d:", rec.Row)
			for _, c := range rec.Cells {
				switch {
				case c.Class == quantity.Measured:
					fmt.Fprintf(&w, " %g;", c.Value)
				case c.Class == quantity.Below || c.Class == quantity.Above:
					fmt.Fprintf(&w, " %s %g;", c.Class, c.Limit)
				default:
					fmt.Fprintf(&w, " %q;", c.Text)
				}
			}
			w.WriteString("\n")
		}
	}
	for _, n := range b.Notices {
		fmt.Fprintf(&w, "%s %s %s: %s\n", n.Severity, n.Code, n.At.Ref, n.Message)
	}
	return w.String()
}

func describeValue(v Value) string {
	s := v.Analyte
	if v.Method != "" {
		s += "(" + v.Method + ")"
	}
	if v.Basis != "" {
		s += "/" + v.Basis
	}
	switch {
	case v.Known():
		s += fmt.Sprintf("=%.9g", v.Value)
	default:
		s += ":" + string(v.Class)
		if !math.IsNaN(v.Limit) {
			s += fmt.Sprintf("%.9g", v.Limit)
		}
	}
	if v.HasU() {
		s += fmt.Sprintf("±%.6g", v.U)
	}
	for _, f := range v.Flags {
		s += "<" + f + ">"
	}
	return s
}
