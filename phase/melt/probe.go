package melt

import (
	"fmt"
	"math"
	"slices"

	"smeltbook/phase/slag"
)

// Probe tells how far a melt is saturated with each mineral, and how that
// answers to the parameters: what a fit of the parameters needs. It is not for
// use by several goroutines at once.
type Probe struct {
	p       parameters
	m       *Model
	free    []int // rows of the parameter file, from 0
	freeOf  []int // place among the free of every row, −1 for the others
	ofTerm  [][]int
	members map[float64][]memberAt
}

// memberAt is the reference of an end member at one temperature.
type memberAt struct {
	q  float64
	dq []float64 // by the free parameters
}

// Saturation is the state of one mineral.
type Saturation struct {
	Mineral string
	Phase   Phase
	S       float64   // ln of the saturation: 0 on the liquidus, above it solid forms
	By      []float64 // ∂S/∂ value of each free parameter, in the units of the file; nil where not asked for
}

// NewProbe reads a parameter file. The rows of free, counted from 0 below the
// heading, are those by which saturations are differentiated.
func NewProbe(text string, free []int) (*Probe, error) {
	p, err := parseParameters(text)
	if err != nil {
		return nil, err
	}
	b := &Probe{p: p, free: free, freeOf: make([]int, len(p.rows)), ofTerm: make([][]int, len(p.terms))}
	for r := range b.freeOf {
		b.freeOf[r] = slices.Index(free, r)
	}
	for f, r := range free {
		if r < 0 || r >= len(p.rows) || p.rows[r].kind == "transition" || p.rows[r].kind == "associate" {
			return nil, fmt.Errorf("melt parameters: row %d cannot be fitted", r)
		}
		if row := p.rows[r]; row.kind == "pair" {
			b.ofTerm[row.at] = append(b.ofTerm[row.at], f)
		}
	}
	if b.m, err = assemble(p); err != nil {
		return nil, err
	}
	b.members = map[float64][]memberAt{}
	return b, nil
}

// Set gives the free parameters new values, in the units of the file.
func (b *Probe) Set(values []float64) error {
	for f, r := range b.free {
		row, v := b.p.rows[r], values[f]
		switch row.kind + " " + row.quantity {
		case "pair h":
			b.p.terms[row.at].h = v
		case "pair s":
			b.p.terms[row.at].s = v
		case "solid Tm":
			b.p.fusions[row.at].tm = v + celsius
		case "solid dH":
			b.p.fusions[row.at].heat = v * 1000
		case "solid dCp":
			b.p.fusions[row.at].gain = v
		case "mixing W":
			b.p.mixing[row.name] = v * 1000
		}
	}
	m, err := assemble(b.p)
	if err != nil {
		return err
	}
	b.m = m
	clear(b.members)
	return nil
}

// Model returns the model with the present values.
func (b *Probe) Model() *Model {
	m := *b.m
	m.refs = newReferences(&m)
	return &m
}

// at returns the references of all end members at T, with their derivatives
// where asked for.
func (b *Probe) at(T float64, with bool) []memberAt {
	l, ok := b.members[T]
	switch {
	case ok && (!with || l[0].dq != nil):
		return l
	case with:
		l = b.derived(T)
	default:
		l = make([]memberAt, len(b.m.members))
		for i := range b.m.members {
			e := &b.m.members[i]
			var mix mixture
			x := e.composition()
			mix.prepare(b.m.terms, &x)
			l[i].q = e.reference(&mix, T)
		}
	}
	b.members[T] = l
	return l
}

// derived returns the references at T with their derivatives.
func (b *Probe) derived(T float64) []memberAt {
	list := make([]memberAt, len(b.m.members))
	for i := range b.m.members {
		e := &b.m.members[i]
		var mix mixture
		x := e.composition()
		mix.prepare(b.m.terms, &x)
		g := mix.gradient(&b.m.terms, T)
		at := memberAt{dq: make([]float64, len(b.free))}
		at.q = e.fusionTerm(T) - e.activitySum(&g.lna)
		for t, fs := range b.ofTerm {
			for _, f := range fs {
				at.dq[f] = -b.perUnit(f, T) * e.activitySum(&g.by[t])
			}
		}
		list[i] = at
	}
	for f, r := range b.free {
		row := b.p.rows[r]
		if row.kind != "solid" {
			continue
		}
		e := &b.m.members[row.at]
		switch row.quantity {
		case "Tm":
			list[row.at].dq[f] = (e.heat/(e.tm*e.tm) + e.gain*(1/e.tm-1/T)) / gasConstant
		case "dH":
			list[row.at].dq[f] = 1000 / gasConstant * (1/T - 1/e.tm)
		case "dCp":
			list[row.at].dq[f] = fusionBend(T, e.tm) / gasConstant
		}
	}
	return list
}

// perUnit returns the energy in J/mol that one unit of a free pair parameter
// brings at T.
func (b *Probe) perUnit(f int, T float64) float64 {
	if b.p.rows[b.free[f]].quantity == "s" {
		return T
	}
	return 1
}

// Saturations returns the state of every mineral that w, in wt%, may form at
// tc (°C), with derivatives for those whose S is not below from; infinity asks
// for none. Iron in w must be in the forms meant: it is not restated.
func (b *Probe) Saturations(w slag.Wt, tc float64, from float64) []Saturation {
	x, ok := cationFractions(w)
	if !ok {
		return nil
	}
	T := tc + celsius
	var s search
	s.start(b.m, &x)
	refs := b.at(T, false)
	s.mix.activities(T, &s.lna)
	for e := range refs {
		s.q[e] = refs[e].q
	}
	for _, e := range s.here[:s.nHere] {
		s.a[e] = b.m.members[e].activitySum(&s.lna) + s.q[e]
	}
	var list []Saturation
	var g termGradient
	for _, i := range s.solids[:s.nSolids] {
		solid := &b.m.solids[i]
		at := Saturation{Mineral: solid.name, Phase: solid.phase, S: s.supersaturation(i, T, lacking)}
		if at.S >= from && !math.IsInf(from, 1) {
			if g.by == nil {
				g = s.mix.gradient(&b.m.terms, T)
				refs = b.at(T, true)
			}
			at.By = b.derivative(&s, solid, &g, refs, T, at.S)
		}
		list = append(list, at)
	}
	return list
}

// Positive reports whether a free parameter must stay above zero, as heats of
// fusion must.
func (b *Probe) Positive(f int) bool { return b.p.rows[b.free[f]].quantity == "dH" }
