package figure

import (
	"math"

	"gonum.org/v1/plot/vg"
)

// box is a rectangle that may stand at an angle, given by its corners in turn.
type box [4]vg.Point

// uprightBox spans two opposite corners.
func uprightBox(x0, y0, x1, y1 vg.Length) box {
	return box{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
}

// around is a square of half-width r about a point.
func around(p vg.Point, r vg.Length) box {
	return uprightBox(p.X-r, p.Y-r, p.X+r, p.Y+r)
}

// turned is the box spanned by (x0, y0) and (x1, y1), turned about the origin
// by an angle in radians and then moved by at.
func turned(x0, y0, x1, y1 vg.Length, angle float64, at vg.Point) box {
	b := uprightBox(x0, y0, x1, y1)
	sin, cos := math.Sincos(angle)
	for i, p := range b {
		b[i] = vg.Point{
			X: at.X + p.X*vg.Length(cos) - p.Y*vg.Length(sin),
			Y: at.Y + p.X*vg.Length(sin) + p.Y*vg.Length(cos),
		}
	}
	return b
}

// overlaps tells whether two boxes share area: they do unless a side of one of
// them separates them.
func (b box) overlaps(o box) bool {
	return !b.separates(o) && !o.separates(b)
}

func (b box) separates(o box) bool {
	for i := range 2 {
		axis := b[i+1].Sub(b[i])
		bLo, bHi := b.along(axis)
		oLo, oHi := o.along(axis)
		if bHi <= oLo || oHi <= bLo {
			return true
		}
	}
	return false
}

func (b box) along(axis vg.Point) (lo, hi vg.Length) {
	lo, hi = vg.Length(math.Inf(1)), vg.Length(math.Inf(-1))
	for _, p := range b {
		d := p.Dot(axis)
		lo, hi = min(lo, d), max(hi, d)
	}
	return lo, hi
}

// meets tells whether the line from p to q passes through the box.
func (b box) meets(p, q vg.Point) bool {
	d := q.Sub(p)
	normal := vg.Point{X: -d.Y, Y: d.X}
	lo, hi := b.along(normal)
	at := p.Dot(normal)
	if at <= lo || at >= hi {
		return false
	}
	for i := range 2 {
		axis := b[i+1].Sub(b[i])
		lo, hi := b.along(axis)
		s, t := p.Dot(axis), q.Dot(axis)
		if max(s, t) <= lo || min(s, t) >= hi {
			return false
		}
	}
	return true
}

// within tells whether the box lies in the rectangle from (0, 0) to (w, h).
func (b box) within(w, h vg.Length) bool {
	for _, p := range b {
		if p.X < 0 || p.Y < 0 || p.X > w || p.Y > h {
			return false
		}
	}
	return true
}

// grown is an upright or turned box made larger by r on every side.
func (b box) grown(r vg.Length) box {
	u, v := unit(b[1].Sub(b[0])), unit(b[3].Sub(b[0]))
	sign := [4][2]vg.Length{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}}
	for i := range b {
		b[i] = b[i].Add(u.Scale(sign[i][0] * r)).Add(v.Scale(sign[i][1] * r))
	}
	return b
}

func unit(p vg.Point) vg.Point {
	n := vg.Length(math.Hypot(float64(p.X), float64(p.Y)))
	if n == 0 {
		return vg.Point{}
	}
	return p.Scale(1 / n)
}
