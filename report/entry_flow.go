package report

import (
	"context"
	"fmt"

	"smeltbook/assay"
	"smeltbook/assay/source"
	"smeltbook/phase/flow"
	"smeltbook/report/figure"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
	"smeltbook/report/study"
)

// flowConditions are those an entry was computed for.
type flowConditions struct {
	tc          float64    // °C
	model       flow.Model // nil: by composition
	reach       float64    // Pa·s
	depth, time float64    // mm, min
}

// Assumed where the notebook states none (our convention): a slag that pours
// like honey is at some 1 to 10 Pa·s, and the depth and the time are those of
// a bowl furnace's slag towards the end of a firing.
const (
	defaultReach = 1.0  // Pa·s
	defaultDepth = 50.0 // mm
	defaultTime  = 30.0 // min
)

// flowEntry shows how stiff the slags were and what sank through them.
func flowEntry(_ context.Context, b *builder, e *notebook.Entry, out *page.Entry) error {
	var o struct {
		Groups []string
		At     *float64 // °C
		Model  string   // key of a model; chosen by composition when empty
		Reach  *float64 // Pa·s
		Depth  *float64 // mm
		Time   *float64 // min
	}
	if !b.options(e, &o) {
		return nil
	}
	groups, ok := b.facing(e, o.Groups)
	if !ok {
		return nil
	}
	a := assumer{b: b, e: e}
	cond := flowConditions{
		tc:    a.number("at", o.At, study.DefaultTC, 900, 1700, "°C"),
		reach: a.number("reach", o.Reach, defaultReach, 1e-3, 1e6, "Pa·s"),
		depth: a.number("depth", o.Depth, defaultDepth, 1, 2000, "mm"),
		time:  a.number("time", o.Time, defaultTime, 0.1, 1e5, "min"),
	}
	if o.Model != "" {
		m, err := flow.ByKey(o.Model)
		if err != nil {
			b.fail(e, "UNKNOWN_MODEL", "model: %v", err)
			return nil
		}
		cond.model = m
	}
	if a.failed {
		return nil
	}
	b.flowAt = append(b.flowAt, cond)
	melts := b.flows(groups, cond)
	fig, err := b.viscosityFigure(groups, cond, melts)
	if err != nil {
		return err
	}
	curves, err := b.curvesFigure(groups, cond, melts)
	if err != nil {
		return err
	}
	out.Parts = append(out.Parts, fig, curves, b.flowTable(groups, cond, melts), b.modelsTable(groups, cond, melts))
	out.Parts = append(out.Parts, a.parts()...)
	if told := flowNotices(groups, melts); len(told) > 0 {
		out.Parts = append(out.Parts, &page.Notices{List: told})
	}
	out.Margin = append(b.margin(groups[:]), "Viscosity: within a factor of two at best", liquidOnly(b.study))
	return nil
}

func liquidOnly(s *study.Study) string {
	if s.CountsCrystals() {
		return "Viscosity of the liquid with its crystals"
	}
	return "Viscosity of the liquid alone: crystals are left aside"
}

// flowing is a sample's slag ready to be asked, or why it is not.
type flowing struct {
	slag    *flow.Slag
	compare []flow.Answer
	density [2]flow.Property
	at      flow.Viscosity
	why     string // why there is no viscosity
	notices source.Notices
}

// flows prepares the slags of both pages.
func (b *builder) flows(groups pair, cond flowConditions) map[string]flowing {
	out := map[string]flowing{}
	for _, g := range groups {
		for _, s := range g.Samples {
			out[s.ID] = b.flowOf(s, cond)
		}
	}
	return out
}

func (b *builder) flowOf(s *assay.Sample, cond flowConditions) flowing {
	est, why, ok := b.study.Estimate(s.ID)
	if !ok {
		return flowing{why: why}
	}
	w := est.Melt.Wt
	f := flowing{compare: flow.Compare(w, cond.tc), density: [2]flow.Property{flow.Density(w, cond.tc), flow.DensityLangeCarmichael(w, cond.tc)}}
	var err error
	if f.slag, err = flow.New(w, flow.Settings{Model: cond.model, Crystals: b.study.Crystals(s.ID)}); err != nil {
		f.why = err.Error()
		return f
	}
	if f.at, err = f.slag.At(cond.tc); err != nil {
		f.why = err.Error()
	}
	f.notices.Add(source.Note, "VISCOSITY_MODEL", source.Cell{}, "%s: %s", f.slag.Model.Name(), f.slag.Reason)
	f.notices.AddNew(f.at.Notices)
	if l := est.Liquidus; b.study.Crystals(s.ID) == nil && l.Known() && cond.tc < l.Value {
		f.notices.Add(source.Warning, "VISCOSITY_BELOW_LIQUIDUS", source.Cell{},
			"below the liquidus of %.0f °C the slag held crystals, which are left aside here: it was stiffer than its liquid", l.Value)
	}
	for _, d := range f.density {
		f.notices.AddNew(d.Notices)
	}
	return f
}

// outside reports whether a model warned of its range.
func outside(ns source.Notices) bool {
	for _, n := range ns {
		if n.Severity == source.Warning {
			return true
		}
	}
	return false
}

func (b *builder) viscosityFigure(groups pair, cond flowConditions, melts map[string]flowing) (*page.Figure, error) {
	body := &figure.Facing{Bars: fmt.Sprintf("within a factor of %g", flow.Band)}
	var heights []float64
	for i, g := range groups {
		body.Pages[i].Group = i
		for _, s := range g.Samples {
			f := melts[s.ID]
			if f.why != "" {
				continue
			}
			body.Pages[i].Marks = append(body.Pages[i].Marks, figure.Mark{Sample: s.ID, Value: f.at.Eta, U: nan,
				Ends: &figure.Ends{Lo: f.at.Lo, Hi: f.at.Hi}, Flagged: outside(f.at.Notices),
				Details: []figure.Detail{{Label: "viscosity", Value: short(f.at.Eta) + " Pa·s"}, {Label: "within", Value: shortSpan(f.at.Lo, f.at.Hi) + " Pa·s"},
					{Label: "model", Value: f.slag.Model.Name()}, {Label: "from", Value: whence(s)}}})
			heights = append(heights, f.at.Lo, f.at.Hi)
		}
	}
	body.Axis = logAxisFor("viscosity", "Pa·s", heights)
	v, err := b.flowVariable(cond, melts)
	if err != nil {
		return nil, err
	}
	body.Gutter = factorGutter(v, groups)
	return b.figure(figure.Figure{
		Caption: fmt.Sprintf("Viscosity at %.0f °C: %s. %s. Bars reach a factor of %g either way, which no model betters on such slags; hollow marks lie outside the model's range. Between the pages stand geometric means, with the scatter and, once, the error of the model, and their ratio: its lower ×/÷ is as if the model erred alike in both groups, its upper takes its errors as independent.",
			cond.tc, whoIsShown(body, groups), liquidOnly(b.study), flow.Band),
		Alt: fmt.Sprintf("Viscosities at %.0f °C of %s on the left page and of %s on the right, on a logarithmic scale in pascal seconds, each with a bar of a factor of two.",
			cond.tc, groups[0].Label(), groups[1].Label()),
		Groups: groups.figureGroups(), Body: body,
	}, page.Facing)
}

// flowNotices gathers what is to be said of all slags of an entry.
func flowNotices(groups pair, melts map[string]flowing) source.Notices {
	var told sampleNotices
	total := 0
	for _, g := range groups {
		for _, s := range g.Samples {
			f := melts[s.ID]
			if f.why != "" {
				told.add(s.ID, source.Notices{{Severity: source.Warning, Code: "NO_VISCOSITY", Message: "no viscosity: " + f.why}})
			}
			if f.slag != nil {
				total++
			}
			told.add(s.ID, f.notices)
		}
	}
	return told.list(total)
}
