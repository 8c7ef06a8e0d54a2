package report

import (
	"context"
	"math"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/source"
	"smeltbook/phase/copper"
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
			if x.why == "" {
				total++
			}
			told.add(s.ID, x.notices)
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

// windowOf is a sample's window, or why it has none.
type windowOf struct {
	redox.Window
	ferric  string // what titration says, for the table
	ignored bool   // ferric iron contradicts the rest and was left out
	note    string
	why     string
	notices source.Notices
}

// window gathers what is known of a sample.
func (b *builder) window(s *assay.Sample, cond redoxConditions) windowOf {
	est, why, ok := b.study.Estimate(s.ID)
	if !ok {
		return windowOf{why: why}
	}
	out := windowOf{ferric: "–"}
	ev := redox.Evidence{CopperMetal: presenceOf(cond.copper), IronMetal: presenceOf(cond.iron)}
	if est.Melt.Wt.AllFeO().Mol()[ironOxide] <= 0 {
		ev.IronMetal = redox.NotLookedFor
	}
	out.ferricIron(s, &ev)
	if total, ok := copper.TotalCopper(s.AsReported); ok && cond.copper == "present" {
		bound, err := copper.OxygenFromTotal(cond.tc, total, 1, copper.Fayalitic())
		if err == nil {
			ev.Others = append(ev.Others, bound)
		} else {
			out.notices.Add(source.Note, "NO_COPPER_BOUND", source.Cell{}, "the copper of the slag bounds nothing: %v", err)
		}
	}
	w, err := redox.WindowOf(est.Melt.Wt, cond.tc, ev)
	if err != nil {
		out.why = err.Error()
		out.notices.Add(source.Warning, "NO_WINDOW", source.Cell{}, "no window: %v", err)
		return out
	}
	out.Window = w
	for _, n := range w.Notices {
		if n.Code == "OXYGEN_BOUND_IGNORED" {
			out.ignored = true
			n.Message = "ferric iron gives an oxygen potential outside what the other observations leave (see the table); it is the less sure witness and is not used"
		}
		out.notices.AddNew(source.Notices{n})
	}
	return out
}

// ferricIron takes the titration into the evidence, within twice its
// uncertainty.
func (w *windowOf) ferricIron(s *assay.Sample, ev *redox.Evidence) {
	q, why, ok := study.FerricShare(s)
	if !ok {
		w.note = why
		return
	}
	u := 0.0
	if q.HasU() {
		u = q.U
	}
	lo, hi := math.Max(q.Value-2*u, 0), q.Value+2*u
	percent := q.Scale(100, "%")
	w.ferric, w.note = percent.Text(), strings.Join(nonEmpty(origin(q.From), q.UNote), "; ")
	switch {
	case hi <= 0:
		w.notices.Add(source.Warning, "FERRIC_BELOW_ZERO", source.Cell{},
			"titrated FeO exceeds total iron by more than twice the uncertainty of both; one of the two is wrong and ferric iron is not used")
	case hi >= 1:
		w.notices.Add(source.Warning, "FERRIC_ALL", source.Cell{}, "within its uncertainty all iron may be ferric; the titration bounds nothing")
	default:
		ev.FerricShare = [2]float64{lo, hi}
	}
}
