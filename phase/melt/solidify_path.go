package melt

import (
	"math"
	"slices"
)

// At returns the state at tc (°C), between the steps by straight lines in the
// masses, so that every oxide is conserved. Above the liquidus all is liquid,
// below the last step the last state stands. Where two steps have one
// temperature, the one with more liquid counts.
func (p *Path) At(tc float64) State {
	n := len(p.Steps)
	i, _ := slices.BinarySearchFunc(p.Steps, tc, func(s State, t float64) int {
		if s.TC > t {
			return -1
		}
		return 1
	})
	// Step i is the first that is not hotter than tc.
	switch {
	case i < n && p.Steps[i].TC == tc:
		return p.Steps[i].clone()
	case i == 0:
		s := State{TC: tc, Liquid: 1, Melt: p.Whole}
		return s
	case i == n:
		s := p.Steps[n-1].clone()
		s.TC = tc
		return s
	}
	return mixed2(&p.Steps[i-1], &p.Steps[i], tc)
}

// FractionLiquid returns the mass fraction of liquid at tc (°C), 0 to 1; see At.
func (p *Path) FractionLiquid(tc float64) float64 {
	n := len(p.Steps)
	switch i := slices.IndexFunc(p.Steps, func(s State) bool { return s.TC <= tc }); {
	case i == 0 && p.Steps[0].TC < tc:
		return 1
	case i < 0:
		return p.Steps[n-1].Liquid
	case p.Steps[i].TC == tc:
		return p.Steps[i].Liquid
	default:
		a, b := &p.Steps[i-1], &p.Steps[i]
		f := (a.TC - tc) / (a.TC - b.TC)
		return a.Liquid + f*(b.Liquid-a.Liquid)
	}
}

// MoltenC returns the temperature, in °C, at which a mass fraction of the melt
// is liquid, by straight lines between the steps; NaN where the path ends with
// more. For 0.9 and 0.5 the path has a step of its own.
func (p *Path) MoltenC(fraction float64) float64 {
	for i := range p.Steps {
		b := &p.Steps[i]
		if b.Liquid > fraction {
			continue
		}
		if i == 0 || b.Liquid == fraction {
			return b.TC
		}
		a := &p.Steps[i-1]
		return a.TC + (b.TC-a.TC)*(a.Liquid-fraction)/(a.Liquid-b.Liquid)
	}
	return math.NaN()
}

func (s *State) clone() State {
	c := *s
	c.Solids = slices.Clone(s.Solids)
	for i := range c.Solids {
		c.Solids[i].Members = slices.Clone(c.Solids[i].Members)
	}
	return c
}

// mixed2 returns the state at tc between the hotter a and the colder b.
func mixed2(a, b *State, tc float64) State {
	f := (a.TC - tc) / (a.TC - b.TC)
	s := State{TC: tc, Liquid: (1-f)*a.Liquid + f*b.Liquid}
	for o := range s.Melt {
		s.Melt[o] = (1-f)*a.Liquid*a.Melt[o] + f*b.Liquid*b.Melt[o]
	}
	s.Melt = s.Melt.Normalise()
	for _, part := range []struct {
		of     *State
		weight float64
	}{{a, 1 - f}, {b, f}} {
		for i := range part.of.Solids {
			s.addSolid(&part.of.Solids[i], part.weight)
		}
	}
	slices.SortStableFunc(s.Solids, func(x, y Solid) int { return x.number - y.number })
	return s
}

// addSolid adds a share of a solid, to the same one where it is there already.
func (s *State) addSolid(from *Solid, weight float64) {
	share := math.Max(weight*from.Share, 0)
	if share == 0 {
		return
	}
	i := slices.IndexFunc(s.Solids, func(x Solid) bool { return x.number == from.number })
	if i < 0 {
		c := *from
		c.Share, c.Members = share, slices.Clone(from.Members)
		s.Solids = append(s.Solids, c)
		return
	}
	to := &s.Solids[i]
	f := share / (share + to.Share)
	for o := range to.Wt {
		to.Wt[o] += f * (from.Wt[o] - to.Wt[o])
	}
	for j := range to.Members {
		to.Members[j].Fraction *= 1 - f
	}
	for _, member := range from.Members {
		if j := slices.IndexFunc(to.Members, func(x Member) bool { return x.Formula == member.Formula }); j >= 0 {
			to.Members[j].Fraction += f * member.Fraction
		} else {
			to.Members = append(to.Members, Member{member.Formula, f * member.Fraction})
		}
	}
	to.Share += share
}
