package report_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"smeltbook/report"
	"smeltbook/report/page"
)

// The methods print the whole recipe, stated and default, the sums before and
// after, copper with and without its metal, and what the limits of detection
// could do to the liquidus.
func TestMethodsPrintTheRecipe(t *testing.T) {
	dir := t.TempDir()
	front := `---
title: T
data: [xrf.csv, samples.csv]
groups:
  fired: {origin: experimental, kind: slag}
recipe:
  prills: without
  below_limit: zero
  metal:
    A1: {share: 1.4, u: 0.2, Cu: 96, Fe: 3}
---
`
	for name, text := range map[string]string{
		"notebook.md": front,
		"xrf.csv":     "WD-XRF\nSample,SiO2,Al2O3,Fe2O3T,CaO,MgO,Cu,S,Total\n,wt%,wt%,wt%,wt%,wt%,wt%,wt%,wt%\nA1,32,5,57,4,<1.5,2.5,0.4,100.9\nA2,30,5,60,5,<0.1,1.0,0.2,101.2\n",
		"samples.csv": "id,kind,origin\nA1,slag,experimental\nA2,slag,experimental\n",
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	s, _ := road(t, dir, report.Options{})
	e, _, _ := entryOf(t, s, front, "melting\ngroups: [fired, fired]\n```\n\n```methods")
	all := tables(e)
	if len(all) != 3 {
		t.Fatalf("%d tables, want the recipe, the sums and the copper", len(all))
	}
	for key, want := range map[string]page.Cell{
		"basis": {Text: "normalised", Sub: "default"}, "below_limit": {Text: "zero", Sub: "notebook"}, "prills": {Text: "without", Sub: "notebook"},
		"sulphur": {Text: "slag: sulphide, all else: as reported", Sub: "default"}, "metal": {Text: "A1: 1.40 ± 0.20 wt% with 96 % Cu and 3 % Fe", Sub: "notebook"},
	} {
		found := false
		for _, row := range all[0].Rows {
			if row.Cells[0].Text == key {
				found = true
				if row.Cells[1].Text != want.Text || row.Cells[0].Sub != want.Sub {
					t.Errorf("%s is %q from the %s, want %+v", key, row.Cells[1].Text, row.Cells[0].Sub, want)
				}
			}
		}
		if !found {
			t.Errorf("the recipe does not tell of %s", key)
		}
	}
	// A2 by hand: 30 + 5 + 60 + 5 + 1 + 0.2 = 101.20, with MgO at its limit
	// 101.30; with FeO 53.989 and S less 0.0998: 95.09 and 95.19.
	row := rowOf(t, all[1], "A2")
	for i, want := range []string{"A2", "101.20", "101.20–101.30", "95.09–95.19"} {
		if row.Cells[i].Text != want {
			t.Errorf("sum %d is %q, want %q", i, row.Cells[i].Text, want)
		}
	}
	if text := row.Cells[4].Text; !strings.Contains(text, "iron as FeO −6.01") || !strings.Contains(text, "less oxygen −0.10") {
		t.Errorf("what changed the sum: %q", text)
	}
	if row := rowOf(t, all[2], "A1"); !strings.HasPrefix(row.Cells[1].Text, "2.5") || !strings.HasPrefix(row.Cells[2].Text, "1.17") {
		t.Errorf("copper %q with and %q without its metal", row.Cells[1].Text, row.Cells[2].Text)
	}
	text := words(e)
	for _, want := range []string{"2 slags hold parts below a stated limit, which count as 0 of it", "A1 ", "(MgO)", "Assumed: ", "1.5 % relative for WD-XRF"} {
		if !strings.Contains(text, want) {
			t.Errorf("the methods do not say %q", want)
		}
	}
}
