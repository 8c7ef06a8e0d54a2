package report

import (
	"context"
	"strings"

	"smeltbook/assay"
	"smeltbook/phase/redox"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
	"smeltbook/report/study"
)

// redoxConditions are those an entry was computed for.
type redoxConditions struct {
	tc           float64 // °C
	copper, iron string  // metal seen: present, absent or unknown
}

var presences = []string{"present", "absent", "unknown"}

func presenceOf(word string) redox.Presence {
	switch word {
	case "present":
		return redox.Present
	case "absent":
		return redox.Absent
	}
	return redox.NotLookedFor
}

// redoxEntry shows between which oxygen potentials each slag was liquid.
func redoxEntry(_ context.Context, b *builder, e *notebook.Entry, out *page.Entry) error {
	var o struct {
		Groups      []string
		At          *float64 // °C
		CopperMetal string   `yaml:"copper_metal"`
		IronMetal   string   `yaml:"iron_metal"`
	}
	if !b.options(e, &o) {
		return nil
	}
	groups, ok := b.facing(e, o.Groups)
	if !ok {
		return nil
	}
	a := assumer{b: b, e: e}
	cond := redoxConditions{
		tc:     a.number("at", o.At, study.DefaultTC, 900, 1700, "°C"),
		copper: a.word("copper_metal", o.CopperMetal, "present", presences),
		iron:   a.word("iron_metal", o.IronMetal, "absent", presences),
	}
	if a.failed {
		return nil
	}
	b.redoxAt = append(b.redoxAt, cond)
	windows := map[string]windowOf{}
	var told sampleNotices
	total := 0
	for _, g := range groups {
		for _, s := range g.Samples {
			x := b.window(s, cond)
			windows[s.ID] = x
			if x.Why == "" {
				total++
			}
			told.add(s.ID, x.Notices)
		}
	}
	diagram, err := b.diagramFigure(groups, cond, windows)
	if err != nil {
		return err
	}
	out.Parts = append(out.Parts, diagram, b.windowTable(groups, cond, windows))
	out.Parts = append(out.Parts, a.parts()...)
	if ns := told.list(total); len(ns) > 0 {
		out.Parts = append(out.Parts, &page.Notices{List: ns})
	}
	out.Margin = append(b.margin(groups[:]), "Oxygen potential: log₁₀ of the oxygen fugacity in bar")
	return nil
}

// windowOf is a sample's window with what the table prints of its ferric iron.
type windowOf struct {
	study.Window
	ferric string
	note   string
}

func (b *builder) window(s *assay.Sample, cond redoxConditions) windowOf {
	w := b.study.Window(s, cond.tc, study.Seen{Copper: presenceOf(cond.copper), Iron: presenceOf(cond.iron)})
	out := windowOf{Window: w, ferric: "–", note: w.FerricWhy}
	if w.Ferric.Known() {
		out.ferric = w.Ferric.Scale(100, "%").Text()
		out.note = strings.Join(nonEmpty(origin(w.Ferric.From), w.Ferric.UNote), "; ")
	}
	return out
}
