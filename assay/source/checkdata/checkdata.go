// Package checkdata serves tests: it reads the published values of testdata and
// compares with them.
package checkdata

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// Rows reads a CSV file below testdata, its heading first. The number of
// fields must be the same in every row.
func Rows(tb testing.TB, name string) [][]string {
	tb.Helper()
	f, err := os.Open(filepath.Join(root(tb), "testdata", filepath.FromSlash(name)))
	if err != nil {
		tb.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		tb.Fatalf("%s: %v", name, err)
	}
	if len(rows) < 2 {
		tb.Fatalf("%s holds no rows", name)
	}
	return rows
}

// Table reads a CSV file below testdata as rows by the names of their columns.
func Table(tb testing.TB, name string) []map[string]string {
	tb.Helper()
	rows := Rows(tb, name)
	out := make([]map[string]string, 0, len(rows)-1)
	for _, row := range rows[1:] {
		m := make(map[string]string, len(row))
		for i, head := range rows[0] {
			m[head] = row[i]
		}
		out = append(out, m)
	}
	return out
}

// Number reads a number of the check data.
func Number(tb testing.TB, text string) float64 {
	tb.Helper()
	x, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if err != nil {
		tb.Fatalf("check data: %v", err)
	}
	return x
}

// Near fails where got lies farther from want than within; NaN is never near.
func Near(tb testing.TB, what string, got, want, within float64) {
	tb.Helper()
	if !(math.Abs(got-want) <= within) {
		tb.Errorf("%s = %.8g, want %.8g ± %g", what, got, want, within)
	}
}

// root returns the folder of go.mod, above the package that is tested.
func root(tb testing.TB) string {
	tb.Helper()
	dir, err := os.Getwd()
	if err != nil {
		tb.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		up := filepath.Dir(dir)
		if up == dir {
			tb.Fatal("no go.mod above the package that is tested")
		}
		dir = up
	}
}
