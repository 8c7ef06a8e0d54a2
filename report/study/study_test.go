package study

import (
	"context"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"smeltbook/assay"
	"smeltbook/assay/quantity"
)

var update = flag.Bool("update", false, "rewrite golden files")

// published is the study of the slags of Wątroba 2012, whose table the package
// report checks against the print.
func published(t *testing.T) *Study {
	t.Helper()
	c, err := assay.Load(context.Background(), "../../testdata/laos", assay.Config{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if c.Notices.Failed() {
		t.Fatal(c.Notices)
	}
	s, err := Compute(context.Background(), c, ConditionsOf(0, 200), nil)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// TestTableGolden holds the flat table down, to five significant figures.
func TestTableGolden(t *testing.T) {
	table := published(t).Table()
	var b strings.Builder
	for i, row := range table.Rows {
		for j, v := range row {
			switch v := v.(type) {
			case nil:
			case float64:
				fmt.Fprintf(&b, "%d %s = %.5g\n", i, table.Columns[j].Key, v)
			default:
				fmt.Fprintf(&b, "%d %s = %v\n", i, table.Columns[j].Key, v)
			}
		}
	}
	path := filepath.Join("testdata", "laos.golden")
	if *update {
		if err := os.WriteFile(path, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(string(want), b.String()); d != "" {
		t.Errorf("the table has changed (-want +got), rewrite with -update after reading:\n%s", d)
	}
}

// TestTableHoldsTogether checks what must hold for every table: unique keys
// that name their unit, rows of one length, values in their own keys.
func TestTableHoldsTogether(t *testing.T) {
	s := published(t)
	table := s.Table()
	seen := map[string]bool{}
	for _, c := range table.Columns {
		if seen[c.Key] {
			t.Errorf("the key %s occurs twice", c.Key)
		}
		seen[c.Key] = true
		if c.Key != strings.ToLower(c.Key) || strings.ContainsAny(c.Key, " -") {
			t.Errorf("the key %q is not in lower snake case", c.Key)
		}
		if c.Unit == "wt%" && !strings.HasSuffix(c.Key, "_wt_pct") || c.Unit == "°C" && !strings.HasSuffix(c.Key, "_c") {
			t.Errorf("the key %s does not end in its unit %s", c.Key, c.Unit)
		}
	}
	for i, row := range table.Rows {
		if len(row) != len(table.Columns) {
			t.Errorf("row %d has %d cells for %d columns", i, len(row), len(table.Columns))
		}
	}
	for i, r := range s.Records() {
		sample := s.Campaign.Samples[i]
		if r["sample"] != sample.ID || r["sio2_wt_pct"] != sample.Composition.Wt("SiO2") {
			t.Errorf("record %d is %v with SiO2 %v", i, r["sample"], r["sio2_wt_pct"])
		}
		if _, ok := r["composition"].(map[string]any)["SiO2"]; !ok {
			t.Errorf("record %d has no composition", i)
		}
	}
}

func TestVariables(t *testing.T) {
	s := published(t)
	sample, _ := s.Campaign.Sample("PB-24a")
	for _, c := range []struct {
		key  string
		want float64
		tol  float64
	}{
		// Table 15: CaO 4.1, SiO2 29.4, MgO 4.2; indices from those numbers by hand.
		{"CaO/SiO2", 4.1 / 29.4, 1e-9},
		{"cao_sio2", 4.1 / 29.4, 1e-9},
		{"cao_mgo_sio2", 8.3 / 29.4, 1e-9},
		{"total", 99.8 - 0.20113*1.9, 0.25},
	} {
		v, err := s.Variable(c.key)
		if err != nil {
			t.Errorf("%s: %v", c.key, err)
			continue
		}
		q := v.Of(sample)
		if !q.Known() || math.Abs(q.Value-c.want) > c.tol {
			t.Errorf("%s = %s, want %g", c.key, q.Text(), c.want)
		}
		if !q.HasU() {
			t.Errorf("%s carries no uncertainty: %s", c.key, q.UNote)
		}
	}
	if _, err := s.Variable("liqidus"); err == nil || !strings.Contains(err.Error(), `did you mean "liquidus"?`) {
		t.Errorf("error %v", err)
	}
	v, err := s.Variable("ZnO")
	if err != nil {
		t.Fatal(err)
	}
	if q := v.Of(sample); q.Known() || q.Class != quantity.NotFound {
		t.Errorf("ZnO of PB-24a is %s; the paper says nd", q.Text())
	}
}

func TestWhyThereIsNoEstimate(t *testing.T) {
	dir := t.TempDir()
	for name, text := range map[string]string{
		"xrf.csv":     "Sample,SiO2,Al2O3,Fe2O3*,CaO\n,wt%,wt%,wt%,wt%\nL1,62,20,8,9\n\n* total iron as Fe2O3\n",
		"samples.csv": "id,kind,origin\nL1,lining,experimental\n",
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	c, err := assay.Load(context.Background(), dir, assay.Config{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	s, err := Compute(context.Background(), c, ConditionsOf(0, 100), nil)
	if err != nil {
		t.Fatal(err)
	}
	if _, why, ok := s.Estimate("L1"); ok || !strings.Contains(why, "lining") {
		t.Errorf("estimate of a lining: %v %q", ok, why)
	}
}
