package melt

import (
	"fmt"
	"math"

	"smeltbook/assay/source"
	"smeltbook/phase/slag"
)

// Activity is the activity of one oxide in a melt, of its whole formula: Al2O3
// and not AlO1.5.
type Activity struct {
	Oxide slag.Oxide
	// Liquid is relative to the pure liquid oxide at the temperature, supercooled
	// if need be. It is the value meant where no state is named.
	Liquid float64
	// Solid is relative to the pure solid oxide in the form stable at the
	// temperature, superheated if need be; NaN where the model has no such solid.
	// At 1 the melt is saturated with it.
	Solid float64
	Form  Phase // of the solid; empty without one
}

// Activities is a melt at one temperature.
type Activities struct {
	TC   float64    // °C
	List []Activity // oxides of the melt, in the order of the model

	SilicaSaturated  bool // with tridymite or cristobalite
	WustiteSaturated bool // with wüstite as it would form, MgO, MnO and CaO dissolved in it
	LiquidusC        float64
	Molten           bool // at or above the liquidus

	Notices source.Notices
}

// Of returns the activity of one oxide; ok is false where the melt lacks it.
func (a *Activities) Of(o slag.Oxide) (Activity, bool) {
	for _, x := range a.List {
		if x.Oxide == o {
			return x, true
		}
	}
	return Activity{}, false
}

// Activities returns the activities of the oxides in the melt w at tc (°C),
// between 427 and 2927 °C. Iron and the oxides unknown to the model are treated
// as in Liquidus. Below the liquidus the values are those of the supercooled
// melt, as if nothing had frozen; for the rest liquid beside its solids give
// Solidify(w).At(tc).Melt instead of w.
//
// The energies were fitted to liquidus temperatures and not to activities;
// only where a solid oxide is on the liquidus are they held directly.
func (m *Model) Activities(w slag.Wt, tc float64) (Activities, error) {
	T := tc + celsius
	if !(T >= coldest && T <= hottest) {
		return Activities{}, fmt.Errorf("activities are computed from %.0f to %.0f °C, not at %g °C", coldest-celsius, hottest-celsius, tc)
	}
	l, err := m.Liquidus(w)
	if err != nil {
		return Activities{}, err
	}
	whole := m.frozen(&w)
	x, _ := cationFractions(whole)
	var s search
	s.start(m, &x)
	s.at(T)
	out := Activities{TC: tc, LiquidusC: l.TC, Molten: tc >= l.TC, Notices: l.Notices}
	for _, o := range modelled {
		if x[o.cation] <= 0 || whole[o.oxide] <= 0 {
			continue
		}
		a := Activity{Oxide: o.oxide, Liquid: math.Exp(o.cations * s.lna[o.cation]), Solid: math.NaN()}
		if best, form := s.pureSolid(o.cation, T); best > lacking {
			a.Solid, a.Form = math.Exp(o.cations*best), form
		}
		out.List = append(out.List, a)
	}
	for _, i := range s.solids[:s.nSolids] {
		saturated := s.supersaturation(i, T, lacking) >= 0
		phase := m.solids[i].phase
		out.SilicaSaturated = out.SilicaSaturated || saturated && phase.silica()
		out.WustiteSaturated = out.WustiteSaturated || saturated && phase == Wustite
	}
	if !out.Molten {
		out.Notices.Add(source.Warning, "ACTIVITIES_BELOW_LIQUIDUS", source.Cell{}, "at %.0f °C, below the liquidus of %.0f °C, the activities are those of a supercooled melt in which nothing has frozen", tc, l.TC)
	}
	return out, nil
}

// pureSolid returns the greatest ln a of a one-cation unit on the scale of a
// solid of that cation alone, which is that of the stable form, and its phase.
// The ferric end member of wüstite is no oxide that exists for itself.
func (s *search) pureSolid(c component, T float64) (best float64, form Phase) {
	best = lacking
	for i := range s.m.solids {
		d := &s.m.solids[i]
		if d.mixing != pure && d.mixing != wustites {
			continue
		}
		for _, e := range d.at {
			member := &s.m.members[e]
			if member.cats != 1 || member.which[0] != c || d.mixing == wustites && charge[c] != 2 {
				continue
			}
			if v := (s.a[e] + member.transitionGain(T)) / member.count[0]; v > best {
				best, form = v, d.phase
			}
		}
	}
	return best, form
}
