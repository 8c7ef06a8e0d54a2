package report_test

import (
	"context"
	"strings"
	"testing"

	"smeltbook/report"
	"smeltbook/report/page"
)

// Copper lost without an uncertainty has a reason, and the way to one.
func TestCopperLostByWeightsWithoutUncertainty(t *testing.T) {
	lab := map[string]string{
		"lab.csv":     "Sample,SiO2,FeOT,CaO,Al2O3,Cu\n,wt%,wt%,wt%,wt%,wt%\nA-1,34,54,5,6,1\nA-2,33,55,5,6,1\n",
		"samples.csv": "id,kind,run\nA-1,slag,F1\nA-2,slag,\n",
	}
	for sheet, want := range map[string]bool{"Run,Slag (kg)\nF1,3.1\n": true, "Run,Slag (kg),Slag ± (kg)\nF1,3.1,0.1\n": false} {
		lab["runs.csv"] = sheet
		s, n := twoSlagsWith(t, lab, "", "\n```copper\ngroups: [fired, dug]\n```\n")
		doc, told, err := report.Document(context.Background(), s, n, report.Options{Version: "test"})
		if err != nil {
			t.Fatal(err)
		}
		found := false
		for _, b := range doc.Blocks {
			e, ok := b.(*page.Entry)
			if !ok {
				continue
			}
			for _, x := range tables(e) {
				if strings.HasPrefix(x.Caption, "Copper lost in the slag of each firing") {
					found = true
					if got := strings.Contains(strings.Join(x.Notes, " "), "states no ± of a weight"); got != want {
						t.Errorf("%q: told %t, want %t", sheet, got, want)
					}
				}
			}
		}
		if !found {
			t.Errorf("%q: no table of firings: %v", sheet, told)
		}
	}
}
