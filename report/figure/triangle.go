package figure

import "math"

// TriangleHeight is the height of an equilateral triangle of side 1.
var TriangleHeight = math.Sqrt(3) / 2

// Triangle is the geometry of a Ternary: an equilateral triangle of side 1
// with the first corner at (0, 0), the second on top and the third at (1, 0).
// The printed and the interactive drawing both place everything with it.
type Triangle struct{}

// Place gives the position of a share. x runs from 0 to 1 and y from 0 to
// TriangleHeight:
//
//	x = b/2 + c    y = b·√3/2
func (Triangle) Place(s Share) (x, y float64) {
	return s[1]/2 + s[2], s[1] * TriangleHeight
}

// Share is the inverse of Place. Positions outside the triangle have a
// negative share.
func (Triangle) Share(x, y float64) Share {
	b := y / TriangleHeight
	c := x - b/2
	return Share{1 - b - c, b, c}
}

// Contains tells whether no share is negative, within rounding.
func (Triangle) Contains(s Share) bool {
	for _, v := range s {
		if v < -shareSlack {
			return false
		}
	}
	return true
}

// shareSlack is the rounding allowed in shares; sums are held to sumSlack.
const (
	shareSlack = 1e-9
	sumSlack   = 1e-6
)

// Clip cuts a line at the sides of the triangle and returns the parts inside.
// The cut is made in composition space, where a side is "this share is zero".
func (Triangle) Clip(line []Share) [][]Share {
	var parts [][]Share
	var part []Share
	flush := func() {
		if len(part) > 1 {
			parts = append(parts, part)
		}
		part = nil
	}
	for i := 1; i < len(line); i++ {
		from, to, ok := clipSegment(line[i-1], line[i])
		if !ok {
			flush()
			continue
		}
		if len(part) == 0 || part[len(part)-1] != from {
			flush()
			part = []Share{from}
		}
		part = append(part, to)
		if to != line[i] { // left the triangle before the end of this segment
			flush()
		}
	}
	flush()
	return parts
}

// clipSegment keeps the part of p→q where every share is at least zero. It
// moves an end only when that end lies outside, so that neighbouring segments
// keep identical joints.
func clipSegment(p, q Share) (from, to Share, ok bool) {
	t0, t1 := 0.0, 1.0
	for k := range p {
		switch {
		case p[k] < 0 && q[k] < 0:
			return p, q, false
		case p[k] < 0:
			t0 = math.Max(t0, p[k]/(p[k]-q[k]))
		case q[k] < 0:
			t1 = math.Min(t1, p[k]/(p[k]-q[k]))
		}
	}
	if t0 >= t1 {
		return p, q, false
	}
	from, to = p, q
	if t0 > 0 {
		from = between(p, q, t0)
	}
	if t1 < 1 {
		to = between(p, q, t1)
	}
	return from, to, true
}

// between is the share at the fraction t of the way from p to q, with rounding
// below zero removed.
func between(p, q Share, t float64) Share {
	var s Share
	for k := range s {
		s[k] = math.Max(0, p[k]+t*(q[k]-p[k]))
	}
	return s
}

// GridLine is a line of equal share of one corner.
type GridLine struct {
	Corner   int     // whose share is constant
	Value    float64 // that share
	From, To Share   // From lies on the side where the line is lettered
}

// Grid returns the inner lines of a grid of n steps, corner by corner: for
// n = 10 the 27 lines at 10 %, 20 % … 90 %. Shares are read anticlockwise:
// the first corner on the left side, the third below, the second on the right.
func (Triangle) Grid(n int) []GridLine {
	var lines []GridLine
	for corner := range 3 {
		for i := 1; i < n; i++ {
			v := float64(i) / float64(n)
			next, last := (corner+1)%3, (corner+2)%3
			var from, to Share
			from[corner], from[next] = v, 1-v
			to[corner], to[last] = v, 1-v
			lines = append(lines, GridLine{Corner: corner, Value: v, From: from, To: to})
		}
	}
	return lines
}

// LetteringAngle is the lean, in degrees anticlockwise, of tick labels that
// belong to lines of equal share of a corner, so that a label continues its
// line: -60 on the left side, 0 on the right, 60 below.
func (Triangle) LetteringAngle(corner int) float64 { return [3]float64{-60, 0, 60}[corner] }
