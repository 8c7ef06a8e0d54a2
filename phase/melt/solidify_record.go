package melt

import (
	"math"

	"smeltbook/phase/slag"
)

// record adds the present state to the path.
func (f *freezing) record() {
	q := &f.q
	var n vector
	var mass float64
	for i := range q.n {
		n[q.which[i]] = math.Exp(q.ln[i])
		mass += n[q.which[i]] * f.mass[q.which[i]]
	}
	st := State{TC: q.T - celsius, Liquid: mass / f.wholeMass, Solids: make([]Solid, q.ng)}
	if mass > 0 {
		st.Melt = f.oxides(&n).Normalise()
	}
	for i := range q.ng {
		g := &q.grains[i]
		at := g.name(&q.search, q.T)
		d := &f.m.solids[at]
		w := f.oxides(&g.cations)
		var own float64
		for _, x := range w {
			own += x
		}
		st.Solids[i] = Solid{Phase: d.phase, Mineral: d.name, Share: 100 * math.Max(g.amount, 0) * own / f.wholeMass,
			Wt: w.Normalise(), Members: f.members(g), number: g.number}
	}
	f.p.Steps = append(f.p.Steps, st)
}

// oxides returns the grams of each oxide that the cations bring.
func (f *freezing) oxides(n *vector) (w slag.Wt) {
	for i, o := range modelled {
		w[o.oxide] += n[o.cation] * f.perCation[i]
	}
	return w
}

// leastMember is the fraction from which an end member is worth telling.
const leastMember = 1e-9

func (f *freezing) members(g *grain) []Member {
	d := &f.m.solids[g.solid]
	list := make([]Member, 0, maxShares)
	for i, e := range d.at {
		if g.share[i] > leastMember {
			list = append(list, Member{f.m.members[e].formula(), g.share[i]})
		}
	}
	if d.mixing == olivines && g.share[olivineCaMn] > leastMember {
		list = append(list, Member{"CaMnSiO4", g.share[olivineCaMn]})
	}
	return list
}
