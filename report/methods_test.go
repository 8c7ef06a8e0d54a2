package report_test

import (
	"context"
	"regexp"
	"slices"
	"strings"
	"testing"

	"smeltbook/report"
	"smeltbook/report/cite"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
	"smeltbook/report/study"
)

// always are the topics of every report of the sample campaign.
var always = []string{"Analyses", "Quality of the analyses", "Determinations from readings", "From analysis to composition", "Uncertainties", "Cautions"}

// whatIsTold are the further topics that an entry or a value brings into the
// methods, and phrases of settings that have to be there.
var whatIsTold = []struct {
	name, block string
	topics      []string
	says        []string
}{
	{"nothing", "", nil, nil},
	{"composition", "```composition\ngroups: [fired, dug]\n```", nil, nil},
	{"ternary", "```ternary\ngroups: [fired, dug]\n```", []string{"Melt basis", "Liquidus", "Triangles"}, []string{"CaO–SiO₂–FeO"}},
	{"melting", "```melting\ngroups: [fired, dug]\n```", []string{"Groups", "Melt basis", "Liquidus", "Solidification"}, []string{"Pelton & Blander 1986"}},
	{"indices", "```indices\ngroups: [fired, dug]\nshow: nbo_t\nlist: [nbo_t]\n```", []string{"Groups", "Melt basis", "Indices"}, []string{"Mysen et al. 1982"}},
	{"another index", "```indices\ngroups: [fired, dug]\nshow: bachmann_index\nlist: [bachmann_index]\n```", []string{"Groups", "Melt basis", "Indices"}, []string{"Bachmann 1982", "k_v = (CaO + MgO"}},
	{"flow", "```flow\ngroups: [fired, dug]\nat: 1240\ndepth: 33\n```", []string{"Groups", "Melt basis", "Liquidus", "Solidification", "Viscosity", "Density", "Settling"},
		[]string{"1240 °C with the model chosen", "through 33 mm", "Giordano et al. 2008", "Lange & Carmichael 1987"}},
	{"flow by one model", "```flow\ngroups: [fired, dug]\nmodel: urbain_1987\n```", []string{"Groups", "Melt basis", "Liquidus", "Solidification", "Viscosity", "Density", "Settling"}, []string{"1200 °C with Urbain 1987"}},
	{"a viscosity in the prose", `The slag has {{ median "dug" "viscosity@1230" }}.`, []string{"Groups", "Melt basis", "Liquidus", "Solidification", "Viscosity"}, []string{"1230 °C", "Utigard & Warczok 1995"}},
	{"a liquidus in the prose", `It melts at {{ median "dug" "liquidus" }}.`, []string{"Groups", "Melt basis", "Liquidus"}, nil},
	{"a wall in the prose", `The wall has {{ mean "dug_walls" "bischof_quotient" }}.`, []string{"Groups", "Furnace wall"}, []string{"Bischof"}},
	{"an oxide in the prose", `It holds {{ mean "dug" "FeO" }}.`, []string{"Groups"}, nil},
	{"spread of compositions", "```spread\ngroups: [fired, dug]\npairs: {KR-S08: LS-S02}\n```", []string{"Groups", "Melt basis", "Liquidus", "Indices", "Matched pieces", "Photographs"}, []string{"Bachmann 1982", "Aitchison 1986"}},
	{"spread without photographs", "```spread\ngroups: [fired, dug]\npairs: {KR-S08: LS-S02}\nphotographs: false\n```", []string{"Groups", "Melt basis", "Liquidus", "Indices", "Matched pieces"}, nil},
	{"spread of flow", "```spread\ngroups: [fired, dug]\nsubject: flow\nat: 1250\npairs: {KR-S08: LS-S02}\n```", []string{"Groups", "Melt basis", "Liquidus", "Solidification", "Indices", "Matched pieces", "Photographs", "Viscosity", "Density"}, []string{"1250 °C", "Mysen et al. 1982"}},
	{"spread of copper", "```spread\ngroups: [fired, dug]\nsubject: copper\nat: 1250\npairs: {KR-S08: LS-S02}\n```", []string{"Groups", "Melt basis", "Matched pieces", "Photographs", "Dissolved copper", "Forms and loss of copper"}, []string{"at 1250 °C and log pO₂"}},
	{"spread of oxygen", "```spread\ngroups: [fired, dug]\nsubject: redox\nat: 1250\npairs: {KR-S08: LS-S02}\n```", []string{"Groups", "Melt basis", "Matched pieces", "Photographs", "Oxygen potential", "Dissolved copper"}, []string{"1250 °C, copper metal present, iron metal absent"}},
	{"spread of walls", "```spread\ngroups: [fired_walls, dug_walls]\nsubject: lining\n```", []string{"Groups", "Matched pieces", "Furnace wall"}, []string{"Schuen"}},
	{"redox", "```redox\ngroups: [fired, dug]\nat: 1210\ncopper_metal: present\niron_metal: unknown\n```", []string{"Melt basis", "Oxygen potential", "Dissolved copper"}, []string{"1210 °C, copper metal present, iron metal unknown", "Kress & Carmichael 1991", "− 16.9484 T ln T"}},
	{"copper", "```copper\ngroups: [fired, dug]\nat: 1220\nlog_po2: [-10, -9]\n```", []string{"Groups", "Melt basis", "Liquidus", "Solidification", "Viscosity", "Density", "Settling", "Dissolved copper", "Forms and loss of copper"}, []string{"1220 °C and log pO₂ −10 to −9", "w = c a_Cu"}},
	{"copper and its ore", "```copper\ngroups: [fired, dug]\nore: picked\nto_slag: [SiO2]\n```", []string{"Groups", "Melt basis", "Liquidus", "Solidification", "Viscosity", "Density", "Settling", "Dissolved copper", "Forms and loss of copper"}, []string{"s = t_o/t_s"}},
	{"lining and its slag", "```lining\ngroups: [fired_walls, dug_walls]\nslag: [fired, dug]\nore: picked\nclay: [fired_walls, dug_walls]\ncalcareous_limit: 5\n```", []string{"Groups", "Furnace wall"}, []string{"calcareous above 5 wt% CaO", "x = (t_s − t_r)/(t_c − t_r)"}},
	{"lining", "```lining\ngroups: [fired_walls, dug_walls]\n```", []string{"Groups", "Furnace wall"}, []string{"Maniatis & Tite 1981"}},
	{"dressing", "```dressing\nmineral: chalcopyrite\nliberation: 0.3\n```", []string{"Dressing"}, []string{"chalcopyrite", "0.3 mm", "Schulz 1970"}},
	{"dressing with errors of splitting", "```dressing\nmineral: malachite\nsampling: added\n```", []string{"Dressing"}, []string{"Errors of splitting are added", "malachite"}},
	{"dressing and smelting", "```dressing\nmineral: malachite\nore: ore\nflux: OV-FLX-1\nslag: late\n```", []string{"Dressing", "Charge and its products"}, []string{"balance of mass"}},
	{"balance", "```balance\n```", []string{"Balance of a firing", "Charge and its products"}, []string{"Of 5 firings", "Knepper & Gorman 1980"}},
	{"origins", "```origins\ngroups: [fired, dug]\nore: picked\nflux: [bog_iron]\nlining: [fired_walls, dug_walls]\nash: ash\nmodel: 7\n```", []string{"Sources of the slag"}, []string{"7 %", "Belsley et al. 1980"}},
	{"firing", "```firing\nfirings: [KR-F3]\ncouple: K\ngap: 4\n```", []string{"Course of the firing"}, []string{"up to 4 min", "IEC 2013"}},
	{"fragments", "```fragments\nground: 12\n```", []string{"Furnace from fragments"}, []string{"12 °C", "Carslaw & Jaeger 1959"}},
	{"likeness", "```likeness\ngroups: [fired, plates]\nmargin: 0.8\n```", []string{"Melt basis", "Liquidus", "Likeness"}, []string{"within 0.80 scatters", "Anderson 2001", "z_j = ln x_j"}},
	{"effects", "```effects\ngroup: fired\nsettings: [Flux / Ore]\noutcomes: [copper yield]\n```", []string{"Effects"}, []string{"Chaloner & Verdinelli 1995"}},
	{"quality", "```quality\ngroups: [fired, dug]\n```", nil, []string{"Control charts are after Shewhart", "York et al. 2004"}},
	{"cautions", "```cautions\n```", nil, nil},
	{"data", "```data\n```", nil, nil},
}

// TestMethodsTellWhatWasUsed walks through the kinds of entry and some settings:
// each brings its topics, and nothing else comes in.
func TestMethodsTellWhatWasUsed(t *testing.T) {
	s, front := sampleFront(t)
	walked := map[string]bool{}
	for _, x := range whatIsTold {
		t.Run(x.name, func(t *testing.T) {
			e, refs := methodsOf(t, s, front+x.block+"\n\n```methods\n```\n")
			var topics []string
			for _, p := range e.Parts {
				if text, ok := p.(*page.Text); ok {
					topics = append(topics, strings.TrimSuffix(text.Paragraphs[0][0].Text, ". "))
				}
			}
			for _, topic := range topics {
				if !slices.Contains(always, topic) && !slices.Contains(x.topics, topic) {
					t.Errorf("tells of %q, which was not used", topic)
				}
			}
			for _, want := range slices.Concat(always, x.topics) {
				if !slices.Contains(topics, want) {
					t.Errorf("does not tell of %q", want)
				}
			}
			all := words(e)
			for _, want := range x.says {
				if !strings.Contains(all, want) {
					t.Errorf("does not say %q:\n%s", want, all)
				}
			}
			if strings.Contains(all, "@") || strings.Contains(all, "%!") {
				t.Errorf("an open citation or value:\n%s", all)
			}
			checkReferences(t, e, refs)
		})
		if word, _, ok := strings.Cut(strings.TrimPrefix(x.block, "```"), "\n"); ok && strings.HasPrefix(x.block, "```") {
			walked[word] = true
		}
	}
	for _, kind := range notebook.Kinds() {
		if !walked[kind] && kind != "methods" {
			t.Errorf("the kind %q is not walked through", kind)
		}
	}
}

// sampleFront is the sample campaign with the first lines of its notebook.
func sampleFront(t *testing.T) (*study.Study, string) {
	t.Helper()
	s, _ := road(t, "../samples/orrin-vale", report.Options{})
	text := sampleNotebook(t)
	end := strings.Index(text[4:], "\n---\n") + 4
	return s, text[:end+5] + "\n"
}

// methodsOf returns the methods of a notebook and its list of references.
func methodsOf(t *testing.T, s *study.Study, text string) (e *page.Entry, references string) {
	t.Helper()
	n, ns := notebook.Parse("notebook.md", []byte(text))
	if ns.Failed() {
		t.Fatal(ns)
	}
	doc, notices, err := report.Document(context.Background(), s, n, report.Options{Version: "test"})
	if err != nil || notices.Failed() {
		t.Fatal(err, notices)
	}
	for _, b := range doc.Blocks {
		switch b := b.(type) {
		case *page.Entry:
			if b.Kind == "methods" {
				e = b
			}
		case *page.Prose:
			references = string(b.HTML)
		}
	}
	return e, references
}

var (
	toReference = regexp.MustCompile(`^#ref-[0-9]+$`)
	reference   = regexp.MustCompile(`id="(ref-[0-9]+)"`)
)

// checkReferences finds every work cited in the list and every work of the list
// cited.
func checkReferences(t *testing.T, e *page.Entry, html string) {
	t.Helper()
	cited := map[string]bool{}
	note := func(runs []page.Run) {
		for _, r := range runs {
			if strings.HasPrefix(r.Link, "#") {
				if !toReference.MatchString(r.Link) {
					t.Errorf("%q links to %q", r.Text, r.Link)
				}
				cited[strings.TrimPrefix(r.Link, "#")] = true
			}
		}
	}
	for _, p := range e.Parts {
		switch p := p.(type) {
		case *page.Text:
			for _, runs := range p.Paragraphs {
				note(runs)
			}
		case *page.Equation:
			for _, w := range p.Where {
				note(w.Means)
			}
			note(p.Source)
		}
	}
	listed := map[string]bool{}
	for _, m := range reference.FindAllStringSubmatch(html, -1) {
		listed[m[1]] = true
		if !cited[m[1]] {
			t.Errorf("%s is listed and not cited", m[1])
		}
	}
	for id := range cited {
		if !listed[id] {
			t.Errorf("%s is cited and not listed", id)
		}
	}
}

// Every work of the methods is whole and is cited somewhere in the code.
func TestWorksOfTheMethods(t *testing.T) {
	works, notices := cite.Methods()
	if len(notices) > 0 {
		t.Fatal(notices)
	}
	sources := codeOfMethods(t)
	for _, key := range works.Keys() {
		w, _ := works.Work(key)
		if w.Title == "" || len(w.Authors) == 0 || w.Year() == "undated" {
			t.Errorf("%s lacks its title, authors or year", key)
		}
		if !strings.Contains(sources, "@"+key) {
			t.Errorf("nothing cites %s", key)
		}
	}
	for _, m := range regexp.MustCompile(`@([a-z]+[0-9]{4,})`).FindAllStringSubmatch(sources, -1) {
		if _, ok := works.Work(m[1]); !ok {
			t.Errorf("%s is cited and not among the works", m[1])
		}
	}
}
