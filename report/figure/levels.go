package figure

import "gonum.org/v1/plot/vg"

// refDashes are the dashes of reference lines.
var refDashes = []vg.Length{3, 2}

// drawBands grounds a page with the references that are ranges.
func (f *facingPages) drawBands(p *pen, page int, levels []Reference) {
	for _, r := range levels {
		if r.From < r.To {
			b := uprightBox(f.x0(page), f.y(r.From), f.x0(page)+f.page, f.y(r.To))
			p.fill(ink(BandColor), b[:])
		}
	}
}

// drawLevels draws the references that are lines.
func (f *facingPages) drawLevels(p *pen, page int, levels []Reference) {
	for _, r := range levels {
		if r.From == r.To {
			x0, y := f.x0(page), f.y(r.From)
			p.stroke(RefColor, 0.7, refDashes, []vg.Point{{X: x0, Y: y}, {X: x0 + f.page, Y: y}})
		}
	}
}

// nameLevels letters lines and bands where there is room on a page, clear of
// obstacles and of the page's lines, and else in the gutter.
func (f *facingPages) nameLevels(p *pen, levels []Reference, obstacles []box, lines [2][][]vg.Point) {
	for _, r := range levels {
		if r.Label != "" {
			f.nameLevel(p, r, levels, obstacles, lines)
		}
	}
}

func (f *facingPages) nameLevel(p *pen, r Reference, levels []Reference, obstacles []box, lines [2][][]vg.Point) {
	l := lettering{size: smallSize, italic: true, color: RefColor, ay: 0.5}
	s := l.fit(r.Label, f.page-6)
	half := l.size * capHeight / 2
	heights := []vg.Length{f.y(r.From) + half + 2.2, f.y(r.From) - half - 2.2}
	if r.From < r.To {
		lo, hi := f.y(r.From), f.y(r.To)
		heights = []vg.Length{hi - half - 2, lo + half + 2, hi + half + 2.2, lo - half - 2.2}
	}
	w := l.width(s)
	for _, y := range heights {
		for _, fraction := range []vg.Length{0, 1, 0.5, 0.25, 0.75} {
			for _, page := range []int{1, 0} {
				at := vg.Point{X: f.x0(page) + 3 + fraction*(f.page-6-w), Y: y}
				b := l.box(at, s)
				if y-half > f.foot && y+half < f.foot+f.tall && !f.onLevel(b, levels) &&
					!crosses(b.grown(0.8), lines[page]) && p.textIfFree(l, at, s, obstacles) {
					return
				}
			}
		}
	}
	for _, y := range heights {
		if f.nameInGutter(p, l.at(0.5, 0.5), l.wrap(r.Label, f.gutter-4), y, y > f.y(r.From)) {
			return
		}
	}
}

// nameInGutter letters lines of text upwards or downwards from a height where
// all of them have room.
func (f *facingPages) nameInGutter(p *pen, l lettering, lines []string, y vg.Length, up bool) bool {
	if up {
		y += lineGap * vg.Length(len(lines)-1)
	}
	at := func(i int) vg.Point {
		return vg.Point{X: f.left + f.page + f.gutter/2, Y: y - lineGap*vg.Length(i)}
	}
	for i, s := range lines {
		if !p.free(l.box(at(i), s).grown(0.6), nil) {
			return false
		}
	}
	for i, s := range lines {
		p.text(l, at(i), s)
	}
	return true
}

// onLevel tells whether a box would lie across a reference line.
func (f *facingPages) onLevel(b box, levels []Reference) bool {
	for _, r := range levels {
		if y := f.y(r.From); r.From == r.To && b.meets(vg.Point{Y: y}, vg.Point{X: f.width, Y: y}) {
			return true
		}
	}
	return false
}
