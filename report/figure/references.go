package figure

import "gonum.org/v1/plot/vg"

// obstacles are the places of marks and error bars that lettering avoids.
func (f *facingSheet) obstacles() []box {
	var out []box
	for page := range 2 {
		for i, m := range f.body.Pages[page].Marks {
			at := f.at(page, i, m.Value)
			out = append(out, around(at, markRadius+1.2))
			if lo, hi, ok := f.geometry.Bar(m); ok {
				out = append(out, uprightBox(at.X-2, f.y(lo)-1, at.X+2, f.y(hi)+1))
			}
			if len(f.body.Stack) > 0 {
				w := f.barWidth(page) / 2
				out = append(out, uprightBox(at.X-w, f.foot, at.X+w, at.Y))
			}
			if m.Limit {
				out = append(out, uprightBox(at.X-2, at.Y-11, at.X+2, at.Y))
			}
		}
	}
	return out
}

// nameReference letters a line or band where there is room on a page, and else
// in the gutter.
func (f *facingSheet) nameReference(p *pen, r Reference, obstacles []box) {
	if r.Label == "" {
		return
	}
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
				if y-half > f.foot && y+half < f.foot+f.tall && !f.onReference(b) && p.textIfFree(l, at, s, obstacles) {
					return
				}
			}
		}
	}
	for _, y := range heights {
		at := vg.Point{X: f.left + f.page + f.gutter/2, Y: y}
		if p.textIfFree(l.at(0.5, 0.5), at, l.fit(r.Label, f.gutter-4), nil) {
			return
		}
	}
}

// onReference tells whether a box would lie across a reference line.
func (f *facingSheet) onReference(b box) bool {
	for _, r := range f.body.References {
		if y := f.y(r.From); r.From == r.To && b.meets(vg.Point{Y: y}, vg.Point{X: f.width, Y: y}) {
			return true
		}
	}
	return false
}
