package report

import (
	"context"
	"fmt"
	"math"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/source"
	"smeltbook/phase/copper"
	"smeltbook/phase/redox"
	"smeltbook/report/figure"
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
	fig, err := b.windowFigure(groups, cond, windows)
	if err != nil {
		return err
	}
	out.Parts = append(out.Parts, fig, b.windowTable(groups, cond, windows))
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
	out.notices.AddNew(w.Notices)
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

func (b *builder) windowFigure(groups pair, cond redoxConditions, windows map[string]windowOf) (*page.Figure, error) {
	body := &figure.Facing{Bars: "the window; the mark stands in its middle"}
	var heights []float64
	for i, g := range groups {
		body.Pages[i].Group = i
		for _, s := range g.Samples {
			w := windows[s.ID]
			if w.why != "" || w.Contradicted || math.IsInf(w.Low, 0) || math.IsInf(w.High, 0) {
				continue
			}
			body.Pages[i].Marks = append(body.Pages[i].Marks, figure.Mark{Sample: s.ID, Value: (w.Low + w.High) / 2, U: nan,
				Ends: &figure.Ends{Lo: w.Low, Hi: w.High}, Flagged: w.soft(),
				Details: []figure.Detail{{Label: "log fO₂", Value: oneDecimal(w.Low) + " to " + oneDecimal(w.High)},
					{Label: "not lower", Value: w.reason(w.FromLow)}, {Label: "not higher", Value: w.reason(w.FromHigh)}, {Label: "from", Value: whence(s)}}})
			heights = append(heights, w.Low, w.High)
		}
	}
	for _, r := range bufferLines(cond.tc) {
		body.References = append(body.References, r)
		heights = append(heights, r.From)
	}
	body.Axis = axisFor("log fO₂", "bar", heights)
	body.Gutter = medians(groups, body, "", "of the middles")
	return b.figure(figure.Figure{
		Caption: fmt.Sprintf("Window of oxygen potential of each slag at %.0f °C: %s. Bars reach from the lowest to the highest potential that what was seen and analysed allows; the truth may lie anywhere in them. Hollow marks: an end rests on a model outside its range, or on ferric iron, which cooling and weathering change.",
			cond.tc, whoIsShown(body, groups)),
		Alt: fmt.Sprintf("Windows of oxygen potential at %.0f °C for the samples of %s on the left page and of %s on the right, with the lines of iron–wüstite, fayalite–magnetite and copper–cuprite.",
			cond.tc, groups[0].Label(), groups[1].Label()),
		Groups: groups.figureGroups(), Body: body,
	}, page.Facing)
}

// bufferLines are the three buffers that a copper smelt is held against.
func bufferLines(tc float64) []figure.Reference {
	var out []figure.Reference
	for _, x := range []redox.Buffer{redox.IronWustite(), redox.FayaliteMagnetite(), redox.CopperCuprite()} {
		y, _ := x.LogFO2(tc)
		if !math.IsNaN(y) {
			out = append(out, figure.Reference{From: y, To: y, Label: x.Label})
		}
	}
	return out
}
