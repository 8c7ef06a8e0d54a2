package plan

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"smeltbook/assay"
	"smeltbook/phase/charge"
)

// Way is one change that would bring the target within reach, or how far one
// term goes with the others kept.
type Way struct {
	Text    string
	Reached bool
}

// ways says what it would take.
func (p *planner) ways(ctx context.Context, c *assay.Campaign, problem charge.Problem) error {
	list, err := problem.Ways(ctx)
	if err != nil {
		return err
	}
	add := func(reached bool, format string, args ...any) {
		p.Ways = append(p.Ways, Way{fmt.Sprintf(format, args...), reached})
	}
	for _, w := range list {
		switch mixture := p.mixture(w.Solution.Kg, nil); w.Change {
		case charge.EaseTerm:
			t := p.Target[w.Index]
			v := w.Solution.Verdict.Values[w.Index]
			switch {
			case w.Reached && w.Solution.Verdict.Misses[w.Index] > 0:
				add(true, "%s: the nearest with all else kept is %s, by %s", t, termValue(t, v), mixture)
			case !w.Reached:
				add(false, "%s: giving it up would not be enough", t)
			}
		case charge.MoreFlux:
			name := p.Fluxes[w.Index].Material.Name
			if w.Reached {
				add(true, "more %s than the %g kg for a kg of ore that are allowed would do: %s", name, p.Fluxes[w.Index].Bound.Hi, mixture)
			} else {
				add(false, "more %s alone would not do, however much", name)
			}
		case charge.AnyBlend:
			if w.Reached {
				add(true, "another blend of the ores would do: %s", mixture)
			} else {
				add(false, "no other blend of the ores would do with these limits of the fluxes")
			}
		default:
			if w.Reached {
				add(true, "any blend and more flux together would do: %s", mixture)
			} else {
				add(false, "no blend of these ores with any amount of these fluxes meets the target")
			}
		}
	}
	return p.otherFluxes(ctx, c)
}

// otherFluxes tries what else of fluxes the campaign has analysed.
func (p *planner) otherFluxes(ctx context.Context, c *assay.Campaign) error {
	named := func(s *assay.Sample) bool {
		return slices.ContainsFunc(p.Fluxes, func(f Stock) bool { return slices.Contains(f.Samples, s) })
	}
	for _, s := range Own(c, assay.Flux) {
		if named(s) {
			continue
		}
		m, err := Material(s.ID, []*assay.Sample{s})
		if err != nil {
			continue
		}
		extra := Stock{Material: m, Bound: charge.Bound{Lo: 0, Hi: charge.MostFlux}}
		fluxes := append(p.Fluxes[:len(p.Fluxes):len(p.Fluxes)], extra)
		trials, err := p.charged(fluxes)
		if err != nil {
			continue
		}
		found, err := p.problem(trials, fluxes).Solve(ctx)
		if err != nil {
			return err
		}
		if found.Verdict.Met() {
			p.Ways = append(p.Ways, Way{fmt.Sprintf("%s beside them would do: %s", s.ID, p.mixture(found.Kg, &extra)), true})
		}
	}
	return nil
}

// mixture says a mixture in words, for a batch.
func (p *planner) mixture(kg []float64, extra *Stock) string {
	stocks := append(p.Ores[:len(p.Ores):len(p.Ores)], p.Fluxes...)
	if extra != nil {
		stocks = append(stocks, *extra)
	}
	var parts []string
	for i, x := range kg {
		if x > 0.0005 {
			parts = append(parts, fmt.Sprintf("%.2f kg %s", x, stocks[i].Material.Name))
		}
	}
	return strings.Join(parts, " + ") + " for a kg of ore"
}

// termValue prints a value of a term with its unit.
func termValue(t charge.Term, x float64) string {
	unit := t.Unit()
	if unit != "" {
		unit = " " + unit
	}
	return Figure(t, x) + unit
}

// Figure prints a value of a term to the places that matter: whole degrees, two
// figures of a viscosity.
func Figure(t charge.Term, x float64) string {
	switch {
	case math.IsNaN(x):
		return "none"
	case t.Of == charge.Liquidus:
		return fmt.Sprintf("%.0f", x)
	case t.Of == charge.Viscosity:
		return fmt.Sprintf("%.*f", max(1-int(math.Floor(math.Log10(x))), 0), x)
	case t.Of == charge.Content:
		return fmt.Sprintf("%.1f", x)
	}
	return fmt.Sprintf("%.2f", x)
}
