package report_test

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"smeltbook/assay"
	"smeltbook/report"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
	"smeltbook/report/study"
)

const orrinVale = "../samples/orrin-vale"

// demo is the study of the sample campaign and the front of its notebook.
var demo = sync.OnceValues(func() (*study.Study, string) {
	ctx := context.Background()
	text, err := os.ReadFile(filepath.Join(orrinVale, assay.NotebookName))
	if err != nil {
		panic(err)
	}
	n, _ := notebook.Parse(assay.NotebookName, text)
	c, err := assay.Load(ctx, orrinVale, n.Config, nil)
	if err != nil {
		panic(err)
	}
	s, err := study.Compute(ctx, c, study.ConditionsOf(n.Seed, 50), nil)
	if err != nil {
		panic(err)
	}
	front, _, _ := strings.Cut(string(text)[4:], "\n---\n")
	return s, "---\n" + front + "\n---\n"
})

// entry builds one entry of the sample campaign; line is that of its fence.
func entry(t *testing.T, block string) (e *page.Entry, messages []string, line int) {
	t.Helper()
	s, front := demo()
	return entryOf(t, s, front, block)
}

func entryOf(t *testing.T, s *study.Study, front, block string) (e *page.Entry, messages []string, line int) {
	t.Helper()
	n, ns := notebook.Parse(assay.NotebookName, []byte(front+"\n```"+block+"\n```\n"))
	if ns.Failed() {
		t.Fatal(ns)
	}
	doc, notices, err := report.Document(context.Background(), s, n, report.Options{Version: "test"})
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range notices {
		messages = append(messages, x.Error())
	}
	for _, b := range doc.Blocks {
		if found, ok := b.(*page.Entry); ok {
			e = found
		}
	}
	return e, messages, strings.Count(front, "\n") + 2
}

func tables(e *page.Entry) (out []*page.Table) {
	for _, p := range e.Parts {
		if t, ok := p.(*page.Table); ok {
			out = append(out, t)
		}
	}
	return out
}

func figures(e *page.Entry) (out []*page.Figure) {
	for _, p := range e.Parts {
		if f, ok := p.(*page.Figure); ok {
			out = append(out, f)
		}
	}
	return out
}

// words joins all that an entry says outside its tables.
func words(e *page.Entry) string {
	var b strings.Builder
	for _, p := range e.Parts {
		switch p := p.(type) {
		case *page.Text:
			for _, runs := range p.Paragraphs {
				for _, r := range runs {
					b.WriteString(r.Text)
				}
				b.WriteString("\n")
			}
		case *page.Equation:
			b.WriteString(p.Plain() + "\n")
		case *page.Notices:
			for _, n := range p.List {
				b.WriteString(n.Message + "\n")
			}
		case *page.Figure:
			b.WriteString(p.Caption + "\n")
		}
	}
	return b.String()
}

// rowOf finds a sample's row.
func rowOf(t *testing.T, table *page.Table, sample string) page.Row {
	t.Helper()
	for _, r := range table.Rows {
		if r.Sample == sample || len(r.Cells) > 0 && r.Cells[0].Text == sample {
			if len(r.Cells) != len(table.Columns) {
				t.Errorf("%s: %d cells for %d columns", sample, len(r.Cells), len(table.Columns))
			}
			return r
		}
	}
	t.Fatalf("no row of %s in %q", sample, table.Caption)
	return page.Row{}
}

func TestRowsAsWideAsTheirTables(t *testing.T) {
	for _, block := range []string{
		"flow\ngroups: [fired, dug]", "redox\ngroups: [fired, dug]",
		"copper\ngroups: [fired, dug]\nore: picked\nprills: {KR-S04: [1, 0.3]}",
		"lining\ngroups: [fired_walls, dug_walls]\nslag: [fired, dug]\nore: picked\nclay: fired_walls",
		"balance", "balance\nfirings: [KR-F2]\nelements: [Cu, U]", "origins\ngroups: [fired, dug]\nore: picked\nlining: [dug_walls]\nsand: true", "origins\ngroups: [fired_walls, ore]\nore: picked\nflux: [bog_iron, picked]",
		"flow\ngroups: [fired, dug]\nat: 900\nreach: 0.001", "flow\ngroups: [fired, dug]\nat: 1700\nreach: 1000000\nmodel: giordano_2008",
		"flow\ngroups: [limed, stuck]\nat: 900\nmodel: giordano_2008\ndepth: 2000\ntime: 0.1",
		"redox\ngroups: [fired, dug]\nat: 900", "redox\ngroups: [fired, dug]\nat: 1700\niron_metal: present",
		"copper\ngroups: [fired, dug]\nat: 900\ndrop: 100", "copper\ngroups: [late, fired]\nat: 1700\nlog_po2: -4\nore: ore\nto_slag: [FeO]\nonly_from_ore: [FeO, CaO]",
		"lining\ngroups: [fired, dug]\nslag: [dug, fired_walls]\nore: fired\nclay: ore\ncalcareous_limit: 0.1",
		"dressing", "dressing\ncircuits: B\nsampling: added\nliberation: 1\nmineral: cuprite",
		"dressing\nore: ore", "dressing\nore: picked\nflux: OV-FLX-2\nratio: 2\ncharcoal: 5\nlog_po2: -8\nat: 1100",
		"likeness\ngroups: [fired, dug]", "likeness\ngroups: [fired, dug]\nparts: [SiO2, FeO, CaO]\nbalances: {bases: SiO2 | FeO CaO, lime: CaO | FeO}\nmargin: 2\nreplacement: half limit\nextras: [CaO/SiO2]",
		"likeness\ngroups: [limed, stuck]\nparts: [SiO2, FeO]", "effects\ngroup: fired", "effects\ngroup: fired\nsettings: [Air, Flux + Second flux / Ore]\noutcomes: [CaO/SiO2, copper yield, Lime against iron]\nprior: 2\nfirings: 2\nlevels: {Air: [200, 300, 400]}",
		"spread\ngroups: [fired, dug]", "spread\ngroups: [fired_walls, dug_walls]\nsubject: lining", "spread\ngroups: [limed, stuck]\nsubject: copper\nat: 900", "spread\ngroups: [ore, fired]\nsubject: melting",
		"flow\ngroups: [fired_walls, ore]", "redox\ngroups: [ore, dug]", "copper\ngroups: [fired_walls, dug]",
	} {
		e, messages, _ := entry(t, block)
		if len(messages) > 0 {
			t.Errorf("%s: %v", block, messages)
		}
		if len(tables(e)) == 0 {
			t.Errorf("%s: no table", block)
		}
		for _, table := range tables(e) {
			for _, r := range table.Rows {
				if len(r.Cells) != len(table.Columns) {
					t.Errorf("%q: %d cells for %d columns", table.Caption, len(r.Cells), len(table.Columns))
				}
			}
		}
	}
}

// What the notebook got wrong is told in one sentence with the notebook's line.
func TestBadOptionsOfModels(t *testing.T) {
	for _, c := range []struct{ block, want string }{
		{"flow\ngroups: [fired, dug]\nat: 300", "at is in °C, from 900 to 1700, not 300"},
		{"flow\ngroups: [fired, dug]\nreach: -1", "reach is in Pa·s, from 0.001 to 1000000, not -1"},
		{"flow\ngroups: [fired, dug]\ndepth: 0", "depth is in mm"},
		{"flow\ngroups: [fired, dug]\ntime: -5", "time is in min"},
		{"flow\ngroups: [fired, dug]\nmodel: urbain", "urbain_1981"},
		{"flow\ngroups: [fired]", "needs two groups"},
		{"redox\ngroups: [fired, dug]\nat: 5000", "at is in °C, from 900 to 1700, not 5000"},
		{"redox\ngroups: [fired, dug]\niron_metal: some", `iron_metal is one of present, absent, unknown, not "some"`},
		{"redox\ngroups: [fired, dug]\ncopper_metal: 3", "copper_metal is one of"},
		{"copper\ngroups: [fired, dug]\nprills: {KR-S01: -2}", "prills of KR-S01: give the share"},
		{"copper\ngroups: [fired, dug]\nprills: {KR-S01: 120}", "from 0 to 100"},
		{"copper\ngroups: [fired, dug]\nprills: {KR-S10: 30}", "prills of KR-S10: the prills seen hold at least"},
		{"copper\ngroups: [fired, dug]\nprills: {KR-S99: 1}", `there is no sample "KR-S99"`},
		{"copper\ngroups: [fired, dug]\nore: fired_walls", "holds no ore whose copper is analysed"},
		{"copper\ngroups: [fired, dug]\nto_slag: [SiO2]", "name the group of the ore"},
		{"copper\ngroups: [fired, dug]\nore: picked\nto_slag: [Quartz]", `"Quartz"`},
		{"copper\ngroups: [fired, dug]\ndrop: -1", "drop is in mm"},
		{"dressing\ncircuits: [C]", `there is no circuit "C"`},
		{"dressing\nmineral: malakite", `not "malakite"`},
		{"dressing\nliberation: 0", "liberation is in mm"},
		{"dressing\nsampling: yes please", "sampling is one of added, shown"},
		{"dressing\nflux: OV-FLX-1", "name the group of the ores"},
		{"dressing\nore: ore\nflux: OV-FLX-9", "no sample is OV-FLX-9"},
		{"dressing\nore: ore\nat: 500", "1100 to 1400, not 500"},
		{"dressing\nore: ore\nratio: 0", "ratio is in FeO/SiO2"},
		{"dressing\nore: ore\nlog_po2: [-9, -11]", "lower first"},
		{"likeness\ngroups: [fired]", "needs two groups"},
		{"effects\ngroup: fired\nfirings: 999", "firings is from 0 to 20, not 999"},
		{"likeness\ngroups: [fired, late]", "KR-S07 is in both groups"},
		{"likeness\ngroups: [fired, dug]\nmargin: 0", "margin is in times the scatter of dug, from 0.01 to 100, not 0"},
		{"likeness\ngroups: [fired, dug]\nreplacement: zero", `replacement is one of 0.65 limit, half limit, limit, log-ratio EM, not "zero"`},
		{"likeness\ngroups: [fired, dug]\nparts: [SiO2, CaO/FeO]", "is a ratio; name the parts"},
		{"likeness\ngroups: [fired, dug]\nparts: [SiO2, Silica]", `there is no value "Silica"`},
		{"likeness\ngroups: [fired, dug]\nparts: [SiO2, FeO, CaO]\nbalances: {bases: SiO2 | FeO CaO}", "3 parts need 2 balances, not 1"},
		{"likeness\ngroups: [fired, dug]\nparts: [SiO2, FeO]\nbalances: {bases: SiO2 FeO}", "write the parts of both sides with a bar"},
		{"likeness\ngroups: [fired, dug]\nextras: [heat]", `extras: there is no value "heat"`},
		{"effects\ngroup: dug", "0 firings with pieces of dug in the field sheets; effects need three or more"},
		{"effects\ngroup: fired\nsettings: [Aire]", `has no column "Aire"; did you mean "Air"?`},
		{"effects\ngroup: fired\nsettings: [Air + Ore / Ore]", "only columns of one unit can be added"},
		{"effects\ngroup: fired\noutcomes: [beauty]", `there is no result "beauty"`},
		{"effects\ngroup: fired\nprior: 0", "prior is in scatters between like firings"},
		{"effects\ngroup: fired\nsettings: [Air]\nlevels: {Ore: [1, 2]}", `levels: there is no setting "Ore"`},
		{"effects\ngroup: fired\nlevels: {Air: [300, 300]}", "the levels of Air are equal"},
		{"lining\ngroups: [fired_walls, dug_walls]\nshow: strength", `there is no index "strength"`},
		{"lining\ngroups: [fired_walls, dug_walls]\natmosphere: windy", "atmosphere is one of oxidising, reducing"},
		{"lining\ngroups: [fired_walls, dug_walls]\ncalcareous_limit: -6", "calcareous_limit is in wt% CaO"},
		{"lining\ngroups: [fired_walls, dug_walls]\nseen: {KR-L1: molten}", `"molten" is no stage of vitrification`},
		{"lining\ngroups: [fired_walls, dug_walls]\nslag: [fired, dug]", "needs two groups of slag, an ore and one or two clays"},
		{"lining\ngroups: [fired_walls, dug_walls]\nslag: [fired, dug]\nore: nothing\nclay: fired_walls", `"nothing"`},
	} {
		_, messages, line := entry(t, c.block)
		if len(messages) != 1 {
			t.Errorf("%q: %d messages %q, want one", c.block, len(messages), messages)
			continue
		}
		if m := messages[0]; !strings.Contains(m, c.want) || !strings.Contains(m, "notebook.md, line ") || strings.ContainsAny(m, "\n") {
			t.Errorf("%q: %q, want %q and line %d", c.block, m, c.want, line)
		}
	}
}
