package figure

import (
	"image/color"
	"math"
	"strconv"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// pen draws on a canvas and remembers where text stands, so that no two
// pieces of text overlap and none leaves the figure.
type pen struct {
	draw.Canvas
	width, height vg.Length
	texts         []box    // space taken by text
	lines         []string // the text, in the same order
	crowded       bool     // so many lines that none is looked at closely
}

// line styles, in points.
const (
	frameWidth    = vg.Length(0.75)
	hairWidth     = vg.Length(0.3)
	isoWidth      = vg.Length(0.4)
	isoMajorWidth = vg.Length(0.7)
	boundWidth    = vg.Length(1.1)
	markRadius    = vg.Length(2.7)
	denseRadius   = vg.Length(2.1) // where many marks share a row
	markWidth     = vg.Length(0.8)
)

// ink turns #RRGGBB into a colour.
func ink(hex string) color.NRGBA {
	v, err := strconv.ParseUint(hex[1:], 16, 32)
	if err != nil {
		return color.NRGBA{A: 0xFF} // unreachable: colours are constants of this package
	}
	return color.NRGBA{R: uint8(v >> 16), G: uint8(v >> 8), B: uint8(v), A: 0xFF}
}

// stroke draws lines as one path, without points that nobody could see.
func (p *pen) stroke(hex string, width vg.Length, dashes []vg.Length, lines ...[]vg.Point) {
	var path vg.Path
	stray := vg.Length(unseen)
	if p.crowded {
		stray = unseenInCrowd
	}
	for _, line := range lines {
		for i, pt := range thinned(line, stray) {
			if i == 0 {
				path.Move(pt)
			} else {
				path.Line(pt)
			}
		}
	}
	p.strokePath(hex, width, dashes, path)
}

func (p *pen) strokePath(hex string, width vg.Length, dashes []vg.Length, path vg.Path) {
	if len(path) == 0 {
		return
	}
	p.SetLineStyle(draw.LineStyle{Color: ink(hex), Width: width, Dashes: dashes})
	p.Stroke(path)
}

// fill fills a polygon.
func (p *pen) fill(c color.NRGBA, pts []vg.Point) { p.FillPolygon(c, pts) }

// text draws one line and keeps its place.
func (p *pen) text(l lettering, at vg.Point, s string) {
	s = clean(s)
	if s == "" {
		return
	}
	p.texts = append(p.texts, l.box(at, s))
	p.lines = append(p.lines, s)
	p.SetColor(ink(l.color))
	off := vg.Point{X: -l.ax * l.width(s), Y: -l.ay * capHeight * l.size}
	if l.angle == 0 {
		p.FillString(l.face(), at.Add(off), s)
		return
	}
	p.Push()
	p.Translate(at)
	p.Rotate(l.angle)
	p.FillString(l.face(), off, s)
	p.Pop()
}

// free tells whether a box touches no text and none of the obstacles and lies
// inside the figure.
func (p *pen) free(b box, obstacles []box) bool {
	if !b.within(p.width, p.height) {
		return false
	}
	for _, o := range p.texts {
		if b.overlaps(o) {
			return false
		}
	}
	for _, o := range obstacles {
		if b.overlaps(o) {
			return false
		}
	}
	return true
}

// textIfFree draws a line only where it has room.
func (p *pen) textIfFree(l lettering, at vg.Point, s string, obstacles []box) bool {
	if s == "" || !p.free(l.box(at, s).grown(0.6), obstacles) {
		return false
	}
	p.text(l, at, s)
	return true
}

// mark draws a point of a group; a hollow one is white inside.
func (p *pen) mark(look Look, at vg.Point, hollow bool) {
	p.markOf(look, at, markRadius, hollow)
}

func (p *pen) markOf(look Look, at vg.Point, radius vg.Length, hollow bool) {
	inside := ink(look.Fill)
	if hollow {
		inside = color.NRGBA{R: 0xFF, G: 0xFF, B: 0xFF, A: 0xFF}
	}
	path := outline(look.Shape, at, radius)
	p.SetColor(inside)
	p.Fill(path)
	p.strokePath(look.Edge, markWidth, nil, path)
}

// outline is the path of a shape; shapes of one radius have about the same
// area.
func outline(s Shape, at vg.Point, r vg.Length) vg.Path {
	var path vg.Path
	if s == Round {
		path.Move(vg.Point{X: at.X + r, Y: at.Y})
		path.Arc(at, r, 0, 2*math.Pi)
		path.Close()
		return path
	}
	corners, start, scale := 4, math.Pi/4, 1.25
	switch s {
	case Triangular:
		corners, start, scale = 3, math.Pi/2, 1.35
	case Inverted:
		corners, start, scale = 3, -math.Pi/2, 1.35
	case Diamond:
		start = 0
	}
	for i := range corners {
		sin, cos := math.Sincos(start + 2*math.Pi*float64(i)/float64(corners))
		pt := at.Add(vg.Point{X: vg.Length(cos), Y: vg.Length(sin)}.Scale(r * vg.Length(scale)))
		if i == 0 {
			path.Move(pt)
		} else {
			path.Line(pt)
		}
	}
	path.Close()
	return path
}

// arrow draws a short arrow, the sign of an upper limit.
func (p *pen) arrow(hex string, from, to vg.Point) {
	back := unit(from.Sub(to)).Scale(2)
	side := vg.Point{X: -back.Y, Y: back.X}.Scale(0.7)
	p.stroke(hex, 0.6, nil, []vg.Point{from, to},
		[]vg.Point{to.Add(back).Add(side), to, to.Add(back).Sub(side)})
}

// hatched fills an upright rectangle with the look of a part.
func (p *pen) hatched(look PartLook, x0, y0, x1, y1 vg.Length) {
	corners := uprightBox(x0, y0, x1, y1)
	p.fill(ink(look.Fill), corners[:])
	var lines [][]vg.Point
	if look.Hatch == Rising || look.Hatch == Crossed {
		lines = append(lines, hatchLines(x0, y0, x1, y1, 1)...)
	}
	if look.Hatch == Falling || look.Hatch == Crossed {
		lines = append(lines, hatchLines(x0, y0, x1, y1, -1)...)
	}
	p.stroke(look.Line, 0.4, nil, lines...)
	p.stroke(InkColor, 0.4, nil, append(corners[:], corners[0]))
}

// hatchLines are the lines y = slope·x + n·gap inside a rectangle; they depend
// on the place on the sheet, so that neighbouring bars share one pattern.
func hatchLines(x0, y0, x1, y1, slope vg.Length) [][]vg.Point {
	const gap = 3.2
	var lines [][]vg.Point
	lo, hi := min(y0-slope*x0, y0-slope*x1), max(y1-slope*x0, y1-slope*x1)
	for n := math.Ceil(float64(lo) / gap); n*gap < float64(hi); n++ {
		c := vg.Length(n * gap)
		xa, xb := (y0-c)/slope, (y1-c)/slope
		a, b := max(x0, min(xa, xb)), min(x1, max(xa, xb))
		if b-a > 0.05 {
			lines = append(lines, []vg.Point{{X: a, Y: slope*a + c}, {X: b, Y: slope*b + c}})
		}
	}
	return lines
}
