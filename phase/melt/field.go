package melt

import (
	"cmp"
	"math"
	"slices"
)

// Field is a connected region of a map with one first phase.
type Field struct {
	Phase Phase
	Name  string  // for print
	Share float64 // of the area of the triangle, 0 to 1
	Label Point   // the place in the field farthest from its edges
	Room  float64 // distance from Label to the nearest edge; the side of the triangle is 1
}

// Fields returns the fields of the map, largest first. Patches below 0.3 % of
// the area are counted with their neighbours.
func (mp *Map) Fields() []Field {
	patch, count := mp.grid.patches(mp.field)
	fields := make([]Field, count)
	for v, p := range patch {
		if p >= 0 {
			fields[p].Phase, fields[p].Name = mp.field[v], mp.field[v].Label()
			fields[p].Share += mp.grid.area(v)
			fields[p].Room = -1
		}
	}
	edges := mp.edgesByPhase()
	for v, p := range patch {
		if p < 0 {
			continue
		}
		at := mp.grid.point(v)
		if room := roomAt(at, edges[mp.field[v]], fields[p].Room); room > fields[p].Room {
			fields[p].Room, fields[p].Label = room, at
		}
	}
	slices.SortStableFunc(fields, func(a, b Field) int {
		return cmp.Or(cmp.Compare(b.Share, a.Share), cmp.Compare(a.Phase, b.Phase))
	})
	return fields
}

// edgesByPhase collects the boundary points of each phase.
func (mp *Map) edgesByPhase() map[Phase][]Point {
	edges := map[Phase][]Point{}
	for _, b := range mp.boundaries() {
		for _, phase := range b.Phases {
			edges[phase] = append(edges[phase], b.Points...)
		}
	}
	return edges
}

// roomAt returns the distance from p to the nearest of the points and the
// sides of the triangle, or anything not above enough once it is known to be
// no greater.
func roomAt(p Point, points []Point, enough float64) float64 {
	room := min(p.A, p.B, p.C) * math.Sqrt(3) / 2
	for _, q := range points {
		if room <= enough {
			break
		}
		room = min(room, distance(p, q))
	}
	return room
}

// distance returns the distance of two points of an equilateral triangle of
// side 1.
func distance(p, q Point) float64 {
	a, b, c := p.A-q.A, p.B-q.B, p.C-q.C
	return math.Sqrt((a*a + b*b + c*c) / 2)
}
