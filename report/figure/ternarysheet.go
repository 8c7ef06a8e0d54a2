package figure

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
)

// ternarySheet is a Ternary laid out at a width.
type ternarySheet struct {
	body   *Ternary
	groups []Group
	side   vg.Length
	left   vg.Length // of the first corner
	foot   vg.Length // height of the first corner above the bottom
	top    vg.Length // room above the top corner
	legend legend
}

// Room about the triangle, in points, and the longest side.
const (
	ternaryMargin = vg.Length(30)
	ternaryFoot   = vg.Length(29)
	ternaryTop    = vg.Length(16)
	ternarySide   = vg.Length(430)
)

func layTernary(b *Ternary, groups []Group, width vg.Length) *ternarySheet {
	t := &ternarySheet{body: b, groups: groups, top: ternaryTop}
	t.side = min(width-2*ternaryMargin, ternarySide)
	t.left = (width - t.side) / 2
	t.legend = flow(t.entries(), width-8)
	t.foot = ternaryFoot + t.legend.height()
	return t
}

func (t *ternarySheet) entries() []entry {
	var out []entry
	used := make([]bool, len(t.groups))
	for _, p := range t.body.Points {
		used[p.Group] = true
	}
	for i, g := range t.groups {
		if used[i] {
			out = append(out, entry{markSign(LookOf(i), false), g.Label})
		}
	}
	if len(t.body.Isotherms) > 0 {
		out = append(out, entry{lineSign(IsoColor, isoMajorWidth, nil), "liquidus isotherms (°C)"})
	}
	if len(t.body.Boundaries) > 0 {
		out = append(out, entry{lineSign(InkColor, boundWidth, nil), "boundaries of first phases"})
	}
	return out
}

func (t *ternarySheet) height() vg.Length {
	return t.foot + t.side*vg.Length(TriangleHeight) + t.top
}

// at places a share on the sheet.
func (t *ternarySheet) at(s Share) vg.Point {
	x, y := Triangle{}.Place(s)
	return vg.Point{X: t.left + t.side*vg.Length(x), Y: t.foot + t.side*vg.Length(y)}
}

// path places a line, leaving out points that fall on the one before.
func (t *ternarySheet) path(line []Share) []vg.Point {
	pts := make([]vg.Point, 0, len(line))
	for _, s := range line {
		p := t.at(s)
		if n := len(pts); n > 0 && math.Hypot(float64(p.X-pts[n-1].X), float64(p.Y-pts[n-1].Y)) < 0.02 {
			continue
		}
		pts = append(pts, p)
	}
	return pts
}

func (t *ternarySheet) paths(lines ...[]Share) [][]vg.Point {
	var out [][]vg.Point
	for _, line := range lines {
		for _, part := range (Triangle{}).Clip(line) {
			if pts := t.path(part); len(pts) > 1 {
				out = append(out, pts)
			}
		}
	}
	return out
}

func (t *ternarySheet) draw(p *pen) {
	t.drawGrid(p)
	var minor, major [][]Share
	for _, iso := range t.body.Isotherms {
		if iso.Major {
			major = append(major, iso.Line)
		} else {
			minor = append(minor, iso.Line)
		}
	}
	p.stroke(IsoColor, isoWidth, nil, t.paths(minor...)...)
	p.stroke(IsoColor, isoMajorWidth, nil, t.paths(major...)...)
	bounds := t.paths(t.body.Boundaries...)
	p.stroke(InkColor, boundWidth, nil, bounds...)
	a, b, c := t.at(Share{1, 0, 0}), t.at(Share{0, 1, 0}), t.at(Share{0, 0, 1})
	var frame vg.Path
	frame.Move(a)
	frame.Line(b)
	frame.Line(c)
	frame.Close()
	p.strokePath(InkColor, frameWidth, nil, frame)

	t.drawCorners(p, a, b, c)
	t.legend.draw(p)
	marks := make([]box, 0, len(t.body.Points))
	for _, pt := range t.body.Points {
		marks = append(marks, around(t.at(pt.At), markRadius+1))
	}
	t.drawFields(p, marks, bounds)
	t.drawIsothermLabels(p, marks)
	for _, pt := range t.body.Points {
		p.mark(LookOf(pt.Group), t.at(pt.At), false)
	}
}

func (t *ternarySheet) drawGrid(p *pen) {
	var lines [][]vg.Point
	for _, g := range (Triangle{}).Grid(10) {
		lines = append(lines, []vg.Point{t.at(g.From), t.at(g.To)})
	}
	p.stroke(GridColor, hairWidth, nil, lines...)
	for _, g := range (Triangle{}).Grid(5) {
		angle := Triangle{}.LetteringAngle(g.Corner) * math.Pi / 180
		l := lettering{size: smallSize, color: MutedColor, ax: 1, ay: 0.5, angle: angle}
		out := vg.Point{X: -vg.Length(math.Cos(angle)), Y: -vg.Length(math.Sin(angle))}
		if g.Corner == 1 { // the right side is lettered outwards, to the right
			l.ax, out = 0, vg.Point{X: 1}
		}
		from := t.at(g.From)
		p.stroke(InkColor, 0.5, nil, []vg.Point{from, from.Add(out.Scale(3))})
		p.text(l, from.Add(out.Scale(4.5)), number(g.Value*100, 0))
	}
}

// drawCorners letters the corners, and the sides with an arrow in the
// direction in which the share grows.
func (t *ternarySheet) drawCorners(p *pen, a, b, c vg.Point) {
	l := lettering{size: headSize, bold: true, color: InkColor}
	names := t.body.Corners
	put := func(at vg.Point, s string, ay vg.Length) {
		s = l.fit(s, min(p.width/2-12, t.side-8))
		half := l.width(s) / 2
		at.X = max(half+2, min(at.X, p.width-half-2))
		p.text(l.at(0.5, ay), at, s)
	}
	put(a.Add(vg.Point{Y: -17}), names[0], 1)
	put(b.Add(vg.Point{Y: 6}), names[1], 0)
	put(c.Add(vg.Point{Y: -17}), names[2], 1)

	sides := [3]struct {
		from, to vg.Point
		angle    float64
		before   bool // the arrow stands before the name
	}{{a, b, 60, true}, {b, c, -60, true}, {a, c, 0, false}}
	for i, name := range [3]string{names[0], names[1], names[2]} {
		s := sides[i]
		text := name + " (%) →"
		if s.before {
			text = "← " + name + " (%)"
		}
		angle := s.angle * math.Pi / 180
		out := vg.Point{X: -vg.Length(math.Sin(angle)), Y: vg.Length(math.Cos(angle))}.Scale(21)
		if i == 2 {
			out = vg.Point{Y: -21}
		}
		sideText := lettering{size: smallSize, color: MutedColor, ax: 0.5, ay: 0.5, angle: angle}
		mid := s.from.Add(s.to).Scale(0.5).Add(out)
		p.textIfFree(sideText, mid, sideText.fit(text, t.side*0.6), nil)
	}
}

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
