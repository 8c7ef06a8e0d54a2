package melt

import (
	"context"
	"slices"
)

// Boundary is a line on which two phases are first together.
type Boundary struct {
	Phases [2]Phase // in alphabetical order
	Points []Point
	Closed bool
}

// Boundaries returns the lines between the fields. They cross the edges of the
// grid where the first phase changes, found by bisection of the composition,
// and end on the sides of the triangle or where three fields meet.
func (mp *Map) Boundaries() []Boundary {
	list := slices.Clone(mp.boundaries())
	for i := range list {
		list[i].Points = slices.Clone(list[i].Points)
	}
	return list
}

// trace computes the boundaries.
func (mp *Map) trace() []Boundary {
	edges := mp.changingEdges()
	points := make([]Point, len(edges))
	// A background context never ends, so there is no error to pass on.
	_ = inParallel(context.Background(), len(edges), func(s *search, i int) {
		points[i] = mp.change(s, edges[i][0], edges[i][1])
	})
	nodes := nodeSet{index: map[[3]int]int{}}
	for i, e := range edges {
		nodes.add(edgeKey(e[0], e[1]), func() Point { return points[i] })
	}
	segments := map[[2]Phase][][2]int{}
	var order [][2]Phase
	put := func(a, b Phase, from, to int) {
		pair := [2]Phase{min(a, b), max(a, b)}
		if _, ok := segments[pair]; !ok {
			order = append(order, pair)
		}
		segments[pair] = append(segments[pair], [2]int{from, to})
	}
	var s search
	mp.grid.triangles(func(a, b, c int) { mp.traceTriangle(&s, &nodes, [3]int{a, b, c}, put) })
	slices.SortFunc(order, func(a, b [2]Phase) int { return slices.Compare(a[:], b[:]) })
	var list []Boundary
	for _, pair := range order {
		for _, c := range joinSegments(segments[pair]) {
			list = append(list, Boundary{Phases: pair, Points: nodes.along(c), Closed: c.closed})
		}
	}
	return list
}

// traceTriangle hands on the pieces of boundary inside one small triangle: one
// between two fields, three from their meeting point where there are three.
func (mp *Map) traceTriangle(s *search, nodes *nodeSet, v [3]int, put func(a, b Phase, from, to int)) {
	f := [3]Phase{mp.field[v[0]], mp.field[v[1]], mp.field[v[2]]}
	if f[0] == "" || f[1] == "" || f[2] == "" {
		return
	}
	if f[0] != f[1] && f[1] != f[2] && f[2] != f[0] {
		key := [3]int{v[0], v[1], v[2]}
		centre := nodes.add(key, func() Point { return mp.meeting(s, v) })
		for i := range 3 {
			j := (i + 1) % 3
			put(f[i], f[j], nodes.index[edgeKey(v[i], v[j])], centre)
		}
		return
	}
	for i := range 3 {
		j, k := (i+1)%3, (i+2)%3
		if f[i] != f[j] && f[i] != f[k] {
			put(f[i], f[j], nodes.index[edgeKey(v[i], v[j])], nodes.index[edgeKey(v[i], v[k])])
		}
	}
}

// changingEdges lists the edges between fields in the order of the triangles.
func (mp *Map) changingEdges() (edges [][2]int) {
	seen := map[[3]int]bool{}
	mp.grid.triangles(func(a, b, c int) {
		for _, e := range [3][2]int{{a, b}, {b, c}, {c, a}} {
			fa, fb := mp.field[e[0]], mp.field[e[1]]
			if fa == fb || fa == "" || fb == "" || seen[edgeKey(e[0], e[1])] {
				continue
			}
			seen[edgeKey(e[0], e[1])] = true
			edges = append(edges, e)
		}
	})
	return edges
}

// changeRounds halves an edge to about a hundredth of itself.
const changeRounds = 7

// change finds where the field changes on an edge. Only the phases of the two
// fields compete, so that a sliver or a speck of a third one between them does
// not make the line jump from side to side.
func (mp *Map) change(s *search, a, b int) Point {
	a, b = min(a, b), max(a, b)
	pa, pb := mp.grid.point(a), mp.grid.point(b)
	pair := []Phase{mp.field[a], mp.field[b]}
	lo, hi := 0.0, 1.0
	for range changeRounds {
		mid := (lo + hi) / 2
		if _, first := mp.atAmong(s, between(pa, pb, mid), pair); first == mp.field[a] {
			lo = mid
		} else {
			hi = mid
		}
	}
	return between(pa, pb, (lo+hi)/2)
}

// meetingRounds quarters a triangle to a hundredth of its side.
const meetingRounds = 7

// meeting finds the point inside a small triangle where its three fields meet,
// by quartering it and going on with a quarter that still has all three.
func (mp *Map) meeting(s *search, v [3]int) Point {
	corner := [3]Point{mp.grid.point(v[0]), mp.grid.point(v[1]), mp.grid.point(v[2])}
	field := [3]Phase{mp.field[v[0]], mp.field[v[1]], mp.field[v[2]]}
	three := slices.Clone(field[:])
	for range meetingRounds {
		var p [6]Point
		var f [6]Phase
		for i := range 3 {
			p[i], f[i] = corner[i], field[i]
			p[i+3] = between(corner[i], corner[(i+1)%3], 0.5)
			_, f[i+3] = mp.atAmong(s, p[i+3], three)
		}
		found := false
		for _, q := range [4][3]int{{3, 4, 5}, {0, 3, 5}, {1, 4, 3}, {2, 5, 4}} {
			if a, b, c := f[q[0]], f[q[1]], f[q[2]]; a != b && b != c && c != a {
				for i := range 3 {
					corner[i], field[i] = p[q[i]], f[q[i]]
				}
				found = true
				break
			}
		}
		if !found {
			break
		}
	}
	return between(between(corner[0], corner[1], 0.5), corner[2], 1.0/3)
}
