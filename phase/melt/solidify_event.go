package melt

import "math"

// eventKind says what ends a stretch of the path.
type eventKind int

const (
	appears  eventKind = iota // a mineral
	vanishes                  // a grain
	thins                     // the liquid, to the next target
	cools                     // to the limit of the calculation
	lands                     // behind a fold
)

// event is a condition that ends a stretch: value is negative before it is met
// and positive after.
type event struct {
	kind  eventKind
	value float64
	grain int   // that vanishes
	next  grain // that appears
}

// watch returns the event that is most overdue at the present state; its value
// is negative where none is.
func (f *freezing) watch() event {
	q, s := &f.q, &f.q.search
	e := event{kind: cools, value: (freezingLimit - q.T) / 1000}
	consider := func(c event) {
		if c.value > e.value {
			e = c
		}
	}
	if f.fold.open {
		e = event{kind: lands, value: f.above()}
	} else {
		consider(event{kind: thins, value: f.targets[0] - f.liquidMass()})
	}
	for g := range q.ng {
		consider(event{kind: vanishes, grain: g, value: f.lack(g)})
	}
	for _, i := range s.solids[:s.nSolids] {
		if !f.present(i) {
			if v := s.supersaturation(i, q.T, max(e.value, 0)) - saturated; v > e.value && f.allowed(i) {
				e = event{kind: appears, value: v, next: grain{solid: i}}
			}
			continue
		}
		list, n := s.branches(i, q.T)
		for b := range n {
			if n > 1 && !f.presentBranch(&list[b]) {
				consider(event{kind: appears, value: list[b].excess - saturated, next: list[b]})
			}
		}
	}
	return e
}

// again returns the value of the same event at the present state.
func (f *freezing) again(e *event) float64 {
	switch e.kind {
	case cools:
		return (freezingLimit - f.q.T) / 1000
	case thins:
		return f.targets[0] - f.liquidMass()
	case vanishes:
		return f.lack(e.grain)
	case lands:
		return f.above()
	}
	g := f.appearing(e)
	return g.excess - saturated
}

// appearing returns the solid that is to appear as it would be now.
func (f *freezing) appearing(e *event) grain {
	list, n := f.q.search.branches(e.next.solid, f.q.T)
	if n == 1 {
		return list[0]
	}
	if f.present(e.next.solid) {
		if math.Abs(list[1].calcium-e.next.calcium) < math.Abs(list[0].calcium-e.next.calcium) {
			return list[1]
		}
		return list[0]
	}
	if list[1].excess > list[0].excess {
		return list[1]
	}
	return list[0]
}

// lack is how far a grain is below nothing, in cations of the whole.
func (f *freezing) lack(g int) float64 {
	grain := &f.q.grains[g]
	return -grain.amount*f.m.solids[grain.solid].cations - usedUp
}

// allowed reports whether a mineral may form at the present temperature:
// silica does not above the temperature at which two liquids take its place.
func (f *freezing) allowed(i int) bool {
	return f.q.T <= monotectic || !f.m.solids[i].phase.silica()
}

// present reports whether a mineral is among the grains, under any name.
func (f *freezing) present(i int) bool {
	for g := range f.q.ng {
		if f.m.sameSolid(f.q.grains[g].solid, i) {
			return true
		}
	}
	return false
}

func (f *freezing) presentBranch(b *grain) bool {
	for g := range f.q.ng {
		if h := &f.q.grains[g]; h.solid == b.solid && math.Abs(h.calcium-b.calcium) < gapWidth {
			return true
		}
	}
	return false
}

// liquidMass returns the mass fraction of liquid.
func (f *freezing) liquidMass() (share float64) {
	for i := range f.q.n {
		share += math.Exp(f.q.ln[i]) * f.mass[f.q.which[i]]
	}
	return share / f.wholeMass
}
