package report_test

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"smeltbook/assay"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
	"smeltbook/report/study"
)

func cellTexts(t *page.Table, row int) string {
	var out []string
	for _, c := range t.Rows[row].Cells {
		out = append(out, strings.TrimSpace(c.Text+" "+c.Sub))
	}
	return strings.Join(out, " | ")
}

// The firings of the sample campaign close within their uncertainties, the one
// that stuck too: its copper is in the lump.
func TestBalanceEntry(t *testing.T) {
	e, messages, _ := entry(t, "balance")
	for _, m := range messages {
		t.Error(m)
	}
	ts := tables(e)
	if len(figures(e)) != 1 || len(ts) != 5 {
		t.Fatalf("%d figures, %d tables", len(figures(e)), len(ts))
	}
	copper, closing, tests := ts[0], ts[1], ts[2]
	if len(copper.Columns) != 6 || !strings.HasPrefix(copper.Rows[len(copper.Rows)-2].Cells[0].Text, "won") {
		t.Errorf("copper %q", cellTexts(copper, len(copper.Rows)-2))
	}
	for i, r := range closing.Rows {
		for _, c := range r.Cells {
			if c.Class == page.Flagged {
				t.Errorf("does not close: %s (%s)", cellTexts(closing, i), c.Note)
			}
		}
	}
	for i, r := range tests.Rows {
		if r.Cells[4].Class == page.Flagged || r.Cells[5].Text != "none" {
			t.Errorf("in doubt: %s", cellTexts(tests, i))
		}
	}
	// The stuck firing (third column) has most of its copper in the slag.
	for i, r := range copper.Rows {
		if r.Cells[0].Text == "slag" && !strings.HasPrefix(r.Cells[2].Sub, "63") {
			t.Errorf("slag: %s", cellTexts(copper, i))
		}
	}
}

func TestBalanceOptions(t *testing.T) {
	e, messages, _ := entry(t, "balance\nfirings: [kr-f3]\nelements: [Cu, Si]")
	if len(messages) > 0 || len(tables(e)[1].Rows) != 2 || len(tables(e)[0].Columns) != 2 {
		t.Errorf("%v", messages)
	}
	if _, messages, line := entry(t, "balance\nfirings: [KR-F33]"); len(messages) != 1 || !strings.Contains(messages[0], `did you mean "KR-F3"`) && !strings.Contains(messages[0], "KR-F3") || line == 0 {
		t.Errorf("%v", messages)
	}
}

func TestOriginsEntry(t *testing.T) {
	e, messages, _ := entry(t, "origins\ngroups: [fired, dug]\nore: picked\nflux: [bog_iron]\nlining: [fired_walls, dug_walls]\nash: ash")
	for _, m := range messages {
		t.Error(m)
	}
	ts := tables(e)
	if len(figures(e)) != 1 || len(ts) != 2 || len(ts[0].Rows) != 28 {
		t.Fatalf("%d figures, %d tables", len(figures(e)), len(ts))
	}
	// Of a piece of the third firing: unmixed and weighed agree, 55/31/9/5.
	for i, r := range ts[0].Rows {
		if r.Sample == "KR-S07" {
			if got := cellTexts(ts[0], i); !strings.Contains(got, "/ 31 / 9 / 5") || !strings.Contains(got, "charge of KR-F3") || !strings.Contains(got, "| 5") {
				t.Errorf("KR-S07: %s", got)
			}
		}
		if strings.HasPrefix(r.Sample, "LS-") && r.Cells[len(r.Cells)-1].Text != "sources named here" {
			t.Errorf("%s", cellTexts(ts[0], i))
		}
	}
	for block, says := range map[string]string{
		"origins\ngroups: [fired, dug]\nore: nowhere":                            "nowhere",
		"origins\ngroups: [fired, dug]\nlining: [fired_walls, dug_walls, ore]":   "one for each page",
		"origins\ngroups: [fired, dug]\nore: picked\nflux: [bog_iron]\nby: iron": "by: is one of",
		"origins\ngroups: [fired, dug]\nore: picked\nmodel: 90":                  "from 0 to 50",
	} {
		if _, messages, _ := entry(t, block); len(messages) != 1 || !strings.Contains(messages[0], says) {
			t.Errorf("%q: %v", block, messages)
		}
	}
}

// What is wrong with the weights of a firing stands in the report with its cell;
// the other firings are balanced all the same.
func TestBalanceOfBadWeights(t *testing.T) {
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS(orrinVale)); err != nil {
		t.Fatal(err)
	}
	sheet := "Run,Ore stock,Ore (kg),Flux stock,Flux (kg),Charcoal (kg),Charcoal ash (%),Lining lost (kg),Slag (kg),Ingot (g),Matte (g)\n" +
		"KR-F1,OV-ORE-AM,5,OV-FLX-1,2.2,12.8,2.6,0.43,6.01,162,0\n" +
		"KR-F2,OV-ORE-XX,5,none,0,11.2,2.6,0.29,4.42,0,0\n" +
		"KR-F3,OV-ORE-HP,4.5,OV-FLX-1,1.9,15.6,2.6,0.47,,489,0\n" +
		"KR-F4,OV-ORE-W,4,OV-FLX-1,1.1,15.8,2.6,0.52,3.51,1900,0\n"
	if err := os.WriteFile(filepath.Join(dir, "field", "bad.csv"), []byte(sheet), 0o644); err != nil {
		t.Fatal(err)
	}
	front := "---\ndata: [lab/xrf.xlsx, lab/wet-chemistry.xlsx, field/samples.xlsx, field/bad.csv]\n---\n"
	n, ns := notebook.Parse(assay.NotebookName, []byte(front))
	if ns.Failed() {
		t.Fatal(ns)
	}
	c, err := assay.Load(context.Background(), dir, n.Config, nil)
	if err != nil || c.Notices.Failed() {
		t.Fatal(err, c.Notices)
	}
	s, err := study.Compute(context.Background(), c, study.ConditionsOf(1, 20), nil)
	if err != nil {
		t.Fatal(err)
	}
	e, messages, _ := entryOf(t, s, front, "balance")
	if len(messages) > 0 {
		t.Errorf("%v", messages)
	}
	var told []string
	for _, p := range e.Parts {
		if list, ok := p.(*page.Notices); ok {
			for _, n := range list.List {
				told = append(told, n.Error())
			}
		}
	}
	all := strings.Join(told, "\n")
	for _, want := range []string{
		`field/bad.csv, cell B3: KR-F2: ore of the stock "OV-ORE-XX" is charged`,
		"field/bad.csv, cell I4: KR-F3: the slag has no weight",
		"field/bad.csv, cell A5: KR-F4: 1",
		"of Cu came out but only",
	} {
		if !strings.Contains(all, want) {
			t.Errorf("not told: %s\n%s", want, all)
		}
	}
	if got := len(tables(e)[0].Columns); got != 3 {
		t.Errorf("%d columns", got)
	}
}
