package report

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/logratio/effects"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
)

type effectsOptions struct {
	Group    string   // slag whose pieces are the results
	Settings []string // columns of the field sheet, sums of them over another, ore grade
	Outcomes []string // balances, variables, copper yield
	Prior    *float64 // effect of one step to be expected, in scatters between like firings
	Firings  *float64 // to plan; 0 for none
	Levels   map[string][]float64
}

// effectsUsed says what an effects entry rested on, for the methods.
type effectsUsed struct {
	prior    effects.Prior
	firings  int
	settings []string
}

// effectsOf is what an effects entry shows.
type effectsOf struct {
	runs     []assay.Run
	settings []effects.Setting
	outcomes []outcomeOf
	fits     []effects.Fit
}

// effectsEntry asks what moved the slag from firing to firing, and what to fire
// next to learn most.
func effectsEntry(ctx context.Context, b *builder, e *notebook.Entry, out *page.Entry) error {
	var o effectsOptions
	if !b.options(e, &o) {
		return nil
	}
	gs, ok := b.groups(e, []string{o.Group})
	if !ok {
		return nil
	}
	a := assumer{b: b, e: e}
	prior := effects.DefaultPrior
	prior.Tau = a.number("prior", o.Prior, prior.Tau, 0.01, 100, "scatters between like firings")
	planned := a.number("firings", o.Firings, 3, 0, 20, "to plan")
	if a.failed {
		return nil
	}
	x, ok := b.effectsData(e, gs[0], o, &a)
	if !ok {
		return nil
	}
	for _, y := range x.outcomes {
		fit, err := effects.FitOutcome(x.settings, y.Outcome, prior)
		if err != nil {
			b.lack(e, "NO_EFFECTS", "%v", err)
			return nil
		}
		x.fits = append(x.fits, fit)
	}
	used := effectsUsed{prior: prior, firings: len(x.runs)}
	for _, s := range x.settings {
		used.settings = append(used.settings, s.Name)
	}
	b.effects = append(b.effects, used)
	fig, err := b.effectsFigure(x)
	if err != nil {
		return err
	}
	out.Parts = append(out.Parts, effectsText(x), fig, b.effectsTable(x), b.firingsTable(x))
	if n := int(math.Round(planned)); n > 0 {
		parts, ok, err := b.planParts(ctx, e, x, o.Levels, prior, n)
		if err != nil || !ok {
			return err
		}
		out.Parts = append(out.Parts, parts...)
	}
	out.Parts = append(out.Parts, a.parts()...)
	out.Margin = append(b.margin(gs), fmt.Sprintf("%d firings with pieces of %s.", len(x.runs), gs[0].Name))
	return nil
}

// effectsData gathers the firings that have pieces of the group.
func (b *builder) effectsData(e *notebook.Entry, g assay.Group, o effectsOptions, a *assumer) (effectsOf, bool) {
	var x effectsOf
	for _, r := range b.study.Campaign.Runs {
		if slices.ContainsFunc(g.Samples, func(s *assay.Sample) bool { return s.Run == r.ID }) {
			x.runs = append(x.runs, r)
		}
	}
	if len(x.runs) < 3 {
		b.lack(e, "TOO_FEW_FIRINGS", "%s with pieces of %s in the field sheets; effects need three or more", counted(len(x.runs), "firing"), g.Name)
		return x, false
	}
	names := o.Settings
	if len(names) == 0 {
		names = b.availableSettings(x.runs)
		a.assume("settings", "settings "+strings.Join(names, ", "))
	}
	for _, name := range names {
		s, err := b.settingOf(name, x.runs)
		if err != nil {
			b.fail(e, "UNKNOWN_SETTING", "settings: %v", err)
			return x, false
		}
		x.settings = append(x.settings, s)
	}
	var ok bool
	if x.outcomes, ok = b.outcomes(e, g, x.runs, o.Outcomes); !ok {
		return x, false
	}
	return x, true
}

// availableSettings are the usual ones that the field sheet has; flux counts
// once.
func (b *builder) availableSettings(runs []assay.Run) []string {
	var out []string
	for _, name := range usualSettings {
		if strings.HasPrefix(name, "Flux") && slices.ContainsFunc(out, func(n string) bool { return strings.HasPrefix(n, "Flux") }) {
			continue
		}
		if s, err := b.settingOf(name, runs); err == nil && !slices.ContainsFunc(s.Values, math.IsNaN) {
			out = append(out, name)
		}
	}
	return out
}
