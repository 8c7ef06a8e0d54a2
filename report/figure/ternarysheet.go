package figure

import (
	"math"

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
