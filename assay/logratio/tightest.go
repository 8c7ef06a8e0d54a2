package logratio

import "math"

// pivotFloor is the share of a coordinate's own spread below which a subset
// counts as flat: less is rounding.
const pivotFloor = 1e-12

// tightest finds, among all subsets of h samples, the one whose covariance has
// the least determinant. Samples are taken away one after another from the sums
// of squares and products of all, so that a subset costs one update and one
// triangular factorisation, and nothing is allocated on the way.
type tightest struct {
	z     [][]float64 // centred
	h, p  int
	sums  []float64 // of the samples still there, a level for each one taken away
	cross []float64 // likewise the lower triangle of Σ z zᵀ
	lower []float64 // triangular factor
	floor []float64 // of the pivots
	out   []int     // samples taken away
	det   float64   // least logarithm of the determinant so far
	best  []int     // what was taken away for it
}

// tightestSubset returns the places of that subset in order, nil where every
// subset is flat.
func tightestSubset(z [][]float64, h int) []int {
	n, p := len(z), len(z[0])
	tri := p * (p + 1) / 2
	t := tightest{h: h, p: p, det: math.Inf(1),
		sums: make([]float64, (n-h+1)*p), cross: make([]float64, (n-h+1)*tri), lower: make([]float64, tri), floor: make([]float64, p)}
	mean := Mean(z)
	t.z = make([][]float64, n)
	for i, row := range z {
		t.z[i] = make([]float64, p)
		for j, v := range row {
			t.z[i][j] = v - mean[j]
			t.sums[j] += t.z[i][j]
		}
		t.take(t.cross[:tri], t.z[i], 1)
	}
	for j := range p {
		t.floor[j] = pivotFloor * t.cross[j*(j+1)/2+j]
	}
	t.without(0, n-h)
	if t.best == nil {
		return nil
	}
	places := make([]int, 0, h)
	for i, k := 0, 0; i < n; i++ {
		if k < len(t.best) && t.best[k] == i {
			k++
			continue
		}
		places = append(places, i)
	}
	return places
}

// without takes away more samples, each from the given place on.
func (t *tightest) without(from, more int) {
	if more == 0 {
		if det, ok := t.logDet(); ok && det < t.det-1e-12 {
			t.det, t.best = det, append(make([]int, 0, len(t.out)), t.out...)
		}
		return
	}
	level, tri := len(t.out), len(t.lower)
	for i := from; i <= len(t.z)-more; i++ {
		row := t.z[i]
		sums, next := t.sums[level*t.p:(level+1)*t.p], t.sums[(level+1)*t.p:(level+2)*t.p]
		for j, v := range row {
			next[j] = sums[j] - v
		}
		cross := t.cross[(level+1)*tri : (level+2)*tri]
		copy(cross, t.cross[level*tri:(level+1)*tri])
		t.take(cross, row, -1)
		t.out = append(t.out, i)
		t.without(i+1, more-1)
		t.out = t.out[:level]
	}
}

// take adds a sample's products, times sign, to a lower triangle.
func (t *tightest) take(cross, row []float64, sign float64) {
	k := 0
	for a, va := range row {
		for _, vb := range row[:a+1] {
			cross[k] += sign * va * vb
			k++
		}
	}
}

// logDet returns the logarithm of the determinant of the scatter of what is
// left about its mean, up to a constant; false where it is flat.
func (t *tightest) logDet() (float64, bool) {
	level, tri := len(t.out), len(t.lower)
	sums, cross := t.sums[level*t.p:(level+1)*t.p], t.cross[level*tri:(level+1)*tri]
	inv, det := 1/float64(t.h), 0.0
	for a, at := 0, 0; a < t.p; a++ {
		row := t.lower[at : at+a+1]
		for b, bt := 0, 0; b <= a; b++ {
			v := cross[at+b] - sums[a]*sums[b]*inv
			other := t.lower[bt : bt+b+1]
			for c := range b {
				v -= row[c] * other[c]
			}
			if b == a {
				if v <= t.floor[a] {
					return 0, false
				}
				det += math.Log(v)
				row[a] = math.Sqrt(v)
			} else {
				row[b] = v / other[b]
			}
			bt += b + 1
		}
		at += a + 1
	}
	return det, true
}
