package charge

import (
	"context"
	"math"
	"slices"

	"smeltbook/phase/slag"
)

// Change is one thing that could be given up or had to bring a target within
// reach.
type Change string

const (
	EaseTerm  Change = "ease_term"   // another value of a term, the others kept
	MoreFlux  Change = "more_flux"   // more of a flux than its limit
	AnyBlend  Change = "any_blend"   // any blend of the ores
	AnyAmount Change = "any_amounts" // any blend of the ores and any amount of the fluxes
)

// MostFlux is the kg of a flux for a kilogram of ore that is still a charge: a
// mixture with more is no longer one of that ore (our convention).
const MostFlux = 3.0

// Way is what one change leads to.
type Way struct {
	Change   Change
	Index    int // of the term or flux
	Solution Solution
	// Reached tells that the target is met so; of an eased term, that all the
	// other terms are, with the term at Solution.Verdict.Values[Index] at best.
	Reached bool
}

// Ways tells what it would take where Solve finds no mixture: for each term the
// best value with all others kept, and whether wider limits would do.
func (p Problem) Ways(ctx context.Context) ([]Way, error) {
	var out []Way
	add := func(change Change, index int, q Problem) error {
		s, err := q.Solve(ctx)
		if err != nil {
			return err
		}
		s.Verdict = Judge(p.Model, s.Wt, p.Target)
		w := Way{Change: change, Index: index, Solution: s, Reached: s.Verdict.Met()}
		if change == EaseTerm {
			w.Reached = true
			for i, m := range s.Verdict.Misses {
				w.Reached = w.Reached && (i == index || m <= tolerance)
			}
		}
		out = append(out, w)
		return nil
	}
	for i := range p.Target {
		if err := add(EaseTerm, i, p.easing(i)); err != nil {
			return nil, err
		}
	}
	for i, b := range p.Fluxes {
		if b.Hi < MostFlux {
			q := p
			q.Fluxes = slices.Clone(p.Fluxes)
			q.Fluxes[i].Hi = MostFlux
			if err := add(MoreFlux, i, q); err != nil {
				return nil, err
			}
		}
	}
	wide := p
	wide.Ores = make([]Bound, len(p.Ores))
	for i := range wide.Ores {
		wide.Ores[i] = Bound{0, 1}
	}
	if len(p.Ores) > 1 && !slices.Equal(wide.Ores, p.Ores) {
		if err := add(AnyBlend, 0, wide); err != nil {
			return nil, err
		}
	}
	wide.Fluxes = make([]Bound, len(p.Fluxes))
	for i := range wide.Fluxes {
		wide.Fluxes[i] = Bound{0, MostFlux}
	}
	if len(p.Fluxes) > 0 && !slices.ContainsFunc(out, func(w Way) bool { return w.Change != EaseTerm && w.Reached }) {
		if err := add(AnyAmount, 0, wide); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// easing is the problem without a term, in which that term is brought as near
// as the others allow.
func (p Problem) easing(i int) Problem {
	eased := p.Target[i : i+1]
	q := p
	q.Target = slices.Delete(slices.Clone(p.Target), i, i+1)
	q.Slag = func(kg []float64) (slag.Wt, float64, error) {
		w, _, err := p.Slag(kg)
		if err != nil {
			return w, 0, err
		}
		return w, math.Max(Judge(p.Model, w, eased).Worst, 0), nil
	}
	return q
}
