package melt

import (
	"context"
	"math"
)

// Line is an isotherm or a part of one. The first point of a closed line is
// repeated at its end.
type Line struct {
	TC     float64 // °C
	Points []Point
	Closed bool
}

// Isotherms returns the lines of equal liquidus at the given temperatures
// (°C), in the order of the levels. The lines go from edge to edge of the
// grid; on each edge the place is closed in by solving the model to within
// 0.5 °C, so that kinks at the boundaries of fields stay where they are.
func (mp *Map) Isotherms(levels []float64) []Line {
	type crossed struct {
		edge  [2]int
		level int
	}
	var list []crossed
	nodes := make([]nodeSet, len(levels))
	segments := make([][][2]int, len(levels))
	for l, level := range levels {
		mp.grid.triangles(func(a, b, c int) {
			var ends []int
			for _, e := range [3][2]int{{a, b}, {b, c}, {c, a}} {
				if mp.crosses(e[0], e[1], level) {
					ends = append(ends, nodes[l].add(edgeKey(e[0], e[1]), func() Point {
						list = append(list, crossed{e, l})
						return Point{}
					}))
				}
			}
			if len(ends) == 2 && !math.IsNaN(mp.tc[a]+mp.tc[b]+mp.tc[c]) {
				segments[l] = append(segments[l], [2]int{ends[0], ends[1]})
			}
		})
	}
	points := make([]Point, len(list))
	// A background context never ends, so there is no error to pass on.
	_ = inParallel(context.Background(), len(list), func(s *search, i int) {
		points[i] = mp.crossing(s, list[i].edge[0], list[i].edge[1], levels[list[i].level])
	})
	for i, c := range list {
		nodes[c.level].points[nodes[c.level].index[edgeKey(c.edge[0], c.edge[1])]] = points[i]
	}
	var lines []Line
	for l, level := range levels {
		for _, c := range joinSegments(segments[l]) {
			lines = append(lines, Line{TC: level, Points: nodes[l].along(c), Closed: c.closed})
		}
	}
	return lines
}

// crosses reports whether the level lies between two vertices; a vertex at the
// level counts as above it.
func (mp *Map) crosses(a, b int, level float64) bool {
	ta, tb := mp.tc[a], mp.tc[b]
	return !math.IsNaN(ta) && !math.IsNaN(tb) && (ta >= level) != (tb >= level)
}

const (
	crossingTolerance = 0.5 // °C
	crossingRounds    = 8
)

// crossing finds where the liquidus has the level on an edge.
func (mp *Map) crossing(s *search, a, b int, level float64) Point {
	a, b = min(a, b), max(a, b)
	pa, pb := mp.grid.point(a), mp.grid.point(b)
	fa, fb := mp.tc[a]-level, mp.tc[b]-level
	share := func(ta, tb float64) float64 { return ta + (tb-ta)*fa/(fa-fb) }
	lo, hi := 0.0, 1.0
	t := share(lo, hi)
	for range crossingRounds {
		tc, _ := mp.at(s, between(pa, pb, t))
		f := tc - level
		if !(math.Abs(f) > crossingTolerance) {
			break
		}
		if (f >= 0) == (fa >= 0) {
			lo, fa, fb = t, f, fb/2
		} else {
			hi, fb, fa = t, f, fa/2
		}
		t = share(lo, hi)
	}
	return between(pa, pb, t)
}
