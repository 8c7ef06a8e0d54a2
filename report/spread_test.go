package report_test

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"smeltbook/assay"
	"smeltbook/assay/quantity"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
	"smeltbook/report/study"
)

func spreads(e *page.Entry) (out []*page.Spread) {
	for _, p := range e.Parts {
		if s, ok := p.(*page.Spread); ok {
			out = append(out, s)
		}
	}
	return out
}

func demoGroup(t *testing.T, name string) []*assay.Sample {
	t.Helper()
	s, _ := demo()
	g, err := s.Campaign.Group(name)
	if err != nil {
		t.Fatal(err)
	}
	return g.Samples
}

// aitchison is the distance by its definition (Aitchison 1986): the root of the
// sum over all pairs of parts of the squared differences of the logarithms of
// their ratios, over the number of parts.
func aitchison(a, b *assay.Sample, parts []string) float64 {
	var sum float64
	for i, p := range parts {
		for _, q := range parts[:i] {
			d := math.Log(a.Composition.Wt(p)/a.Composition.Wt(q)) - math.Log(b.Composition.Wt(p)/b.Composition.Wt(q))
			sum += d * d
		}
	}
	return math.Sqrt(sum / float64(len(parts)))
}

// Every excavated piece stands beside the replica that is nearest by a distance
// worked here from the definition; what is poor, shared and left over is said.
func TestSpreadMatchesByLikeness(t *testing.T) {
	e, messages, _ := entry(t, "spread\ngroups: [fired, dug]\nparts: [SiO2, FeO, CaO, Al2O3]")
	if len(messages) > 0 {
		t.Fatal(messages)
	}
	list := spreads(e)
	if len(list) != 2 {
		t.Fatalf("%d spreads, want the groups and the pairs", len(list))
	}
	matched, dug := list[1], demoGroup(t, "dug")
	if len(matched.Rows) != len(dug) {
		t.Fatalf("%d rows for %d pieces", len(matched.Rows), len(dug))
	}
	parts := []string{"SiO2", "FeO", "CaO", "Al2O3"}
	beside := map[string]int{}
	var squares, pairs float64
	poor := map[string]bool{}
	nearest := map[string]float64{}
	for i, x := range dug {
		best, least := "", math.Inf(1)
		for _, y := range demoGroup(t, "fired") {
			if d := aitchison(x, y, parts); d < least {
				best, least = y.ID, d
			}
		}
		for _, y := range dug[:i] {
			d := aitchison(x, y, parts)
			squares, pairs = squares+d*d, pairs+1
		}
		beside[best]++
		nearest[x.ID] = least
		r := matched.Rows[i]
		if r.Left[0].Text != best || r.Right[0].Text != x.ID || r.Difference.Text != fmt.Sprintf("%.2f", least) {
			t.Errorf("%s stands beside %s at %s, want %s at %.2f", r.Right[0].Text, r.Left[0].Text, r.Difference.Text, best, least)
		}
		if !strings.HasPrefix(r.Difference.Sub, "P ") {
			t.Errorf("%s: how surely? %q", x.ID, r.Difference.Sub)
		}
		poor[x.ID] = r.Unit == "poor"
	}
	limit := math.Sqrt(squares / pairs) // of two pieces of the site
	for id, d := range nearest {
		if poor[id] != (d > limit) {
			t.Errorf("%s at %.3f is poor: %t; two pieces of the site are %.3f apart", id, d, poor[id], limit)
		}
	}
	notes := strings.Join(matched.Notes, "\n")
	for _, y := range demoGroup(t, "fired") {
		switch n := beside[y.ID]; {
		case n == 0 && !strings.Contains(notes, y.ID):
			t.Errorf("%s is lost", y.ID)
		case n > 1 && !strings.Contains(notes, fmt.Sprintf("%s stands beside %d pieces", y.ID, n)):
			t.Errorf("%s stands beside %d pieces and nobody says so:\n%s", y.ID, n, notes)
		}
	}
	if !strings.Contains(matched.Caption, "nearest to it by composition") {
		t.Errorf("the caption does not say how rows were matched: %s", matched.Caption)
	}
}

// Of a poor pair of the notebook's own choice the replica is named that would not
// be poor; it is not said that there is none.
func TestPoorPairOfOwnChoice(t *testing.T) {
	e, _, _ := entry(t, "spread\ngroups: [fired, dug]\nparts: [SiO2, FeO, CaO, Al2O3]\npairs:\n  LS-S01: KR-S04")
	notes := strings.Join(spreads(e)[1].Notes, "\n")
	if !strings.Contains(notes, "Poor: pair 1 (LS-S01)") || !strings.Contains(notes, "there are matches that are not poor: LS-S01 beside KR-S") || strings.Contains(notes, "No replica comes near") {
		t.Error(notes)
	}
}

// A usual column that no piece has a value for is left out, with the reason.
func TestSpreadWithoutFerrousIron(t *testing.T) {
	doc, told := written(t, "", "\n```spread\ngroups: [fired, dug]\nsubject: redox\npairs: {A-2: A-1}\n```\n")
	var list []*page.Spread
	for _, b := range doc.Blocks {
		if e, ok := b.(*page.Entry); ok {
			list = append(list, spreads(e)...)
		}
	}
	if len(list) != 2 {
		t.Fatal(told)
	}
	if notes := strings.Join(list[0].Notes, "\n"); !strings.Contains(notes, "Of fired there is one piece, which has no scatter") {
		t.Error(notes)
	}
	if text := fmt.Sprint(list[1].Columns); strings.Contains(text, "ferric") {
		t.Error(text)
	}
	if notes := strings.Join(list[1].Notes, "\n"); !strings.Contains(notes, "Ferric share is left out: ") || !strings.Contains(notes, "not titrated") {
		t.Error(notes)
	}
}

// Differences of a pair, with the uncertainties of both pieces together.
func TestSpreadDifferences(t *testing.T) {
	e, _, _ := entry(t, "spread\ngroups: [fired, dug]\npairs:\n  LS-S02: KR-S08")
	s, _ := demo()
	a, _ := s.Campaign.Sample("KR-S08")
	b, _ := s.Campaign.Sample("LS-S02")
	table := tables(e)[0]
	row := rowOf(t, table, "LS-S02")
	for k, c := range table.Columns {
		if c.Head != "FeO" {
			continue
		}
		x, _ := a.Composition.Get("FeO")
		y, _ := b.Composition.Get("FeO")
		d, u := quantity.Number(x.Value-y.Value, math.Hypot(x.U, y.U))
		if got := row.Cells[k]; got.Text != d || got.Sub != "± "+u {
			t.Errorf("FeO differs by %s %s, want %s ± %s", got.Text, got.Sub, d, u)
		}
	}
	if n := len(spreads(e)[1].Rows); n != 1 {
		t.Errorf("%d rows for one pair", n)
	}
	notes := strings.Join(spreads(e)[1].Notes, "\n")
	for _, id := range []string{"KR-S01", "LS-S01", "LS-S12"} {
		if !strings.Contains(notes, id) {
			t.Errorf("%s is in no pair and nobody says so: %s", id, notes)
		}
	}
	// A model's error may cancel or not: ± has two ends, and nothing is bold that
	// the upper end would make vanish.
	e, _, _ = entry(t, "spread\ngroups: [fired, dug]\nsubject: melting\npairs: {KR-S08: LS-S02}")
	p, _, _ := s.Estimate("KR-S08")
	q, _, _ := s.Estimate("LS-S02")
	own := math.Hypot(p.AssaySD, q.AssaySD)
	all := math.Hypot(own, math.Hypot(p.ModelSD, q.ModelSD))
	d, _ := quantity.Number(p.Liquidus.Value-q.Liquidus.Value, all)
	cell := spreads(e)[1].Rows[0].Difference
	if want := fmt.Sprintf("± %.1f–%.0f", own, all); cell.Text != d || cell.Sub != want || (cell.Class == page.Clear) != (math.Abs(p.Liquidus.Value-q.Liquidus.Value) > 2*all) {
		t.Errorf("liquidus differs by %+v, want %s %s", cell, d, want)
	}
	if len(figures(e)) != 1 {
		t.Errorf("%d figures, want that of the pairs", len(figures(e)))
	}
}

// Viscosities differ by factors, windows as intervals.
func TestSpreadOfFactorsAndIntervals(t *testing.T) {
	s, _ := demo()
	a, _ := s.Campaign.Sample("KR-S08")
	b, _ := s.Campaign.Sample("LS-S02")
	of := func(key string, x *assay.Sample) float64 {
		v, err := s.Variable(key)
		if err != nil {
			t.Fatal(err)
		}
		return v.Of(x).Value
	}
	e, _, _ := entry(t, "spread\ngroups: [fired, dug]\nsubject: flow\nat: 1250\npairs: {KR-S08: LS-S02}")
	cell := spreads(e)[1].Rows[0].Difference
	if want := fmt.Sprintf("× %.1f", of("viscosity@1250", a)/of("viscosity@1250", b)); cell.Text != want || !strings.HasPrefix(cell.Sub, "×/÷ ") {
		t.Errorf("viscosities differ by %+v, want %s", cell, want)
	}
	e, _, _ = entry(t, "spread\ngroups: [fired, dug]\nsubject: redox\nat: 1250\npairs: {KR-S08: LS-S02}")
	cell = spreads(e)[1].Rows[0].Difference
	lo, hi := of("log_fo2_low@1250", a)-of("log_fo2_high@1250", b), of("log_fo2_high@1250", a)-of("log_fo2_low@1250", b)
	want := strings.ReplaceAll(fmt.Sprintf("%.1f to %.1f", lo, hi), "-", quantity.Minus)
	if cell.Text != want || (cell.Class == page.Clear) != (lo > 0 || hi < 0) {
		t.Errorf("windows differ by %+v, want %s", cell, want)
	}
}

// Every subject has its table of groups, its pairs and their differences.
func TestSubjectsOfSpreads(t *testing.T) {
	for _, c := range []struct {
		options string
		figure  int
		head    string
	}{
		{"groups: [fired, dug]", 0, "SiO₂"}, {"groups: [fired, dug]\nsubject: melting", 1, "liquidus"},
		{"groups: [fired, dug]\nsubject: flow", 1, "viscosity"}, {"groups: [fired, dug]\nsubject: copper", 1, "Cu"},
		{"groups: [fired, dug]\nsubject: redox", 1, "log fO₂"}, {"groups: [fired_walls, dug_walls]\nsubject: lining", 1, "fluxes"},
	} {
		e, messages, _ := entry(t, "spread\n"+c.options)
		if len(messages) > 0 {
			t.Errorf("%s: %v", c.options, messages)
			continue
		}
		list := spreads(e)
		if len(list) != 2 || len(figures(e)) != c.figure || len(tables(e)) != 2 {
			t.Errorf("%s: %d spreads, %d figures, %d tables", c.options, len(list), len(figures(e)), len(tables(e)))
			continue
		}
		found := false
		for _, col := range list[1].Columns {
			found = found || col.Head == c.head
		}
		if !found {
			t.Errorf("%s: no column %q among %+v", c.options, c.head, list[1].Columns)
		}
		for _, r := range list[1].Rows {
			if r.Difference.Text == "" || r.Left[1].Text == "–" || r.Right[1].Text == "–" {
				t.Errorf("%s: %s has %q, %q, %q", c.options, r.Name, r.Left[1].Text, r.Difference.Text, r.Right[1].Text)
			}
		}
		for _, r := range tables(e)[0].Rows {
			if len(r.Cells) != len(tables(e)[0].Columns) {
				t.Errorf("%s: %d cells for %d columns", c.options, len(r.Cells), len(tables(e)[0].Columns))
			}
		}
	}
}

func TestMethodsOfMatchedPieces(t *testing.T) {
	e, _, _ := entry(t, "spread\ngroups: [fired, dug]\n```\n\n```methods")
	if text := words(e); !strings.Contains(text, "Matched pieces. ") || !strings.Contains(text, "500 draws") {
		t.Error("the methods do not tell of matched pieces")
	}
	e, _, _ = entry(t, "spread\ngroups: [fired, dug]\nmatch: none\n```\n\n```methods")
	if strings.Contains(words(e), "Matched pieces. ") {
		t.Error("the methods tell of what was not used")
	}
}

func TestWrongPairs(t *testing.T) {
	for _, c := range []struct {
		options string
		line    int // after the fence
		want    string
	}{
		{"groups: [dug, dug]", 0, "both pages of this spread would show dug"},
		{"groups: [fired, dug]\nsubject: meltng", 0, `there is no subject "meltng" of a spread; did you mean "melting"?`},
		{"groups: [fired, dug]\nsubject: melting\nat: 1200", 0, "melting holds at no temperature"},
		{"groups: [fired, dug]\nsubject: flow\nat: 5250", 0, "at is in °C, from 900 to 1700, not 5250"},
		{"groups: [fired, dug]\nmatch: nearest", 0, `match is one of likeness and none, not "nearest"`},
		{"groups: [fired, dug]\nmatch: likeness\npairs: {LS-S01: KR-S01}", 0, "take one of the two out"},
		{"groups: [fired, dug]\nparts: [SiO2, FeX]", 0, `there is no value "FeX"`},
		{"groups: [fired, dug]\npairs:\n  LS-S01: KR-S01\n  LS-S0l: KR-S02", 4, `pairs names the sample "LS-S0l", which is not in the campaign; did you mean "LS-S01"?`},
		{"groups: [fired, dug]\npairs:\n  LS-S01: LS-S02", 3, "pairs sets LS-S01 beside LS-S02, and both stand on the same page"},
		{"groups: [fired, dug]\npairs: {LS-S01: }", 2, `pairs has "LS-S01" with nothing beside it; write one sample of fired and one of dug`},
		{"groups: [fired, plates]\npairs:\n  LS-S08: KR-S02", 3, "pairs names LS-S08, which is neither in fired nor in plates"},
		{"groups: [fired, dug]\npairs:\n  LS-S01: [KR-S01, kr-s01]", 3, "pairs has KR-S01 with LS-S01 twice"},
		{"groups: [fired, dug]\npairs: LS-S01", 2, "pairs takes one line a pair"},
	} {
		_, messages, line := entry(t, "spread\n"+c.options)
		if len(messages) != 1 || !strings.Contains(messages[0], c.want) || !strings.Contains(messages[0], fmt.Sprintf("line %d:", line+c.line)) {
			t.Errorf("%q: %v, want on line %d %q", c.options, messages, line+c.line, c.want)
		}
	}
}

// Unlike kinds of material are told, and so is a piece on both pages.
func TestUnlikePagesAreTold(t *testing.T) {
	e, messages, _ := entry(t, "spread\ngroups: [fired, dug_walls]")
	if said := words(e); len(messages) > 0 || !strings.Contains(said, "fired holds slag and dug_walls holds lining: what differs between the pages is the kind of material") {
		t.Errorf("%v %s", messages, said)
	}
	e, _, _ = entry(t, "spread\ngroups: [fired_walls, dug_walls]\nsubject: melting\nmatch: none")
	if said := words(e); !strings.Contains(said, "a spread of melting is told of slag alone, and fired_walls holds something else: KR-L1") {
		t.Error(said)
	}
	e, messages, _ = entry(t, "spread\ngroups: [fired, late]")
	if said := words(e); len(messages) > 0 || !strings.Contains(said, "is in both groups, and a piece is not matched with itself") || len(spreads(e)) != 1 {
		t.Errorf("%v %s", messages, said)
	}
}

// Where a group mixes slags with and without titrated iron, the tables and the
// values of the melt say so.
func TestMixedIronIsTold(t *testing.T) {
	titrated := 0
	for _, x := range demoGroup(t, "fired") {
		if _, _, ok := study.FerricShare(x); ok {
			titrated++
		}
	}
	if titrated == 0 || titrated == len(demoGroup(t, "fired")) {
		t.Fatal("the demo does not mix")
	}
	want := fmt.Sprintf("errous iron was titrated in %d of the 16 slags of fired", titrated)
	e, _, _ := entry(t, "spread\ngroups: [fired, dug]")
	if notes := strings.Join(spreads(e)[0].Notes, "\n"); !strings.Contains(notes, want) {
		t.Errorf("the spread does not say %q: %s", want, notes)
	}
	e, _, _ = entry(t, "spread\ngroups: [fired, dug]\nrows: [SiO2, FeO]")
	if notes := strings.Join(spreads(e)[0].Notes, "\n"); strings.Contains(notes, "titrated") {
		t.Errorf("a spread without melts speaks of iron: %s", notes)
	}
	for _, block := range []string{"melting\ngroups: [fired, dug]", "flow\ngroups: [fired, dug]"} {
		e, _, _ = entry(t, block)
		found := false
		for _, table := range tables(e) {
			found = found || strings.Contains(strings.Join(table.Notes, "\n"), want)
		}
		if !found {
			t.Errorf("%s does not say %q", block, want)
		}
	}
}

// More pairs than anybody leafs through are listed, and what has to be known to
// read them is said with the list.
func TestManyPairsAreListed(t *testing.T) {
	var sheet strings.Builder
	sheet.WriteString("Sample,Kind,Origin,SiO2 (wt%),FeOT (wt%),CaO (wt%),Al2O3 (wt%)\nKR-1,slag,experimental,32,60,3,5\nKR-2,slag,experimental,50,40,4,6\nKR-3,slag,experimental,20,70,4,6\n")
	for i := range 61 {
		fmt.Fprintf(&sheet, "LS-%d,slag,excavated,%g,%g,4,5\n", i, 30+0.1*float64(i), 61-0.1*float64(i))
	}
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "xrf.csv"), []byte(sheet.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	front := "---\ntitle: T\ndata: [xrf.csv]\ngroups:\n  fired: {origin: experimental}\n  dug: {origin: excavated}\n---\n"
	n, _ := notebook.Parse(assay.NotebookName, []byte(front))
	c, err := assay.Load(context.Background(), dir, n.Config, nil)
	if err != nil || c.Notices.Failed() {
		t.Fatal(err, c.Notices)
	}
	s, err := study.Compute(context.Background(), c, study.ConditionsOf(1, 20), nil)
	if err != nil {
		t.Fatal(err)
	}
	e, messages, _ := entryOf(t, s, front, "spread\ngroups: [fired, dug]")
	if len(messages) > 0 || len(spreads(e)) != 1 {
		t.Fatalf("%v, %d spreads", messages, len(spreads(e)))
	}
	list := tables(e)[0]
	notes := strings.Join(list.Notes, "\n")
	if len(list.Rows) != 61 || !list.Long || !strings.Contains(notes, "Of fired without a match: KR-2, KR-3") || !strings.Contains(notes, "KR-1 stands beside 61 pieces") || !strings.Contains(notes, "nearest to it by composition") {
		t.Errorf("%d rows, long %t: %s", len(list.Rows), list.Long, notes)
	}
}
