package report_test

import (
	"context"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"smeltbook/assay"
	"smeltbook/report"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
	"smeltbook/report/study"
)

// What an entry lacks is told in it, and the rest of the report goes on: every
// kind of entry over two pieces and nothing else.
func TestEntriesWithoutDataDoNotStopTheReport(t *testing.T) {
	for name, sheet := range map[string]string{
		"two slags":     "Sample,Kind,Origin,SiO2 (wt%),FeO (wt%),CaO (wt%),Al2O3 (wt%)\nA,slag,experimental,32,60,3,4\nB,slag,excavated,30,61,4,4\n",
		"no slag":       "Sample,Kind,Origin,Cu (wt%),Fe (wt%)\nA,metal,experimental,97,2\nB,metal,excavated,96,3\n",
		"little silica": "Sample,Kind,Origin,SiO2 (wt%),FeO (wt%)\nA,slag,experimental,40,20\nB,slag,excavated,30,22\n",
		"walls":         "Sample,Kind,Origin,SiO2 (wt%),Al2O3 (wt%),Fe2O3 (wt%),K2O (wt%),CaO (wt%)\nA,lining,experimental,66,20,8,3,2\nB,lining,excavated,67,19,8,3,2\n",
	} {
		var text strings.Builder
		text.WriteString("---\ntitle: Little\ndata: [xrf.csv]\ngroups:\n  fired: {origin: experimental}\n  dug: {origin: excavated}\nrecipe: {accept_totals: [A, B]}\n---\n\n")
		options := map[string]string{
			"effects": "group: fired", "dressing": "", "balance": "", "quality": "groups: [fired, dug]\nchart: Fe\nshow: Cu", "fragments": "", "cautions": "", "firing": "", "methods": "", "data": "",
			"copper": "groups: [fired, dug]\nore: fired", "lining": "groups: [fired, dug]\nslag: [fired, dug]\nore: fired\nclay: dug", "origins": "groups: [fired, dug]\nore: fired\nsand: true",
		}
		for _, kind := range notebook.Kinds() {
			o, stated := options[kind]
			if !stated {
				o = "groups: [fired, dug]"
			}
			text.WriteString("```" + kind + "\n" + o + "\n```\n\n")
		}
		dir := t.TempDir()
		if err := os.WriteFile(filepath.Join(dir, "xrf.csv"), []byte(sheet), 0o644); err != nil {
			t.Fatal(err)
		}
		n, ns := notebook.Parse(assay.NotebookName, []byte(text.String()))
		if ns.Failed() {
			t.Fatal(ns)
		}
		c, err := assay.Load(context.Background(), dir, n.Config, nil)
		if err != nil || c.Notices.Failed() {
			t.Fatalf("%s: %v %v", name, err, c.Notices)
		}
		s, err := study.Compute(context.Background(), c, study.ConditionsOf(1, 20), nil)
		if err != nil {
			t.Fatal(err)
		}
		doc, notices, err := report.Document(context.Background(), s, n, report.Options{})
		if err != nil || notices.Failed() {
			t.Errorf("%s: %v %v", name, err, notices)
			continue
		}
		for _, b := range doc.Blocks {
			if e, ok := b.(*page.Entry); ok && len(e.Parts) == 0 {
				t.Errorf("%s: the entry %s says nothing at all", name, e.Kind)
			}
		}
		for _, x := range notices {
			if strings.Contains(x.Message, "\n") || len(x.Message) < 20 {
				t.Errorf("%s: no plain sentence: %q", name, x.Message)
			}
		}
		if err := page.Render(io.Discard, doc, page.Assets{}); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}
