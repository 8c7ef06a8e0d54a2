package figure

import "math"

// Frame is the geometry of a page of Curves and of a Diagram: a unit square,
// X to the right and Y upwards. Lines are straight between their points in
// this square, so on a logarithmic axis they are straight in the logarithm.
type Frame struct{ X, Y Axis }

// Place is the position of a pair of values.
func (f Frame) Place(x, y float64) [2]float64 {
	return [2]float64{f.X.Fraction(x), f.Y.Fraction(y)}
}

func (f Frame) placed(xs, ys []float64) [][2]float64 {
	out := make([][2]float64, len(xs))
	for i := range xs {
		out[i] = f.Place(xs[i], ys[i])
	}
	return out
}

// edgeSlack lets a line run along the edge in spite of rounding.
const edgeSlack = 1e-9

// Clip cuts a line at the edges of the square and returns the parts inside.
func (f Frame) Clip(xs, ys []float64) [][][2]float64 {
	var parts [][][2]float64
	var part [][2]float64
	flush := func() {
		if len(part) > 1 {
			parts = append(parts, part)
		}
		part = nil
	}
	line := f.placed(xs, ys)
	for i := 1; i < len(line); i++ {
		from, to, ok := cut(line[i-1], line[i])
		if !ok {
			flush()
			continue
		}
		if len(part) == 0 || part[len(part)-1] != from {
			flush()
			part = [][2]float64{from}
		}
		part = append(part, to)
		if to != inSquare(line[i]) { // left the square before the end of this segment
			flush()
		}
	}
	flush()
	return parts
}

// cut keeps the part of p→q in the square (method of Liang and Barsky, 1984).
func cut(p, q [2]float64) (from, to [2]float64, ok bool) {
	t0, t1 := 0.0, 1.0
	for k := range 2 {
		d := q[k] - p[k]
		for _, side := range [2][2]float64{{-d, p[k] + edgeSlack}, {d, 1 + edgeSlack - p[k]}} {
			switch {
			case side[0] == 0 && side[1] < 0:
				return p, q, false
			case side[0] < 0:
				t0 = math.Max(t0, side[1]/side[0])
			case side[0] > 0:
				t1 = math.Min(t1, side[1]/side[0])
			}
		}
	}
	if t0 > t1 || t0 == t1 && p != q {
		return p, q, false
	}
	at := func(t float64) [2]float64 {
		return inSquare([2]float64{p[0] + t*(q[0]-p[0]), p[1] + t*(q[1]-p[1])})
	}
	from, to = inSquare(p), inSquare(q)
	if t0 > 0 {
		from = at(t0)
	}
	if t1 < 1 {
		to = at(t1)
	}
	return from, to, true
}

func inSquare(p [2]float64) [2]float64 {
	return [2]float64{math.Min(math.Max(p[0], 0), 1), math.Min(math.Max(p[1], 0), 1)}
}

// Area cuts a polygon at the edges of the square, edge by edge (method of
// Sutherland and Hodgman, 1974). It is nil when nothing lies inside.
func (f Frame) Area(xs, ys []float64) [][2]float64 {
	polygon := f.placed(xs, ys)
	for k := range 2 {
		polygon = keep(polygon, k, func(v float64) float64 { return v })
		polygon = keep(polygon, k, func(v float64) float64 { return 1 - v })
	}
	if math.Abs(areaOf(polygon)) < edgeSlack {
		return nil
	}
	return polygon
}

// keep is the part of a polygon where a measure of one coordinate is at least
// zero.
func keep(polygon [][2]float64, k int, inside func(float64) float64) [][2]float64 {
	var out [][2]float64
	for i, q := range polygon {
		p := polygon[(i+len(polygon)-1)%len(polygon)]
		a, b := inside(p[k]), inside(q[k])
		if (a < 0) != (b < 0) {
			t := a / (a - b)
			out = append(out, inSquareAlong(p, q, t, k))
		}
		if b >= 0 {
			out = append(out, q)
		}
	}
	return out
}

// inSquareAlong is the point at t between p and q, set exactly on the edge
// that coordinate k crosses.
func inSquareAlong(p, q [2]float64, t float64, k int) [2]float64 {
	r := [2]float64{p[0] + t*(q[0]-p[0]), p[1] + t*(q[1]-p[1])}
	r[k] = math.Round(r[k])
	return r
}

// areaOf is the signed area of a polygon.
func areaOf(polygon [][2]float64) float64 {
	sum := 0.0
	for i, q := range polygon {
		p := polygon[(i+len(polygon)-1)%len(polygon)]
		sum += p[0]*q[1] - q[0]*p[1]
	}
	return sum / 2
}
