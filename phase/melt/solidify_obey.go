package melt

import "math"

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
