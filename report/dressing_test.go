package report_test

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"smeltbook/assay"
	"smeltbook/assay/quantity"
	"smeltbook/report"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
	"smeltbook/report/study"
)

const richBlock = "dressing\nmineral: malachite\nliberation: 0.2\nore: ore\nflux: OV-FLX-1\nslag: late\nat: 1250"

func TestDressingEntry(t *testing.T) {
	e, messages, _ := entry(t, richBlock)
	if len(messages) > 0 {
		t.Fatal(messages)
	}
	if n := len(figures(e)); n != 2 {
		t.Errorf("%d figures, want grade against recovery and yield against grade", n)
	}
	text := words(e)
	for _, want := range []string{"7 independent balances", "Nothing checks the readings of circuit B", "gives no metal at all", "KR-F2 31", "joined by their assays", "error than the uncertainty stated"} {
		if !strings.Contains(text, want) {
			t.Errorf("the entry does not say %q", want)
		}
	}
	if strings.Contains(text, "Assumed") {
		t.Errorf("everything is stated, and the entry assumes: %s", text)
	}
	// The recovery of hand-picking by weights and assays is that of the sheet:
	// 24.5 kg of 16.6 % from 60 kg of 9.3 %.
	ways := tables(e)[1]
	near(t, "recovery as read", *ways.Rows[0].Cells[1].Sort, 100*24.5*16.6/(60*9.3))
	near(t, "by assays alone", *ways.Rows[0].Cells[2].Sort, 100*16.6*(9.3-3.4)/(9.3*(16.6-3.4)))
}

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-9*math.Abs(want) {
		t.Errorf("%s = %g, want %g", what, got, want)
	}
}

// Where nothing is stated of the furnace every assumption is told, and the
// copper of the slag is what must dissolve.
func TestDressingAssumes(t *testing.T) {
	e, messages, _ := entry(t, "dressing\nore: ore")
	if len(messages) > 0 {
		t.Fatal(messages)
	}
	text := words(e)
	for _, want := range []string{"mineral malachite", "liberation 0.2 mm", "no flux", "ratio 1.4", "at 1200 °C", "log pO₂ " + quantity.Minus + "11", "This is the best case"} {
		if !strings.Contains(text, want) {
			t.Errorf("the entry does not say %q", want)
		}
	}
}

// Adding the error of splitting widens the copper assays and nothing else.
func TestDressingSampling(t *testing.T) {
	spread := func(block string) (cu, fe string) {
		e, messages, _ := entry(t, block)
		if len(messages) > 0 {
			t.Fatal(messages)
		}
		for _, table := range tables(e) {
			for _, r := range table.Rows {
				if strings.HasPrefix(r.Cells[0].Text, "A1 hand-picking, concentrate") {
					switch r.Cells[0].Sub {
					case "Cu":
						cu = r.Cells[2].Sub
					case "Fe":
						fe = r.Cells[2].Sub
					}
				}
			}
		}
		return cu, fe
	}
	cu, fe := spread("dressing")
	wideCu, wideFe := spread("dressing\nsampling: added")
	if cu != "± 0.30" || wideCu != "± 0.54" || fe != wideFe {
		t.Errorf("Cu %s and %s, Fe %s and %s", cu, wideCu, fe, wideFe)
	}
}

// The table of ores: richer ore makes less slag and needs less charcoal for a
// kilogram of copper, and dressing is counted.
func TestRicherOreMakesLessSlag(t *testing.T) {
	e, _, _ := entry(t, richBlock)
	all := tables(e)
	table := all[len(all)-1]
	if len(table.Rows) != 3 {
		t.Fatalf("%q has %d rows", table.Caption, len(table.Rows))
	}
	value := func(row page.Row, i int) float64 { return *row.Cells[i].Sort }
	for i := 1; i < len(table.Rows); i++ {
		a, b := table.Rows[i-1], table.Rows[i]
		for _, col := range []int{2, 3, 4, 7, 8} {
			if value(b, col) >= value(a, col) {
				t.Errorf("%s has %g, %s %g of %s", b.Cells[0].Text, value(b, col), a.Cells[0].Text, value(a, col), table.Columns[col].Head)
			}
		}
		if value(b, 5) <= value(a, 5) || value(b, 6) > value(b, 5) {
			t.Errorf("won: %+v after %+v", b.Cells, a.Cells)
		}
	}
}

func TestDressedInProse(t *testing.T) {
	s, front := demo()
	// 60 kg and 24.5 kg read; the grade of the concentrate reconciled with its
	// second assay as feed of the washing.
	for call, want := range map[string]string{
		`{{ dressed "A1" "recovery" }}`: " %", `{{ dressed "A1 hand-picking" "yield" }}`: " %", `{{ dressed "A2" "grade" }}`: "24.30 ± 0.30 wt%", `{{ dressed "B1" "ratio" }}`: "2.8",
	} {
		text := proseOf(t, s, front, call)
		if !strings.Contains(text, want) {
			t.Errorf("%s gives %q", call, text)
		}
	}
	for call, want := range map[string]string{
		`{{ dressed "A9" "recovery" }}`: `no stage of dressing "A9"`, `{{ dressed "A1" "yeild" }}`: `did you mean "yield"?`, `{{ dressed "A1" }}`: "dressed takes 2 names",
	} {
		if text := proseOf(t, s, front, call); !strings.Contains(text, want) {
			t.Errorf("%s gives %q, want %q", call, text, want)
		}
	}
}

// proseOf renders a line of prose; what went wrong stands in its place.
func proseOf(t *testing.T, s *study.Study, front, line string) string {
	t.Helper()
	n, ns := notebook.Parse(assay.NotebookName, []byte(front+"\n"+line+"\n"))
	if ns.Failed() {
		t.Fatal(ns)
	}
	doc, notices, err := report.Document(context.Background(), s, n, report.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(notices) > 0 {
		return notices[0].Message
	}
	for _, b := range doc.Blocks {
		if p, ok := b.(*page.Prose); ok {
			return string(p.HTML)
		}
	}
	return ""
}

// Slips in the sheets put bars beyond 100 %: the figures keep to their axes and
// the text says what cannot be.
func TestDressingBeyondHundredPerCent(t *testing.T) {
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS(orrinVale)); err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{
		"runs.csv": "Run,Ore stock,Ore (kg),Slag (kg),Ingot (g),Ingot ± (g)\nKR-F3,OV-ORE-HP,4.5,4.98,4890,1\nKR-F4,OV-ORE-W,4,3.51,761,1\n",
		"dressing.csv": "Circuit,Stage,Stream,Product,Mass (kg),Mass ± (kg),Cu grade (wt%),Cu grade ± (wt%)\n" +
			"T,T1,feed,RAW,30,0.1,9,2000\nT,T1,concentrate,OV-ORE-HP,10.5,0.1,19.8,0.4\nT,T1,tailings,,19.4,0.1,3.3,0.2\n",
	} {
		if err := os.WriteFile(filepath.Join(dir, "field", name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	front := "---\ndata: [lab/xrf.xlsx, lab/wet-chemistry.xlsx, field/samples.xlsx, field/runs.csv, field/dressing.csv]\n" +
		"groups: {ore: {kind: ore}, fired: {origin: experimental, kind: slag}}\n---\n"
	n, _ := notebook.Parse(assay.NotebookName, []byte(front))
	c, err := assay.Load(context.Background(), dir, n.Config, nil)
	if err != nil || c.Notices.Failed() {
		t.Fatal(err, c.Notices)
	}
	s, err := study.Compute(context.Background(), c, study.ConditionsOf(1, 20), nil)
	if err != nil {
		t.Fatal(err)
	}
	e, messages, _ := entryOf(t, s, front, "dressing\nmineral: malachite\nliberation: 0.2\nore: ore\nflux: OV-FLX-1\nslag: fired")
	if len(messages) > 0 {
		t.Fatal(messages)
	}
	if text := words(e); !strings.Contains(text, "no bar stands for KR-F3: look at the weights") {
		t.Errorf("nothing says that KR-F3 gave more copper than it got: %s", text)
	}
	if n := len(figures(e)); n != 2 {
		t.Errorf("%d figures, want 2", n)
	}
}
