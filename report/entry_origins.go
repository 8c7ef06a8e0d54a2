package report

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/balance"
	"smeltbook/assay/source"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
)

// unmixedUsed says what an origins entry rested on, for the methods.
type unmixedUsed struct {
	model   float64 // relative
	choices []balance.Tracers
}

// originKinds are the sources of a slag in the order in which they are stacked.
var originKinds = []string{assay.Ore, assay.Flux, assay.Lining, assay.Ash, "sand"}

type originsOptions struct {
	Groups []string
	Ore    string   // groups of the sources, for slags whose firing the field sheet does not have
	Flux   []string // none, one or several
	Lining []string // that of each group of slag, or one for both
	Ash    string
	Sand   bool
	Model  *float64 // %, by which mixing itself fails
	By     string   // choice of tracers drawn
}

// unmixedSlag is a slag unmixed by every choice of tracers.
type unmixedSlag struct {
	sample *assay.Sample
	ends   []balance.End
	from   string // "charge of KR-F1", "sources named here"
	by     []unmixedBy
	weighs map[string]float64 // share of each kind by the weights of the firing; nil where unknown
	why    string
}

type unmixedBy struct {
	balance.Tracers
	balance.Unmixed
	why string
}

// chosen returns the result by the tracers drawn.
func (u unmixedSlag) chosen(name string) (unmixedBy, bool) {
	for _, x := range u.by {
		if x.Name == name && x.why == "" {
			return x, true
		}
	}
	return unmixedBy{}, false
}

// originsEntry says what each slag is made of.
func originsEntry(_ context.Context, b *builder, e *notebook.Entry, out *page.Entry) error {
	var o originsOptions
	if !b.options(e, &o) {
		return nil
	}
	groups, ok := b.facing(e, o.Groups)
	if !ok {
		return nil
	}
	named, ok := b.namedEnds(e, o)
	if !ok {
		return nil
	}
	a := assumer{b: b, e: e}
	model := a.number("model", o.Model, 100*balance.UsualModel, 0, 50, "%") / 100
	if a.failed {
		return nil
	}
	var told sampleNotices
	used := unmixedUsed{model: model}
	slags := map[string]unmixedSlag{}
	for i, g := range groups {
		for _, s := range g.Samples {
			u, ns := b.unmix(s, named[i], model)
			told.add(s.ID, ns)
			slags[s.ID] = u
			for _, x := range u.by {
				if !slices.ContainsFunc(used.choices, func(t balance.Tracers) bool { return t.Name == x.Name }) {
					used.choices = append(used.choices, x.Tracers)
				}
			}
		}
	}
	var names []string
	for _, c := range used.choices {
		names = append(names, c.Name)
	}
	by := o.By
	if by == "" {
		if by = defaultTracers; len(names) > 0 && !slices.Contains(names, by) {
			by = names[0] // the analyses lack an oxide of the usual choice
		}
		a.assume("by", "by: "+by)
	}
	if len(names) > 0 && !slices.Contains(names, by) {
		b.fail(e, "UNKNOWN_TRACERS", "there is no choice of tracers %q here%s; by: is one of %s", by, source.DidYouMean(by, names), strings.Join(names, ", "))
		return nil
	}
	fig, err := b.originsFigure(groups, slags, by)
	if err != nil {
		return err
	}
	out.Parts = append(out.Parts, fig, b.originsTable(groups, slags, by), b.choicesTable(groups, slags))
	out.Parts = append(out.Parts, a.parts()...)
	if list := told.list(len(slags)); len(list) > 0 {
		out.Parts = append(out.Parts, &page.Notices{List: list})
	}
	b.unmixed = append(b.unmixed, used)
	out.Margin = append(b.margin(groups[:]), "Basis: oxides without copper, sulphur and volatiles, iron as FeO, summing to 100")
	return nil
}

// defaultTracers is the choice drawn where the notebook names none.
const defaultTracers = "without alkalis and phosphorus"

// namedEnds makes the sources that the notebook names, for either page.
func (b *builder) namedEnds(e *notebook.Entry, o originsOptions) (ends [2][]balance.End, ok bool) {
	if len(o.Lining) > 2 {
		b.fail(e, "TOO_MANY_LININGS", "lining: takes one group, or one for each page, not %d", len(o.Lining))
		return ends, false
	}
	add := func(page int, name, kind string) bool {
		if name == "" {
			return true
		}
		gs, ok := b.groups(e, []string{name})
		if !ok {
			return false
		}
		c, err := balance.MeanComposition(complete(gs[0].Samples))
		if err != nil {
			b.lack(e, "SOURCE_WITHOUT_ASSAYS", "the group %q cannot be a source: no sample of it has a complete analysis", name)
			return false
		}
		ends[page] = append(ends[page], balance.End{Name: name, Kind: kind, Composition: c})
		return true
	}
	for i := range ends {
		lining := ""
		if len(o.Lining) > 0 {
			lining = o.Lining[min(i, len(o.Lining)-1)]
		}
		ok = add(i, o.Ore, assay.Ore)
		for _, f := range o.Flux {
			ok = ok && add(i, f, assay.Flux)
		}
		if !ok || !add(i, lining, assay.Lining) || !add(i, o.Ash, assay.Ash) {
			return ends, false
		}
		if o.Sand {
			sand, err := balance.Sand()
			if err != nil {
				b.lack(e, "SAND", "%v", err)
				return ends, false
			}
			ends[i] = append(ends[i], sand)
		}
	}
	return ends, true
}

func complete(samples []*assay.Sample) []*assay.Sample {
	return slices.DeleteFunc(slices.Clone(samples), func(s *assay.Sample) bool { return s.Incomplete != "" || len(s.Assays) == 0 })
}

// unmix unmixes one slag: into the charge of its firing where the field sheet
// has it, else into the sources named.
func (b *builder) unmix(s *assay.Sample, named []balance.End, model float64) (unmixedSlag, source.Notices) {
	u := unmixedSlag{sample: s, ends: named, from: "sources named here"}
	var ns source.Notices
	if s.Incomplete != "" {
		u.why = s.Incomplete
		return u, ns
	}
	if r, ok := b.study.Campaign.Run(s.Run); ok {
		if f, _, ok := balance.FromRun(b.study.Campaign, r); ok {
			u.fromFiring(f, f.Materials(b.study.Campaign), named, b.study.Conditions.Draws, b.study.Conditions.Seed)
		}
	}
	if len(u.ends) < 2 {
		u.why = "fewer than two sources are known: name an ore and others in the notebook, or weigh the charge of its firing"
	} else {
		for _, t := range balance.Choices(balance.CommonOxides(s.AsReported, u.ends)) {
			x := unmixedBy{Tracers: t}
			var err error
			x.Unmixed, err = balance.Unmix(s.AsReported, u.ends, balance.Unmixing{Oxides: t.Oxides, Model: model, Draws: b.study.Conditions.Draws, Seed: b.study.Conditions.Seed})
			if err != nil {
				x.why = err.Error()
			}
			u.by = append(u.by, x)
		}
		u.why = whyNone(u.by)
	}
	if u.why != "" {
		ns.Add(source.Warning, "NOT_UNMIXED", s.At, "not unmixed: %s", u.why)
	}
	return u, u.remarks(ns)
}

// fromFiring takes the sources from what was charged; sand only where it is
// named.
func (u *unmixedSlag) fromFiring(f balance.Firing, charge []balance.Material, named []balance.End, draws int, seed uint64) {
	u.from, u.ends, u.weighs = "charge of "+f.Name, nil, map[string]float64{}
	for _, m := range charge {
		u.ends = append(u.ends, balance.End{Name: m.Name, Kind: m.Kind, Composition: m.Composition})
	}
	for _, e := range named {
		if e.Kind == "sand" {
			u.ends = append(u.ends, e)
		}
	}
	how := balance.Usual()
	how.Draws, how.Seed = draws, seed
	fc, err := balance.Predict(charge, how)
	if err != nil {
		u.weighs = nil
		return
	}
	for _, s := range fc.Sources {
		u.weighs[s.Kind] += s.Share.Value
	}
}

// whyNone says why no choice of tracers worked; empty where one did.
func whyNone(by []unmixedBy) string {
	why := "slag and sources have no oxide in common"
	for _, x := range by {
		if x.why == "" {
			return ""
		}
		why = x.why
	}
	return why
}

// remarks adds what is to be said of a slag that was unmixed.
func (u unmixedSlag) remarks(ns source.Notices) source.Notices {
	for _, x := range u.by {
		if x.why != "" {
			continue
		}
		for _, s := range x.Shares {
			if len(s.Ends) > 1 {
				ns.Add(source.Note, "SOURCES_ALIKE", source.Cell{}, "%s cannot be told apart by the tracers “%s” (condition number %.0f) and stand as one", s.Name, x.Name, x.Condition)
			}
		}
		if x.P < 0.01 {
			ns.Add(source.Warning, "MIXTURE_MISSES", source.Cell{}, "by the tracers “%s” no mixture of the sources gives the slag within the uncertainties: something left it, or came from a source that is not named; the intervals are widened", x.Name)
		}
	}
	return ns
}

func endOf(kind string) func(balance.End) bool {
	return func(e balance.End) bool { return e.Kind == kind }
}

// kindShare is the share of a kind of source by one choice of tracers, with its
// 95 % ends; ok is false where the kind is no source, or stands merged with
// another.
func (u unmixedSlag) kindShare(x unmixedBy, kind string) (value, low, high float64, ok bool) {
	for _, s := range x.Shares {
		same := !slices.ContainsFunc(s.Ends, func(k int) bool { return u.ends[k].Kind != kind })
		if !same {
			continue
		}
		// Of several sources of a kind the ends add up to bounds.
		value, low, high, ok = value+s.Share.Value, low+s.Low, math.Min(high+s.High, 1), true
	}
	return value, low, high, ok
}

// mergedShare is what stands merged over several kinds.
func (u unmixedSlag) mergedShare(x unmixedBy) (value float64, kinds []string) {
	for _, s := range x.Shares {
		var own []string
		for _, k := range s.Ends {
			if kind := u.ends[k].Kind; !slices.Contains(own, kind) {
				own = append(own, kind)
			}
		}
		if len(own) > 1 {
			value += s.Share.Value
			kinds = append(kinds, fmt.Sprintf("%s %.0f %%", strings.Join(own, " and "), 100*s.Share.Value))
		}
	}
	return value, kinds
}
