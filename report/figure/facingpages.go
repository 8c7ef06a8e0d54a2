package figure

import (
	"math"

	"gonum.org/v1/plot/vg"
)

// facingPages is the frame of two facing pages with a shared vertical axis,
// lettered at both outer margins, and lines of text in the gutter.
type facingPages struct {
	axis        Axis
	ticks       []Tick
	width       vg.Length
	left, right vg.Length // outer margins
	gutter      vg.Length
	page        vg.Length // width of a page
	tall        vg.Length // height of a page
	foot        vg.Length // of the pages above the bottom; set when the rest is known
	lines       []string  // of the gutter
	heads       heads
}

// layPages lays out everything but the heads and the room below the pages. The
// gutter gets the least width or what its lines need.
func layPages(axis Axis, gutter []string, width, tall, least vg.Length) facingPages {
	f := facingPages{axis: axis, width: width, tall: tall, gutter: least}
	f.layGutter(gutter)
	f.ticks = axis.Ticks(int(f.tall / 26))
	// Both margins have room for the axis title, so that the gutter stands in
	// the middle of the sheet.
	f.left = widestTick(f.ticks) + 8 + lineGap + 2
	f.right = f.left
	f.page = (width - f.left - f.right - f.gutter) / 2
	return f
}

func widestTick(ticks []Tick) vg.Length {
	widest := vg.Length(0)
	for _, t := range ticks {
		widest = max(widest, small.width(t.Label))
	}
	return widest
}

func (f *facingPages) layGutter(gutter []string) {
	widest := vg.Length(0)
	for _, s := range gutter {
		widest = max(widest, small.width(s))
	}
	f.gutter = max(f.gutter, min(widest+12, f.width*0.21))
	for _, s := range gutter {
		f.lines = append(f.lines, small.wrap(s, f.gutter-8)...)
	}
	f.tall = max(f.tall, lineGap*vg.Length(len(f.lines))+12)
}

// x0 is the left edge of a page.
func (f *facingPages) x0(page int) vg.Length {
	return f.left + vg.Length(page)*(f.page+f.gutter)
}

func (f *facingPages) y(v float64) vg.Length {
	return f.foot + f.tall*vg.Length(f.axis.Held(v))
}

func (f *facingPages) drawGrid(p *pen, page int) {
	x0, x1 := f.x0(page), f.x0(page)+f.page
	var grid [][]vg.Point
	for _, t := range f.ticks {
		if t.Label != "" {
			grid = append(grid, []vg.Point{{X: x0, Y: f.y(t.Value)}, {X: x1, Y: f.y(t.Value)}})
		}
	}
	p.stroke(GridColor, hairWidth, nil, grid...)
}

// drawFrame draws the foot and the outer side of a page.
func (f *facingPages) drawFrame(p *pen, page int) {
	outer, inner := f.x0(page), f.x0(page)+f.page
	if page == 1 {
		outer, inner = inner, outer
	}
	p.stroke(InkColor, frameWidth, nil, []vg.Point{{X: outer, Y: f.foot + f.tall}, {X: outer, Y: f.foot}, {X: inner, Y: f.foot}})
}

// drawAxis letters the shared axis at both outer margins.
func (f *facingPages) drawAxis(p *pen) {
	x0, x1 := f.left, f.width-f.right
	var marks [][]vg.Point
	for _, t := range f.ticks {
		y, long := f.y(t.Value), vg.Length(3)
		if t.Label == "" {
			long = 1.5
		}
		marks = append(marks, []vg.Point{{X: x0 - long, Y: y}, {X: x0, Y: y}}, []vg.Point{{X: x1, Y: y}, {X: x1 + long, Y: y}})
		// A label that would touch the one below it is left out on both sides.
		if t.Label != "" && p.textIfFree(small.at(1, 0.5), vg.Point{X: x0 - 4.5, Y: y}, t.Label, nil) {
			p.text(small.at(0, 0.5), vg.Point{X: x1 + 4.5, Y: y}, t.Label)
		}
	}
	p.stroke(InkColor, 0.5, nil, marks...)
	title := lettering{size: smallSize, color: InkColor, ax: 0.5, ay: 1, angle: math.Pi / 2}
	p.text(title, vg.Point{X: 2, Y: f.foot + f.tall/2}, title.fit(f.axis.Title(), f.tall))
}

func (f *facingPages) drawGutter(p *pen) {
	x := f.left + f.page + f.gutter/2
	y := f.foot + f.tall/2 + lineGap*vg.Length(len(f.lines)-1)/2
	for _, s := range f.lines {
		p.text(small.at(0.5, 0.5), vg.Point{X: x, Y: y}, s)
		y -= lineGap
	}
}
