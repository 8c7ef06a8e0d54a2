package melt

import (
	"math"
	"slices"

	"smeltbook/phase/slag"
)

// frozen returns the part of w that freezes: oxides of the model, sum 100.
func (m *Model) frozen(w *slag.Wt) (kept slag.Wt) {
	restated := m.restated(*w)
	for _, o := range modelled {
		kept[o.oxide] = restated[o.oxide]
	}
	return kept.Normalise()
}

// weigh sets the masses of cations as oxides. Where two oxides share one
// component they keep the ratio of the whole.
func (f *freezing) weigh(x *vector) {
	var cations vector
	f.perCation = f.perCation[:0]
	for _, o := range modelled {
		cations[o.cation] += f.p.Whole[o.oxide] * o.cations / o.oxide.Mass()
	}
	f.mass, f.wholeMass = vector{}, 0
	for _, o := range modelled {
		g := 0.0
		if x[o.cation] > 0 {
			g = f.p.Whole[o.oxide] / cations[o.cation]
		}
		f.perCation = append(f.perCation, g)
		f.mass[o.cation] += g
	}
	for c := range x {
		f.wholeMass += x[c] * f.mass[c]
	}
}

// unhosted lists the oxides that no mineral takes up.
func (f *freezing) unhosted() {
	s := &f.q.search
	var hosted vector
	for _, i := range s.solids[:s.nSolids] {
		for _, e := range f.m.solids[i].at {
			if !slices.Contains(s.here[:s.nHere], e) {
				continue
			}
			for c, n := range f.m.members[e].cations {
				hosted[c] += n
			}
		}
	}
	for _, o := range modelled {
		if f.p.Whole[o.oxide] > 0 && hosted[o.cation] == 0 {
			f.p.Unhosted = append(f.p.Unhosted, o.oxide)
		}
	}
}

// startAt begins at the liquidus with nothing of the first solid.
func (f *freezing) startAt(o onset) error {
	q := &f.q
	q.at(&q.ln, q.T)
	list, n := q.search.branches(o.solid, q.T)
	first := list[0]
	if n > 1 && list[1].excess > first.excess {
		first = list[1]
	}
	f.push(first)
	q.measure()
	if !q.linearise(&f.row) || !q.correct(&f.row) {
		return freezingError(o.tc(), "the first solid does not settle")
	}
	f.p.Minerals[0].AppearsC = q.T - celsius
	f.record()
	return nil
}

// startSplit begins where a melt of two liquids turns into one with silica: at
// the temperature to which its liquidus is held, so much silica is taken out
// that the liquid is just saturated with it, on the side poor in silica.
func (f *freezing) startSplit(o onset) error {
	q := &f.q
	f.record()
	at := -1
	for i := range q.n {
		if q.which[i] == si {
			at = i
		}
	}
	excess := func(left float64) float64 {
		q.ln[at] = math.Log(left)
		q.at(&q.ln, q.T)
		return q.search.supersaturation(o.solid, q.T, lacking)
	}
	lo, hi := q.whole[at]*splitScan, 0.0
	for step := 2; hi == 0 && step <= splitSteps; step++ {
		if left := q.whole[at] * splitScan * float64(step); excess(left) >= 0 {
			hi = left
		} else {
			lo = left
		}
	}
	if hi == 0 {
		return freezingError(o.tc(), "no single liquid is in equilibrium with silica")
	}
	for range 60 {
		if mid := (lo + hi) / 2; excess(mid) >= 0 {
			hi = mid
		} else {
			lo = mid
		}
	}
	excess(lo)
	g := grain{solid: o.solid}
	g.follow(&q.search, q.T)
	f.push(g)
	q.grains[0].amount = q.whole[at] - lo
	q.measure()
	if !q.linearise(&f.row) || !q.correct(&f.row) {
		return freezingError(o.tc(), "the liquid does not settle beside silica")
	}
	f.calm = false
	for f.liquidMass() < f.targets[0] {
		if f.targets[0] == lastLiquid {
			return ErrSplit
		}
		f.thin()
	}
	if e := f.watch(); e.value > 0 {
		return ErrSplit
	}
	f.record()
	return nil
}

// splitScan is the step in the silica left, as a share of all, by which the
// liquid poor in silica is looked for.
const (
	splitScan  = 1.0 / splitSteps
	splitSteps = 200
)
