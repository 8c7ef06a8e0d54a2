package figure

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
)

// drawFields names the fields, larger ones first. A name moves a little, or is
// left out, rather than cover a point or another name; it crosses a boundary
// only when the field is too narrow for it.
func (t *ternarySheet) drawFields(p *pen, marks []box, bounds [][]vg.Point) {
	l := lettering{size: smallSize, italic: true, color: MutedColor, ax: 0.5, ay: 0.5}
	fields := slices.Clone(t.body.Fields)
	slices.SortStableFunc(fields, func(a, b FieldLabel) int { return cmp.Compare(b.Area, a.Area) })
	for _, f := range fields {
		at, text := t.at(f.At), l.fit(f.Text, t.side/3)
		for _, off := range fieldOffsets() {
			to := at.Add(off)
			b := l.box(to, text)
			if !t.holds(b) || crosses(b, bounds) || crossed(at, to, bounds) || !p.free(b.grown(0.8), marks) {
				continue
			}
			p.halo(b)
			p.text(l, to, text)
			text = ""
			break
		}
		if b := l.box(at, text); text != "" && t.holds(b) && p.free(b.grown(0.8), marks) {
			p.halo(b)
			p.text(l, at, text)
		}
	}
}

// fieldOffsets are the moves tried for a field's name, nearest first.
func fieldOffsets() []vg.Point {
	offsets := []vg.Point{{}}
	for _, r := range []vg.Length{5, 10, 16, 23, 31, 40} {
		for k := range 12 {
			sin, cos := math.Sincos(float64(k) * math.Pi / 6)
			offsets = append(offsets, vg.Point{X: r * vg.Length(cos), Y: r * vg.Length(sin)})
		}
	}
	return offsets
}

// holds tells whether a box lies inside the triangle.
func (t *ternarySheet) holds(b box) bool {
	for _, pt := range b {
		s := Triangle{}.Share(float64((pt.X-t.left)/t.side), float64((pt.Y-t.foot)/t.side))
		if !(Triangle{}).Contains(s) {
			return false
		}
	}
	return true
}

func crosses(b box, lines [][]vg.Point) bool {
	for _, line := range lines {
		for i := 1; i < len(line); i++ {
			if b.meets(line[i-1], line[i]) {
				return true
			}
		}
	}
	return false
}

// crossed tells whether a move leads over one of the lines.
func crossed(from, to vg.Point, lines [][]vg.Point) bool {
	if from == to {
		return false
	}
	u := unit(to.Sub(from))
	n := vg.Point{X: -u.Y, Y: u.X}.Scale(0.01)
	return crosses(box{from.Sub(n), to.Sub(n), to.Add(n), from.Add(n)}, lines)
}

// drawIsothermLabels letters each major isotherm once, on the line.
func (t *ternarySheet) drawIsothermLabels(p *pen, marks []box) {
	for _, iso := range t.body.Isotherms {
		if !iso.Major {
			continue
		}
		text := number(iso.TC, 0)
		var longest []vg.Point
		for _, part := range t.paths(iso.Line) {
			if runLength(part) > runLength(longest) {
				longest = part
			}
		}
		if runLength(longest) < 1.6*small.width(text) {
			continue
		}
		for _, f := range []float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88} {
			at, angle := along(longest, f)
			l := lettering{size: smallSize, color: InkColor, ax: 0.5, ay: 0.5, angle: angle}
			if b := l.box(at, text); t.holds(b) && p.free(b.grown(1), marks) {
				p.halo(b)
				p.text(l, at, text)
				break
			}
		}
	}
}

// halo clears the ground under a label.
func (p *pen) halo(b box) {
	b = b.grown(0.4)
	p.fill(ink("#FFFFFF"), b[:])
}

func runLength(line []vg.Point) vg.Length {
	var sum vg.Length
	for i := 1; i < len(line); i++ {
		d := line[i].Sub(line[i-1])
		sum += vg.Length(math.Hypot(float64(d.X), float64(d.Y)))
	}
	return sum
}

// along is the place at a fraction of a line's length and the line's angle
// there, turned so that text stands upright. The angle is taken over about the
// length of a label, so that a short kink does not tilt it.
func along(line []vg.Point, f float64) (vg.Point, float64) {
	total := runLength(line)
	at := pointAt(line, vg.Length(f)*total)
	back, ahead := pointAt(line, vg.Length(f)*total-6), pointAt(line, vg.Length(f)*total+6)
	d := ahead.Sub(back)
	if d.X < 0 {
		d = d.Scale(-1)
	}
	return at, math.Atan2(float64(d.Y), float64(d.X))
}

func pointAt(line []vg.Point, run vg.Length) vg.Point {
	if run <= 0 {
		return line[0]
	}
	for i := 1; i < len(line); i++ {
		d := line[i].Sub(line[i-1])
		n := vg.Length(math.Hypot(float64(d.X), float64(d.Y)))
		if run <= n {
			return line[i-1].Add(d.Scale(run / n))
		}
		run -= n
	}
	return line[len(line)-1]
}
