package figure

import (
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
)

// curvesSheet is a Curves laid out at a width.
type curvesSheet struct {
	facingPages
	body   *Curves
	groups []Group
	across []Tick // of the horizontal axis
	strip  strip  // names of the references, over each page
	keys   [2]key // of samples, where the page has no room for their names
	legend legend
}

// acrossFoot is the room below a frame for the lettering of its horizontal axis.
const acrossFoot = vg.Length(27)

func layCurves(b *Curves, groups []Group, width vg.Length) *curvesSheet {
	f := &curvesSheet{body: b, groups: groups}
	f.facingPages = layPages(b.Y, b.Gutter, width, max(120, min(260, 0.42*width)), 28)
	f.heads = layHeads(groups, [2]int{b.Pages[0].Group, b.Pages[1].Group}, f.page)
	f.across = b.X.Ticks(max(2, int(f.page/30)))
	f.strip = layStrip(b.X, b.References, f.page)
	f.legend = flow(f.entries(), width-8)
	f.foot = f.legend.height() + acrossFoot
	f.layKeys()
	f.foot += max(f.keys[0].height(), f.keys[1].height())
	return f
}

func (f *curvesSheet) entries() []entry {
	var out []entry
	if f.body.Crowded() {
		out = append(out, entry{lineSign(MutedColor, 0.5, nil), "one line a sample, too many for their names"})
	}
	for _, page := range f.body.Pages {
		for _, c := range page.Lines {
			if c.Dashed {
				return append(out, entry{lineSign(MutedColor, 1, lengths(outsideDots)), "outside the model's range"})
			}
		}
	}
	return out
}

func (f *curvesSheet) height() vg.Length {
	return f.foot + f.tall + f.strip.height() + f.heads.height()
}

func (f *curvesSheet) x(page int, v float64) vg.Length {
	return f.x0(page) + f.page*vg.Length(f.body.X.Held(v))
}

// run is a line on the sheet, in the parts that the frame leaves of it.
func (f *curvesSheet) run(page int, c Curve) [][]vg.Point {
	return onSheet(f.body.Frame().Clip(c.X, c.Y), vg.Point{X: f.x0(page), Y: f.foot}, vg.Point{X: f.page, Y: f.tall})
}

// onSheet places lines of the unit square on the sheet, leaving out points that
// fall on the one before.
func onSheet(parts [][][2]float64, corner, size vg.Point) [][]vg.Point {
	out := make([][]vg.Point, 0, len(parts))
	for _, part := range parts {
		var pts []vg.Point
		for i, q := range part {
			p := vg.Point{X: corner.X + size.X*vg.Length(q[0]), Y: corner.Y + size.Y*vg.Length(q[1])}
			if n := len(pts); n > 0 && i < len(part)-1 && math.Hypot(float64(p.X-pts[n-1].X), float64(p.Y-pts[n-1].Y)) < 0.02 {
				continue
			}
			pts = append(pts, p)
		}
		out = append(out, pts)
	}
	return out
}

func (f *curvesSheet) draw(p *pen) {
	for page, side := range f.body.Pages {
		f.drawGround(p, page)
		f.drawFrame(p, page)
		f.drawAcross(p, page)
		f.strip.draw(p, f.x0(page), f.foot+f.tall)
		f.heads.draw(p, page, LookOf(side.Group), f.x0(page)+f.page/2, f.foot+f.tall+f.strip.height(), true)
	}
	f.drawAxis(p)
	f.drawGutter(p)
	title := small.at(0.5, 0.5)
	p.text(title, vg.Point{X: f.width / 2, Y: f.foot - 19}, title.fit(f.body.X.Title(), f.width-8))

	var drawn [2][][]vg.Point
	p.crowded = f.body.Crowded()
	for page, side := range f.body.Pages {
		looks := f.body.Strokes(page)
		order := make([]int, len(looks))
		for i := range order {
			order[i] = i
		}
		if p.crowded { // lines of one look one after another, which makes one path of them
			slices.SortStableFunc(order, func(i, j int) int { return len(looks[i].Dashes) - len(looks[j].Dashes) })
		}
		for _, i := range order {
			parts := f.run(page, side.Lines[i])
			p.strokeOf(looks[i], parts...)
			drawn[page] = append(drawn[page], parts...)
		}
	}
	p.crowded = false
	f.nameLevels(p, f.body.Levels, nil, drawn)
	for page := range 2 {
		if !f.body.Crowded() {
			f.nameCurves(p, page)
		}
		f.keys[page].draw(p, f.width/2*vg.Length(page), f.foot-acrossFoot)
	}
	f.legend.draw(p)
}

// drawGround draws bands, grid and reference lines of a page.
func (f *curvesSheet) drawGround(p *pen, page int) {
	top := f.foot + f.tall
	for _, r := range f.body.References {
		if r.From < r.To {
			b := uprightBox(f.x(page, r.From), f.foot, f.x(page, r.To), top)
			p.fill(ink(BandColor), b[:])
		}
	}
	f.drawBands(p, page, f.body.Levels)
	f.drawGrid(p, page)
	var grid [][]vg.Point
	for _, t := range f.across {
		if t.Label != "" {
			grid = append(grid, []vg.Point{{X: f.x(page, t.Value), Y: f.foot}, {X: f.x(page, t.Value), Y: top}})
		}
	}
	p.stroke(GridColor, hairWidth, nil, grid...)
	p.stroke(RefColor, 0.7, refDashes, f.uprights(page)...)
	f.drawLevels(p, page, f.body.Levels)
}

// uprights are the references that are lines.
func (f *curvesSheet) uprights(page int) [][]vg.Point {
	var out [][]vg.Point
	for _, r := range f.body.References {
		if r.From == r.To {
			x := f.x(page, r.From)
			out = append(out, []vg.Point{{X: x, Y: f.foot}, {X: x, Y: f.foot + f.tall + 2}})
		}
	}
	return out
}

// drawAcross letters the horizontal axis below a page.
func (f *curvesSheet) drawAcross(p *pen, page int) {
	drawAcross(p, f.across, f.foot, func(v float64) vg.Length { return f.x(page, v) })
}

// drawAcross letters a horizontal axis at a height.
func drawAcross(p *pen, ticks []Tick, foot vg.Length, x func(float64) vg.Length) {
	var marks [][]vg.Point
	for _, t := range ticks {
		at, long := vg.Point{X: x(t.Value), Y: foot}, vg.Length(3)
		if t.Label == "" {
			long = 1.5
		} else {
			p.textIfFree(small.at(0.5, 1), at.Sub(vg.Point{Y: 5}), t.Label, nil)
		}
		marks = append(marks, []vg.Point{at, at.Sub(vg.Point{Y: long})})
	}
	p.stroke(InkColor, 0.5, nil, marks...)
}

// strokeOf draws lines in a look.
func (p *pen) strokeOf(s Stroke, lines ...[]vg.Point) {
	p.stroke(s.Color, vg.Length(s.Width), lengths(s.Dashes), lines...)
}

func lengths(points []float64) []vg.Length {
	var out []vg.Length
	for _, v := range points {
		out = append(out, vg.Length(v))
	}
	return out
}
