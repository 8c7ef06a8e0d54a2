package figure

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
)

// inPolygon tells whether a point lies in a polygon (even-odd rule).
func inPolygon(area []vg.Point, at vg.Point) bool {
	in := false
	for i, q := range area {
		p := area[(i+len(area)-1)%len(area)]
		if (p.Y > at.Y) != (q.Y > at.Y) && at.X < p.X+(q.X-p.X)*(at.Y-p.Y)/(q.Y-p.Y) {
			in = !in
		}
	}
	return in
}

// holds tells whether a box lies in a polygon: its corners do, and no side of
// the polygon passes through it.
func holds(area []vg.Point, b box) bool {
	for _, c := range b {
		if !inPolygon(area, c) {
			return false
		}
	}
	return !crosses(b, [][]vg.Point{append(area[:len(area):len(area)], area[0])})
}

// sortByDistance sorts points in a polygon, those farthest from its sides
// first.
func sortByDistance(points, area []vg.Point) {
	clear := make(map[vg.Point]float64, len(points))
	for _, at := range points {
		d := math.Inf(1)
		for i, q := range area {
			d = math.Min(d, fromSegment(at, area[(i+len(area)-1)%len(area)], q))
		}
		clear[at] = d
	}
	slices.SortStableFunc(points, func(a, b vg.Point) int { return cmp.Compare(clear[b], clear[a]) })
}

// fromSegment is the distance of a point from the line from p to q.
func fromSegment(at, p, q vg.Point) float64 {
	d := q.Sub(p)
	f := vg.Length(0)
	if n := d.Dot(d); n > 0 {
		f = max(0, min(at.Sub(p).Dot(d)/n, 1))
	}
	off := at.Sub(p.Add(d.Scale(f)))
	return math.Hypot(float64(off.X), float64(off.Y))
}
