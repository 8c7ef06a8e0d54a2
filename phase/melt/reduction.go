package melt

import (
	"errors"
	"fmt"
	"math"

	"smeltbook/phase/slag"
)

// Reduction is a recipe by which a slag of many oxides is brought to three, so
// that it has a place in a published diagram. All iron counts as FeO first.
type Reduction struct {
	Name    string
	Corners [3]slag.Oxide
	// Into tells to which corner an oxide is counted, weight for weight. Corners
	// count to themselves; oxides that are not listed are left out.
	Into map[slag.Oxide]slag.Oxide
}

// ErrNoCorner tells that a melt holds nothing that a recipe counts.
var ErrNoCorner = errors.New("the melt holds none of the oxides that the recipe counts")

// StandardReductions returns the recipes of this package. Names and selection
// are our own; each is a way of counting met in publications (common
// practice). What they share is that they change the melt: their spread is the
// price of a flat diagram.
func StandardReductions() []Reduction {
	core := [3]slag.Oxide{slag.SiO2, slag.FeO, slag.CaO}
	bases := map[slag.Oxide]slag.Oxide{slag.MgO: slag.CaO, slag.BaO: slag.CaO, slag.SrO: slag.CaO, slag.K2O: slag.CaO, slag.Na2O: slag.CaO, slag.Li2O: slag.CaO}
	acids := map[slag.Oxide]slag.Oxide{slag.Al2O3: slag.SiO2, slag.TiO2: slag.SiO2, slag.P2O5: slag.SiO2}
	metals := map[slag.Oxide]slag.Oxide{slag.MnO: slag.FeO, slag.ZnO: slag.FeO}
	all := map[slag.Oxide]slag.Oxide{}
	for _, part := range []map[slag.Oxide]slag.Oxide{bases, acids, metals} {
		for o, c := range part {
			all[o] = c
		}
	}
	return []Reduction{
		{"plain", core, nil},
		{"bases to lime", core, bases},
		{"alumina to silica", core, acids},
		{"manganese to iron", core, metals},
		{"everything to the nearest kind", core, all},
		{"lime, magnesia and alumina in one corner", core, map[slag.Oxide]slag.Oxide{slag.MgO: slag.CaO, slag.Al2O3: slag.CaO}},
		{"plain, with alumina for lime", [3]slag.Oxide{slag.SiO2, slag.FeO, slag.Al2O3}, nil},
	}
}

// check refuses recipes that contradict themselves.
func (r *Reduction) check() error {
	isCorner := func(o slag.Oxide) bool { return o == r.Corners[0] || o == r.Corners[1] || o == r.Corners[2] }
	s := Section{A: r.Corners[0], B: r.Corners[1], C: r.Corners[2]}
	if err := s.check(); err != nil {
		return fmt.Errorf("reduction %q: %w", r.Name, err)
	}
	for o, c := range r.Into {
		if !isCorner(c) || isCorner(o) && o != c {
			return fmt.Errorf("reduction %q: %v cannot be counted to %v", r.Name, o, c)
		}
	}
	return nil
}

// Apply returns the melt brought to the three corners, in wt% with the sum
// 100, and the share of the analysis that was counted, 0 to 1.
func (r *Reduction) Apply(w slag.Wt) (reduced slag.Wt, covered float64, err error) {
	if err := checkMelt(w); err != nil {
		return slag.Wt{}, 0, err
	}
	if err := r.check(); err != nil {
		return slag.Wt{}, 0, err
	}
	w = w.AllFeO().Normalise()
	for _, c := range r.Corners {
		reduced[c] = w[c]
	}
	// In the order of the oxides: sums in the order of a map would differ in
	// their last bits from run to run.
	for o := range slag.NumOxides {
		if c, counted := r.Into[o]; counted && o != c {
			reduced[c] += w[o]
		}
	}
	for _, c := range r.Corners {
		covered += reduced[c] / 100
	}
	if covered <= 0 {
		return slag.Wt{}, 0, ErrNoCorner
	}
	return reduced.Normalise(), covered, nil
}

// Reduced is a melt under one recipe.
type Reduced struct {
	Reduction
	Wt       slag.Wt // the three corners, wt%
	Covered  float64 // share of the analysis that was counted, 0 to 1
	Liquidus Liquidus
	OffC     float64 // °C, its liquidus less that of the full composition
	Err      error   // why there is no liquidus; the other fields are then without meaning
}

// ReductionSpread sets recipes side by side with the full composition.
type ReductionSpread struct {
	Full  Liquidus
	List  []Reduced // in the order of the recipes
	LowC  float64   // °C, lowest liquidus among the recipes; NaN where none has one
	HighC float64   // °C, highest
	Range float64   // °C, between them
}

// Reductions computes the liquidus of w under each recipe; without recipes,
// under StandardReductions. It fails where the full composition has no
// liquidus.
func (m *Model) Reductions(w slag.Wt, recipes ...Reduction) (ReductionSpread, error) {
	full, err := m.Liquidus(w)
	if err != nil {
		return ReductionSpread{}, err
	}
	if len(recipes) == 0 {
		recipes = StandardReductions()
	}
	out := ReductionSpread{Full: full, LowC: math.NaN(), HighC: math.NaN(), Range: math.NaN()}
	for _, r := range recipes {
		d := Reduced{Reduction: r}
		if d.Wt, d.Covered, d.Err = r.Apply(w); d.Err == nil {
			d.Liquidus, d.Err = m.Liquidus(d.Wt)
		}
		if d.Err == nil {
			tc := d.Liquidus.TC
			d.OffC = tc - full.TC
			if !(tc >= out.LowC) {
				out.LowC = tc
			}
			if !(tc <= out.HighC) {
				out.HighC = tc
			}
			out.Range = out.HighC - out.LowC
		}
		out.List = append(out.List, d)
	}
	return out, nil
}
