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

// obey does what an event asks for; done is true at the end of the path.
func (f *freezing) obey(e *event) (done bool, err error) {
	switch e.kind {
	case cools:
		f.p.End = LimitReached
		return true, nil
	case vanishes:
		f.drop(e.grain)
		return false, nil
	case appears:
		return false, f.admit(f.appearing(e))
	case lands:
		return f.land(), nil
	}
	return f.thin(), nil
}

// thin notes that the next target is met; done is true at the last.
func (f *freezing) thin() (done bool) {
	tc := f.q.T - celsius
	switch f.targets[0] {
	case 0.9:
		f.p.T90MoltenC = tc
	case 0.5:
		f.p.THalfMoltenC = tc
	case lastLiquid:
		f.finish()
		return true
	}
	f.targets = f.targets[1:]
	return false
}

// admit takes in a solid that has just become saturated. Where the solids at
// hand can make it up without the liquid, as one form of silica does the other,
// they turn into it at this temperature until one of them is gone.
func (f *freezing) admit(g grain) error {
	q := &f.q
	parts, rest := f.makeUp(&g.cations)
	if rest > independent {
		f.push(g)
		return nil
	}
	gone, extent := -1, math.Inf(1)
	for i := range q.ng {
		if parts[i] > independent && q.grains[i].amount/parts[i] < extent {
			gone, extent = i, q.grains[i].amount/parts[i]
		}
	}
	if gone < 0 || q.ng == maxGrains {
		return freezingError(q.T-celsius, "a solid appears that takes the place of none")
	}
	f.push(g)
	q.grains[q.ng-1].amount = extent
	for i := range q.ng - 1 {
		q.grains[i].amount -= extent * parts[i]
	}
	f.drop(gone)
	return nil
}

// makeUp returns the amounts of the grains that together come closest to the
// given cations (least squares), and the part of it that they cannot make up.
func (f *freezing) makeUp(cations *vector) (parts [maxGrains]float64, rest float64) {
	q := &f.q
	var a matrix
	var r unknowns
	a.n = q.ng
	for i := range q.ng {
		for j := range q.ng {
			for c := range cations {
				a.a[i][j] += q.grains[i].cations[c] * q.grains[j].cations[c]
			}
		}
		for c := range cations {
			r[i] += q.grains[i].cations[c] * cations[c]
		}
	}
	if !a.factor() {
		return parts, 1
	}
	a.solve(&r)
	var size float64
	for c := range cations {
		d := cations[c]
		size += d * d
		for i := range q.ng {
			d -= r[i] * q.grains[i].cations[c]
		}
		rest += d * d
	}
	copy(parts[:], r[:q.ng])
	return parts, math.Sqrt(rest / size)
}

// finish ends the path with 1 wt% of liquid left, or with none where the
// solids at hand can take it up as it is: then temperature and compositions
// stand still until it is gone.
func (f *freezing) finish() {
	q := &f.q
	f.p.End = LastLiquid
	var n vector
	for i := range q.n {
		n[q.which[i]] = math.Exp(q.ln[i])
	}
	parts, rest := f.makeUp(&n)
	if rest > independent {
		return
	}
	for i := range q.ng {
		if q.grains[i].amount+parts[i] < 0 {
			return
		}
	}
	for i := range q.ng {
		q.grains[i].amount += parts[i]
	}
	for i := range q.n {
		q.ln[i] = math.Inf(-1)
	}
	f.p.End = FrozenAtOnce
	f.record()
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
