package deposit

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/source"
	"smeltbook/report/page"
)

// method is how the numbers of a deposit came about, with everything that was
// assumed.
type method struct {
	Program     Program      `json:"program"`
	Seed        uint64       `json:"seed"`
	Draws       int          `json:"draws"`
	Conditions  conditions   `json:"conditions"`
	Recipe      []recipeLine `json:"recipe"`
	Assumptions []assumption `json:"assumptions"`
	Groups      []group      `json:"groups"`
	Inputs      []inputFile  `json:"inputs"`
	Entries     []entry      `json:"entries"`
	References  []string     `json:"references"`
	Notices     []noticeLine `json:"notices"`
}

// conditions hold where an entry of the report states none of its own.
type conditions struct {
	TemperatureC float64 `json:"temperature_c"`
	LogPO2Low    float64 `json:"log10_po2_bar_low"`
	LogPO2High   float64 `json:"log10_po2_bar_high"`
}

type recipeLine struct {
	Key    string `json:"key"`
	Value  string `json:"value"`
	Means  string `json:"means"`
	Stated bool   `json:"stated_in_notebook"`
}

// assumption is what was taken because nobody stated it.
type assumption struct {
	Of    string `json:"of"` // values, samples or firings
	Count int    `json:"count"`
	What  string `json:"what"`
}

type group struct {
	Name    string   `json:"name"`
	Rule    string   `json:"rule"`
	Samples []string `json:"samples"`
}

type inputFile struct {
	Name   string `json:"name"`
	Bytes  int    `json:"bytes"`
	SHA256 string `json:"sha256"`
}

// entry is an entry of the report: what it assumed and, for the methods, what
// it says.
type entry struct {
	Number  int      `json:"number"`
	Kind    string   `json:"kind"`
	Title   string   `json:"title"`
	Assumed []string `json:"assumed,omitempty"`
	Text    []string `json:"text,omitempty"`
}

type noticeLine struct {
	Severity string `json:"severity"`
	Code     string `json:"code"`
	At       string `json:"at,omitempty"`
	Message  string `json:"message"`
	Setting  string `json:"setting,omitempty"`
}

func methodOf(in Input) method {
	s := in.Study
	c := s.Campaign
	m := method{Program: in.Program, Seed: s.Conditions.Seed, Draws: s.Conditions.Draws,
		Conditions: conditions{s.Conditions.TC, s.Conditions.LogPO2[0], s.Conditions.LogPO2[1]}}
	for _, l := range c.Config.Recipe.Lines() {
		m.Recipe = append(m.Recipe, recipeLine(l))
	}
	m.Assumptions = assumptionsOf(in)
	m.References = append([]string{}, in.Document.References...)
	for _, g := range c.Groups {
		x := group{Name: g.Name, Rule: ruleText(g.Rule), Samples: []string{}}
		for _, sample := range g.Samples {
			x.Samples = append(x.Samples, sample.ID)
		}
		m.Groups = append(m.Groups, x)
	}
	for _, name := range slices.Sorted(maps.Keys(in.Inputs)) {
		m.Inputs = append(m.Inputs, inputFile{name, len(in.Inputs[name]), sum(in.Inputs[name])})
	}
	for _, b := range in.Document.Blocks {
		if e, ok := b.(*page.Entry); ok {
			x := entry{Number: e.Number, Kind: e.Kind, Title: e.Title, Assumed: e.Assumed}
			if e.Kind == "methods" {
				x.Text = paragraphs(e.Parts)
			}
			m.Entries = append(m.Entries, x)
		}
	}
	for _, n := range in.Notices {
		m.Notices = append(m.Notices, noticeLine{n.Severity.String(), n.Code, n.At.String(), n.Message, n.Setting})
	}
	return m
}

func ruleText(r assay.GroupRule) string {
	var parts []string
	for _, x := range []struct {
		key   string
		words []string
	}{{"origin", r.Origins}, {"kind", r.Kinds}, {"site", r.Sites}, {"run", r.Runs}, {"samples", r.Samples}, {"except", r.Except}} {
		if len(x.words) > 0 {
			parts = append(parts, x.key+": "+strings.Join(x.words, ", "))
		}
	}
	return strings.Join(parts, "; ")
}

// assumptionsOf counts what was assumed of analyses and of melts, most frequent
// first.
func assumptionsOf(in Input) []assumption {
	var out []assumption
	add := func(of string, counts map[string]int) {
		start := len(out)
		for _, what := range slices.Sorted(maps.Keys(counts)) {
			out = append(out, assumption{of, counts[what], what})
		}
		slices.SortStableFunc(out[start:], func(a, b assumption) int { return b.Count - a.Count })
	}
	add("values", in.Study.Campaign.Assumptions())
	melts := map[string]int{}
	for _, s := range in.Study.Estimated() {
		e, _, _ := in.Study.Estimate(s.ID)
		for _, a := range e.Assumptions {
			melts[a]++
		}
	}
	add("samples", melts)
	return out
}

// paragraphs returns the running text of an entry.
func paragraphs(parts []page.Part) []string {
	var out []string
	for _, p := range parts {
		switch p := p.(type) {
		case *page.Text:
			for _, runs := range p.Paragraphs {
				out = append(out, page.PlainRuns(runs))
			}
		case *page.Equation:
			out = append(out, p.Plain())
		}
	}
	return out
}

// text is the method for people.
func (m method) text() []byte {
	var b strings.Builder
	p := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	p("HOW THE NUMBERS CAME ABOUT\n\nComputed with %s %s (%s), seed %d, %d random draws.", m.Program.Name, m.Program.Version, m.Program.Go, m.Seed, m.Draws)
	p("Where an entry of the report states nothing else: %g °C, log10 of the oxygen pressure in bar from %g to %g.", m.Conditions.TemperatureC, m.Conditions.LogPO2Low, m.Conditions.LogPO2High)
	p("\nTHE RECIPE, from analysis to composition\n")
	for _, l := range m.Recipe {
		from := "default"
		if l.Stated {
			from = "stated in the notebook"
		}
		p("%s: %s (%s)\n    %s.", l.Key, l.Value, from, l.Means)
	}
	p("\nASSUMED, because nobody stated it\n")
	for _, a := range m.Assumptions {
		p("- of %d %s: %s", a.Count, a.Of, a.What)
	}
	for _, e := range m.Entries {
		for _, a := range e.Assumed {
			p("- in entry %d (%s): %s", e.Number, e.Title, a)
		}
	}
	p("\nTHE GROUPS\n")
	for _, g := range m.Groups {
		p("%s (%s): %s", g.Name, g.Rule, strings.Join(g.Samples, ", "))
	}
	for _, e := range m.Entries {
		if len(e.Text) > 0 {
			p("\nTHE METHODS, as entry %d of the report gives them\n\n%s", e.Number, strings.Join(e.Text, "\n\n"))
		}
	}
	if len(m.References) > 0 {
		p("\nTHE WORKS cited in the report\n\n%s", strings.Join(m.References, "\n"))
	}
	p("\nWHAT WAS SAID about the data while they were read\n")
	for _, n := range m.Notices {
		at := ""
		if n.At != "" {
			at = n.At + ": "
		}
		p("- %s: %s%s", n.Severity, at, n.Message)
	}
	p("\nTHE INPUTS, as they were read (SHA-256)\n")
	for _, f := range m.Inputs {
		p("%s  %s", f.SHA256, f.Name)
	}
	p("\nTHE MODULES that the program was built with\n")
	for _, x := range m.Program.Modules {
		p("%s %s", x.Path, x.Version)
	}
	return []byte(b.String())
}

// severe reports whether a notice needs looking at.
func severe(n source.Notice) bool { return n.Severity != source.Note }
