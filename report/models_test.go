package report_test

import (
	"bytes"
	"strings"
	"testing"

	"smeltbook/phase/flow"
	"smeltbook/report"
	"smeltbook/report/page"
)

func TestFlowEntry(t *testing.T) {
	e, _, _ := entry(t, "flow\ngroups: [fired, dug]")
	if n := len(figures(e)); n != 2 {
		t.Errorf("%d figures, want the values and the curves", n)
	}
	text := words(e)
	for _, want := range []string{"at 1200 °C", "reach 1 Pa·s", "depth 50 mm", "time 30 min", "factor of 2", "Utigard & Warczok 1995: the slag holds"} {
		if !strings.Contains(text, want) {
			t.Errorf("the entry does not say %q", want)
		}
	}
	models := tables(e)[1]
	if len(models.Columns) != 1+len(flow.Models()) {
		t.Errorf("%d columns for %d models", len(models.Columns), len(flow.Models()))
	}
	// KR-S10 has some 54 wt% FeO: the model of iron-rich slags is taken, that
	// of natural melts is far outside.
	row := rowOf(t, models, "KR-S10")
	for i, m := range flow.Models() {
		c := row.Cells[i+1]
		if taken := m.Key() == "utigard_warczok_1995"; (c.Sub == "taken") != taken {
			t.Errorf("%s: %+v", m.Name(), c)
		}
		if m.Key() == "giordano_2008" && c.Class != page.OutOfRange {
			t.Errorf("%s is not marked as outside: %+v", m.Name(), c)
		}
	}
	e, _, _ = entry(t, "flow\ngroups: [fired, dug]\nat: 1250\nmodel: urbain_1987\nreach: 10\ndepth: 30\ntime: 60")
	if text := words(e); strings.Contains(text, "Assumed") || !strings.Contains(text, "asked for") {
		t.Errorf("stated conditions: %s", text)
	}
}

func viscosityOf(t *testing.T, e *page.Entry, id string) float64 {
	t.Helper()
	return *rowOf(t, tables(e)[0], id).Cells[2].Sort
}

// Below its liquidus a slag is stiffer than the model says of a liquid of its
// composition.
func TestCrystalsStiffenTheSlag(t *testing.T) {
	s, front := demo()
	e, messages, _ := entryOf(t, s, front, "flow\ngroups: [fired, dug]\nat: 1090")
	if len(messages) > 0 {
		t.Fatal(messages)
	}
	est, _, _ := s.Estimate("KR-S10")
	if est.Liquidus.Value < 1110 {
		t.Fatalf("KR-S10 melts at %s: choose a temperature below", est.Liquidus.Text())
	}
	liquid := flow.Ask(flow.Choose(est.Melt.Wt).Model, est.Melt.Wt, 1090)
	if got := viscosityOf(t, e, "KR-S10"); !(got > 1.5*liquid.Eta) {
		t.Errorf("at 1090 °C KR-S10 has %g Pa·s, as a liquid %g", got, liquid.Eta)
	}
	if text := words(e); strings.Contains(text, "left aside") {
		t.Error("the entry says that crystals are left aside")
	}
}

func TestRedoxEntry(t *testing.T) {
	e, _, _ := entry(t, "redox\ngroups: [fired, dug]")
	text := words(e)
	for _, want := range []string{"at 1200 °C", "copper metal present", "iron metal absent", "less sure witness"} {
		if !strings.Contains(text, want) {
			t.Errorf("the entry does not say %q", want)
		}
	}
	table := tables(e)[0]
	// KR-S04: FeO 24.02 of 26.10 wt% in all, so 7.97 % ferric by hand.
	row := rowOf(t, table, "KR-S04")
	if got := row.Cells[5].Text; !strings.HasPrefix(got, "7.97") {
		t.Errorf("ferric iron of KR-S04 %q", got)
	}
	if got := rowOf(t, table, "KR-S02"); got.Cells[2].Text != "no iron metal" || got.Cells[4].Text != "copper found" || got.Cells[5].Text != "–" {
		t.Errorf("KR-S02: %+v", got.Cells)
	}
	// Nothing seen but the charcoal: the upper end is open.
	e, _, _ = entry(t, "redox\ngroups: [fired, dug]\nat: 1200\ncopper_metal: unknown\niron_metal: unknown")
	if got := rowOf(t, tables(e)[0], "KR-S02"); got.Cells[2].Text != "charcoal gas" || got.Cells[3].Text != "open" {
		t.Errorf("KR-S02 without evidence: %+v", got.Cells)
	}
}

func TestFormsAndLossOfCopper(t *testing.T) {
	e, _, _ := entry(t, "copper\ngroups: [fired, dug]\nat: 1200\nlog_po2: [-11, -9]\nore: picked")
	all := tables(e)
	if len(all) != 5 {
		t.Fatalf("%d tables, want split, forms, firings, slag per copper and levers", len(all))
	}
	// KR-F1 by hand: 6.01 kg of slag with the mean of 1.72, 1.797 and 1.478 wt%
	// hold 0.100 kg Cu; 5.00 kg of ore with some 8.87 wt% hold 0.443.
	row := rowOf(t, all[2], "KR-F1")
	if lost, share := *row.Cells[3].Sort, *row.Cells[6].Sort; lost < 0.0999 || lost > 0.1003 || share < 22.4 || share > 22.8 {
		t.Errorf("KR-F1 lost %g kg, %g %%", lost, share)
	}
	// Prills by size: 56.0 + 42.7 + 32.8 + 24.6 g.
	if got := *row.Cells[7].Sort; got < 0.15609 || got > 0.15611 {
		t.Errorf("prills of KR-F1 %g kg", got)
	}
	// LS-S01: SiO2 bounds the slag from below; nothing bounds it from above.
	if got := rowOf(t, all[3], "LS-S01"); !strings.HasPrefix(got.Cells[4].Text, "≥ 5") || !strings.HasPrefix(got.Cells[5].Text, "≤ 9") {
		t.Errorf("LS-S01: %+v", got.Cells)
	}
	text := words(e)
	for _, want := range []string{"cannot tell apart", "Would waiting have saved copper?", "under the same gas", "a tenth of the oxygen pressure", "drop, the largest", "all SiO₂, Al₂O₃ and TiO₂ of the ore"} {
		if !strings.Contains(text, want) {
			t.Errorf("the entry does not say %q", want)
		}
	}
	without, _, _ := entry(t, "copper\ngroups: [fired, dug]")
	if n := len(tables(without)); n != 4 {
		t.Errorf("%d tables without an ore, want 4", n)
	}
	counted, _, _ := entry(t, "copper\ngroups: [fired, dug]\nprills: {KR-S05: [2, 0.2]}")
	if a, b := rowOf(t, all[1], "KR-S05").Cells[4].Text, rowOf(t, tables(counted)[1], "KR-S05").Cells[4].Text; a == b {
		t.Errorf("prills counted leave the metal at %s", a)
	}
}

func TestLiningEntry(t *testing.T) {
	e, _, _ := entry(t, "lining\ngroups: [fired_walls, dug_walls]\nslag: [fired, dug]\nore: picked\nclay: [fired_walls, dug_walls]\nseen: {kr-l1: coarse}")
	all := tables(e)
	if len(all) != 3 || len(figures(e)) != 2 {
		t.Fatalf("%d tables and %d figures", len(all), len(figures(e)))
	}
	if got := rowOf(t, all[1], "KR-L1"); got.Cells[7].Sub != "> 1000 °C" {
		t.Errorf("coarse bloating in reduction: %+v", got.Cells[7])
	}
	clay := all[2]
	if got := rowOf(t, clay, "KR-S07").Cells[6].Text; got != "charge of KR-F3" {
		t.Errorf("the rest of KR-S07 is %q", got)
	}
	if got := rowOf(t, clay, "LS-S01").Cells[6].Text; got != "ore alone" {
		t.Errorf("the rest of LS-S01 is %q", got)
	}
	if text := words(e); !strings.Contains(text, "atmosphere reducing") || !strings.Contains(text, "tracers disagree") {
		t.Errorf("the entry says %s", text)
	}
	alone, _, _ := entry(t, "lining\ngroups: [fired_walls, dug_walls]\nshow: bischof_quotient\natmosphere: oxidising\ncalcareous_limit: 5")
	if len(tables(alone)) != 2 || strings.Contains(words(alone), "Assumed") {
		t.Errorf("walls alone: %d tables, %s", len(tables(alone)), words(alone))
	}
}

func TestMethodsOfModels(t *testing.T) {
	e, _, _ := entry(t, "flow\ngroups: [fired, dug]\n```\n\n```redox\ngroups: [fired, dug]\n```\n\n```lining\ngroups: [fired_walls, dug_walls]\n```\n\n```methods")
	text := words(e)
	for _, want := range []string{"Viscosity. ", "Utigard & Warczok", "Oxygen potential. ", "Kress & Carmichael 1991", "Furnace wall. ", "Maniatis & Tite 1981"} {
		if !strings.Contains(text, want) {
			t.Errorf("the methods do not name %q", want)
		}
	}
	if strings.Contains(text, "Forms and loss of copper") {
		t.Error("the methods tell of copper, which was not used")
	}
}

func TestDemoSameBytes(t *testing.T) {
	_, a := road(t, orrinVale, report.Options{})
	_, b := road(t, orrinVale, report.Options{})
	if !bytes.Equal(a, b) {
		t.Error("two reports of the sample campaign differ")
	}
}

// TestMethodsOfReadings: the sample campaign titrates, weighs and reads on its
// own bench; the methods tell the formulas and what can hurt.
func TestMethodsOfReadings(t *testing.T) {
	e, _, _ := entry(t, "methods")
	text := words(e)
	for _, want := range []string{"16 results were worked out from readings", "a burette of 50 mL class A", "In determinations by Pratt, Wilson and silica HF: Hydrofluoric acid"} {
		if !strings.Contains(text, want) {
			t.Errorf("the methods do not say %q", want)
		}
	}
	all := tables(e)
	table := all[len(all)-1]
	if row := rowOf(t, table, "Pratt"); row.Cells[1].Text != "6" || !strings.Contains(row.Cells[2].Text, "71.844") || !strings.Contains(row.Cells[4].Text, "ISO 9035") {
		t.Errorf("Pratt: %+v", row.Cells)
	}
}

// A slag has indices of a wall too, and the entry says that they mean nothing.
func TestLiningOfSlagIsTold(t *testing.T) {
	e, _, _ := entry(t, "lining\ngroups: [fired_walls, dug]")
	var told []string
	for _, p := range e.Parts {
		if list, ok := p.(*page.Notices); ok {
			for _, n := range list.List {
				told = append(told, n.Error())
			}
		}
	}
	if text := strings.Join(told, "\n"); !strings.Contains(text, "LS-S01") || !strings.Contains(text, "listed as slag") {
		t.Errorf("nothing says that slag is no wall: %s", text)
	}
}
