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

// The published slags of two sites, from the spreadsheet to the sentence: on
// four parts p by all 2002 relabellings is 0.1324 and Hotelling's on the same
// 0.0113 (worked in R, see testdata/logratio).
func TestLikenessOfPublishedSlags(t *testing.T) {
	ctx := context.Background()
	text, err := os.ReadFile(filepath.Join(laos, assay.NotebookName))
	if err != nil {
		t.Fatal(err)
	}
	n, _ := notebook.Parse(assay.NotebookName, text)
	c, err := assay.Load(ctx, laos, n.Config, nil)
	if err != nil {
		t.Fatal(err)
	}
	s, err := study.Compute(ctx, c, study.ConditionsOf(0, 50), nil)
	if err != nil {
		t.Fatal(err)
	}
	front, _, _ := strings.Cut(string(text), "\n---\n")
	e, messages, _ := entryOf(t, s, front+"\n---\n", "likeness\ngroups: [tnn, pb]\nparts: [SiO2, Al2O3, FeO, K2O]")
	if len(messages) > 0 {
		t.Fatal(messages)
	}
	said := words(e)
	for _, want := range []string{
		"Neither a difference (p = 0.13) nor likeness within the margin of 1.0 is shown: the centres of tnn (5 samples) and pb (9 samples) lie 0.96 of the piece-to-piece scatter of pb apart",
		"The p is exact over all 2002 ways", "margin 1 times the scatter of pb",
	} {
		if !strings.Contains(said, want) {
			t.Errorf("the entry does not say %q:\n%s", want, said)
		}
	}
	for _, table := range tables(e) {
		if !strings.HasPrefix(table.Caption, "The same question with one mean") {
			continue
		}
		row := table.Rows[0].Cells
		if row[1].Text != "0.13" || row[2].Text != "0.011" {
			t.Errorf("p %q and %q, want 0.13 and 0.011", row[1].Text, row[2].Text)
		}
		if last := table.Rows[len(table.Rows)-1].Cells; last[0].Text != "pivot coordinates" || last[1].Text != "0.13" {
			t.Errorf("another basis: %+v", last)
		}
		return
	}
	t.Error("no table of other parts")
}

// The margin of the front matter holds for every entry that states none.
func TestMarginOfTheFrontMatter(t *testing.T) {
	s, front := demo()
	front, _, _ = strings.Cut(front, "\nlikeness:")
	front = strings.TrimSuffix(front, "\n---\n") + "\nlikeness: {margin: 2.5, parts: [SiO2, FeO, CaO, Al2O3]}\n---\n"
	e, _, _ := entryOf(t, s, front, "likeness\ngroups: [fired, dug]")
	if said := words(e); !strings.Contains(said, "margin of 2.5") || strings.Contains(said, "parts SiO₂") {
		t.Errorf("the front matter does not hold: %s", said)
	}
	e, _, _ = entryOf(t, s, front, "likeness\ngroups: [fired, dug]\nmargin: 0.5")
	if said := words(e); !strings.Contains(said, "margin of 0.50") {
		t.Errorf("the entry does not overrule it: %s", said)
	}
}

// Every excavated piece has a row of the spread, and probabilities are of its
// nearest firing.
func TestNearestFirings(t *testing.T) {
	e, messages, _ := entry(t, "likeness\ngroups: [fired, dug]\nparts: [SiO2, FeO, CaO, Al2O3]")
	if len(messages) > 0 {
		t.Fatal(messages)
	}
	if len(figures(e)) != 1 {
		t.Errorf("%d figures, want the biplot", len(figures(e)))
	}
	for _, p := range e.Parts {
		spread, ok := p.(*page.Spread)
		if !ok {
			continue
		}
		if len(spread.Rows) != 12 {
			t.Errorf("%d pieces, want 12", len(spread.Rows))
		}
		for _, r := range spread.Rows {
			if len(r.Left) != len(spread.Columns) || len(r.Right) != len(spread.Columns) || !strings.HasPrefix(r.Left[0].Text, "KR-F") || !strings.HasPrefix(r.Difference.Sub, "P ") {
				t.Errorf("%s: %+v", r.Name, r)
			}
		}
		return
	}
	t.Error("no spread")
}

func TestEffectsEntry(t *testing.T) {
	e, messages, _ := entry(t, "effects\ngroup: fired")
	if len(messages) > 0 {
		t.Fatal(messages)
	}
	said := words(e)
	for _, want := range []string{"5 firings in which 5 settings varied can tell at most 4 of them apart", "Assumed", "ore grade, Flux + Second flux / Ore, Charcoal / Ore, Air, Blowing"} {
		if !strings.Contains(said, want) {
			t.Errorf("the entry does not say %q:\n%s", want, said)
		}
	}
	list := tables(e)
	if len(list) != 4 || len(figures(e)) != 1 {
		t.Fatalf("%d tables and %d figures", len(list), len(figures(e)))
	}
	// By hand from the field sheet: flux 1.75 + 0.50 kg on 4.50 kg of ore.
	row := rowOf(t, list[1], "KR-F5")
	if got := row.Cells[2].Text; got != "0.500" {
		t.Errorf("flux to ore of KR-F5 is %s, want 0.500", got)
	}
	if n := len(list[2].Rows); n != 3 {
		t.Errorf("%d firings planned, want 3", n)
	}
	e, _, _ = entry(t, "effects\ngroup: fired\nsettings: [Air, Batches]\noutcomes: [SiO2]\nprior: 1\nfirings: 0")
	if len(tables(e)) != 2 || strings.Contains(words(e), "to plan") {
		t.Errorf("a plan that was not asked for: %d tables, %s", len(tables(e)), words(e))
	}
}

func TestMethodsOfLikeness(t *testing.T) {
	e, _, _ := entry(t, "likeness\ngroups: [fired, dug]\n```\n\n```effects\ngroup: fired\n```\n\n```methods")
	text := words(e)
	for _, want := range []string{"Likeness. ", "Aitchison 1986", "Anderson 2001", "Effects. ", "Chaloner & Verdinelli 1995", "seed 2026"} {
		if !strings.Contains(text, want) {
			t.Errorf("the methods do not name %q", want)
		}
	}
}

// Clay in the slag and copper lost stand among the extras; by hand from the
// analyses, the least loss is copper in the slag over that of the ore with the
// largest of the ratios of silica, alumina and titania.
func TestClayAndCopperAsExtras(t *testing.T) {
	e, messages, _ := entry(t, "likeness\ngroups: [fired, dug]\nparts: [SiO2, FeO, CaO, Al2O3]\nextras: [clay share, copper loss]\nore: picked\nclay: [fired_walls, dug_walls]")
	if len(messages) > 0 {
		t.Fatal(messages)
	}
	for _, table := range tables(e) {
		if !strings.HasPrefix(table.Caption, "What tells each piece from its nearest firing") {
			continue
		}
		n := len(table.Columns)
		if table.Columns[n-2].Head != "clay in the slag" || table.Columns[n-1].Head != "copper of the ore lost, at least" || table.Columns[n-1].Unit != "%" {
			t.Errorf("columns %+v", table.Columns)
		}
		known := 0
		for _, r := range table.Rows {
			if r.Cells[n-1].Sort != nil && r.Cells[n-2].Sort != nil {
				known++
			}
		}
		if known != len(table.Rows) {
			t.Errorf("%d of %d rows have both", known, len(table.Rows))
		}
		if notes := strings.Join(table.Notes, "\n"); !strings.Contains(notes, "the least share that is in the slag") || !strings.Contains(notes, "two tracers") {
			t.Errorf("notes %s", notes)
		}
	}
	e, messages, _ = entry(t, "likeness\ngroups: [fired, dug]\nextras: [copper loss]")
	if len(messages) != 1 || !strings.Contains(messages[0], `"copper loss" needs the group of the ore`) || len(tables(e)) == 0 {
		t.Errorf("%v, %d tables", messages, len(tables(e)))
	}
}

// The fragments tell how much clay is in the slag where the lining entry asks
// for it, and are silent where it does not.
func TestFragmentsTellOfClayInTheSlag(t *testing.T) {
	with := "lining\ngroups: [fired_walls, dug_walls]\nslag: [fired, dug]\nore: picked\nclay: [fired_walls, dug_walls]\n```\n\n```fragments"
	e, _, _ := entry(t, with)
	if said := words(e); !strings.Contains(said, "molten wall in the slag") || !strings.Contains(said, "the slags of dug ") {
		t.Errorf("nothing of clay: %s", said)
	}
	e, _, _ = entry(t, "fragments")
	if strings.Contains(words(e), "molten wall in the slag") {
		t.Error("clay that nobody asked for")
	}
}
