package melt

import (
	"math"

	"smeltbook/phase/slag"
)

// freezing follows a melt down the line of its equilibrium states: a tangent
// forward, Newton's method back to the line, and a halt at every event. The
// measure along the line mixes temperature and amounts, so that a eutectic,
// where the one stands still, is no special case.
type freezing struct {
	m *Model
	q equilibrium
	p *Path

	row       unknowns // last equation: the direction in which the step is fixed
	tangent   unknowns // per unit of step: 5 K or a tenth of the whole
	calm      bool     // row fits the solids at hand
	perCation []float64
	mass      vector // g per cation of each component
	wholeMass float64
	targets   []float64 // mass fractions of liquid still to be met, greatest first
	fold      fold
	good      good
}

const (
	stepKelvin  = 5.0 // of one unit of step
	stepAmount  = 0.1 // cations moved, of the whole
	stepLn      = 0.5 // of the ln of any cation in the liquid
	leastStep   = 1.0 / (1 << 14)
	mostSteps   = 1000
	rootRounds  = 60
	saturated   = 1e-9  // S from which a mineral appears
	usedUp      = 1e-11 // amount, in cations of the whole, below zero from which a grain is gone
	independent = 1e-7  // least part of a new solid that the others cannot make up
)

// run follows w and fills the path.
func (f *freezing) run(m *Model, w *slag.Wt, p *Path) error {
	f.m, f.p = m, p
	p.Whole = m.frozen(w)
	x, ok := cationFractions(p.Whole)
	if !ok {
		return ErrNoOxide
	}
	f.q.begin(m, &x)
	f.weigh(&x)
	f.unhosted()
	f.targets = append(f.targets[:0], 0.9, 0.5, lastLiquid)
	f.fold = fold{}
	o, err := m.onset(&f.q.search, w)
	if err != nil {
		return err
	}
	f.q.search.start(m, &x)
	f.q.T = o.T
	if o.capped && m.solids[o.solid].phase.silica() {
		err = f.startSplit(o)
	} else {
		err = f.startAt(o)
	}
	if err != nil {
		return err
	}
	if err = f.down(); err != nil {
		return err
	}
	f.tidy()
	return nil
}

// push adds a solid that is just saturated; the next step makes it grow.
func (f *freezing) push(g grain) {
	q := &f.q
	g.amount = 0
	g.number = len(f.p.Minerals)
	q.grains[q.ng] = g
	q.ng++
	f.row = unknowns{}
	f.row[q.n+q.ng-1] = 1
	f.calm = true
	d := &f.m.solids[g.name(&q.search, q.T)]
	f.p.Minerals = append(f.p.Minerals, Stay{Phase: d.phase, Mineral: d.name, AppearsC: q.T - celsius, VanishesC: math.NaN()})
}

// drop takes out a grain that is used up.
func (f *freezing) drop(i int) {
	q := &f.q
	f.p.Minerals[q.grains[i].number].VanishesC = q.T - celsius
	if f.fold.open {
		f.keepDirection()
		copy(f.row[q.n+i:], f.row[q.n+i+1:])
	}
	copy(q.grains[i:], q.grains[i+1:q.ng])
	q.ng--
	f.calm = f.fold.open
}

// downhill is the row that fixes temperature and amount of liquid together.
func (f *freezing) downhill() (row unknowns) {
	q := &f.q
	for i := range q.n {
		row[i] = -math.Exp(q.ln[i]) / stepAmount
	}
	row[q.n+q.ng] = -kelvinPerUnit / stepKelvin
	return row
}

// aim finds the tangent at the present state.
func (f *freezing) aim() bool {
	q := &f.q
	if !f.calm {
		f.row = f.downhill()
	}
	q.measure()
	if !q.linearise(&f.row) {
		return false
	}
	if q.splits() {
		f.splitsAt(q.T - celsius)
	}
	n := q.size()
	t := unknowns{}
	t[n-1] = 1
	q.matrix.solve(&t)
	length, longest := math.Abs(t[n-1])*kelvinPerUnit/stepKelvin, 0.0
	for i := range q.n {
		length += math.Abs(t[i]) * math.Exp(q.ln[i]) / stepAmount
		longest = math.Max(longest, math.Abs(t[i])/stepLn)
	}
	for g := range q.ng {
		length += math.Abs(t[q.n+g]) * f.m.solids[q.grains[g].solid].cations / stepAmount / 2
	}
	length = math.Max(length/2, longest)
	if !(length > 0) || math.IsInf(length, 0) {
		return false
	}
	for j := range n {
		f.tangent[j] = t[j] / length
	}
	return true
}

// keepDirection makes the tangent the row of the next step.
func (f *freezing) keepDirection() {
	q := &f.q
	for i := range q.n {
		f.row[i] = f.tangent[i] / (stepLn * stepLn)
	}
	for g := range q.ng {
		f.row[q.n+g] = f.tangent[q.n+g] / (stepAmount * stepAmount)
	}
	f.row[q.n+q.ng] = f.tangent[q.n+q.ng] * (kelvinPerUnit / stepKelvin) * (kelvinPerUnit / stepKelvin)
	f.calm = true
}
