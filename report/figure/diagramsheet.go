package figure

import (
	"math"

	"gonum.org/v1/plot/vg"
)

// diagramSheet is a Diagram laid out at a width.
type diagramSheet struct {
	body        *Diagram
	groups      []Group
	windows     []Window
	ticks       []Tick // of the vertical axis
	across      []Tick
	width       vg.Length
	left, right vg.Length
	wide, tall  vg.Length // of the frame
	foot        vg.Length
	legend      legend
}

func layDiagram(b *Diagram, groups []Group, width vg.Length) *diagramSheet {
	f := &diagramSheet{body: b, groups: groups, windows: b.Windows(), width: width}
	f.tall = max(150, min(300, 0.6*width))
	f.ticks = b.Y.Ticks(int(f.tall / 26))
	f.left = widestTick(f.ticks) + 8 + lineGap + 2
	f.right = 14
	f.wide = width - f.left - f.right
	f.across = b.X.Ticks(int(f.wide / 34))
	f.legend = flow(f.entries(), width-8)
	f.foot = f.legend.height() + acrossFoot
	return f
}

func (f *diagramSheet) entries() []entry {
	used := make([]bool, len(f.groups))
	var flagged, beyond, moved bool
	for i, s := range f.body.Boxes {
		used[s.Group] = true
		flagged = flagged || s.Flagged
		w := f.windows[i]
		beyond = beyond || w.Below || w.Above
		moved = moved || w.Moved
	}
	out := f.spotEntries()
	for i, g := range f.groups {
		if used[i] {
			look := LookOf(i)
			out = append(out, entry{func(p *pen, at vg.Point) {
				p.stroke(look.Edge, windowWidth, nil, whisker(at.X, at.Y-5, at.Y+5)...)
				p.markOf(look, at, denseRadius, false)
			}, g.Label})
		}
	}
	if flagged {
		out = append(out, entry{flaggedSign, "outside the model's range"})
	}
	if beyond {
		out = append(out, entry{func(p *pen, at vg.Point) {
			p.arrow(MutedColor, at.Add(vg.Point{Y: -4}), at.Add(vg.Point{Y: 4}))
		}, "goes on beyond the frame"})
	}
	if moved {
		out = append(out, entry{func(p *pen, at vg.Point) {
			for _, x := range []vg.Length{-3, 3} {
				p.stroke(MutedColor, windowWidth, nil, whisker(at.X+x, at.Y-4, at.Y+4)...)
			}
		}, "set side by side where they would coincide"})
	}
	return out
}

// windowWidth is the width of a window's bar.
const windowWidth = vg.Length(0.8)

func (f *diagramSheet) height() vg.Length { return f.foot + f.tall + 8 }

// at places a point of the unit square on the sheet.
func (f *diagramSheet) at(q [2]float64) vg.Point {
	return vg.Point{X: f.left + f.wide*vg.Length(q[0]), Y: f.foot + f.tall*vg.Length(q[1])}
}

func (f *diagramSheet) runs(parts [][][2]float64) [][]vg.Point {
	return onSheet(parts, f.at([2]float64{}), vg.Point{X: f.wide, Y: f.tall})
}

func (f *diagramSheet) draw(p *pen) {
	areas := f.drawRegions(p)
	f.drawAxes(p)
	var lines [][][]vg.Point
	for _, line := range f.body.Lines {
		parts := f.runs(f.body.Frame().Clip(line.X, line.Y))
		p.strokeOf(LineStroke(line.Style), parts...)
		lines = append(lines, parts)
	}
	for i, s := range f.body.Boxes {
		f.drawBox(p, s, f.windows[i])
	}
	marks := f.obstacles()
	f.nameLines(p, lines, marks)
	f.nameRegions(p, areas, lines, marks)
	for i, s := range f.body.Boxes {
		f.drawWindow(p, s, f.windows[i])
	}
	f.nameWindows(p, lines, marks)
	f.drawSpots(p, marks)
	f.legend.draw(p)
}

// drawRegions grounds the regions and returns their outlines on the sheet.
func (f *diagramSheet) drawRegions(p *pen) [][]vg.Point {
	var areas [][]vg.Point
	for i, r := range f.body.Regions {
		var pts []vg.Point
		for _, q := range f.body.Frame().Area(r.X, r.Y) {
			pts = append(pts, f.at(q))
		}
		p.fill(ink(RegionFill(i)), pts)
		areas = append(areas, pts)
	}
	for _, a := range areas {
		p.stroke(GridColor, 0.6, nil, append(a[:len(a):len(a)], a[0]))
	}
	return areas
}

func (f *diagramSheet) drawAxes(p *pen) {
	var grid, marks [][]vg.Point
	left, top := f.left, f.foot+f.tall
	for _, t := range f.ticks {
		a, long := f.at([2]float64{0, f.body.Y.Held(t.Value)}), vg.Length(3)
		if t.Label == "" {
			long = 1.5
		} else {
			grid = append(grid, []vg.Point{a, {X: left + f.wide, Y: a.Y}})
			p.textIfFree(small.at(1, 0.5), vg.Point{X: left - 4.5, Y: a.Y}, t.Label, nil)
		}
		marks = append(marks, []vg.Point{{X: left - long, Y: a.Y}, a})
	}
	x := func(v float64) vg.Length { return f.at([2]float64{f.body.X.Held(v)}).X }
	for _, t := range f.across {
		if t.Label != "" {
			grid = append(grid, []vg.Point{{X: x(t.Value), Y: f.foot}, {X: x(t.Value), Y: top}})
		}
	}
	p.stroke(GridColor, hairWidth, nil, grid...)
	p.stroke(InkColor, 0.5, nil, marks...)
	drawAcross(p, f.across, f.foot, x)
	frame := uprightBox(left, f.foot, left+f.wide, top)
	p.stroke(InkColor, frameWidth, nil, append(frame[:], frame[0]))

	title := lettering{size: smallSize, color: InkColor, ax: 0.5, ay: 1, angle: math.Pi / 2}
	p.text(title, vg.Point{X: 2, Y: f.foot + f.tall/2}, title.fit(f.body.Y.Title(), f.tall))
	level := small.at(0.5, 0.5)
	p.text(level, vg.Point{X: left + f.wide/2, Y: f.foot - 19}, level.fit(f.body.X.Title(), f.wide))
}

// drawBox draws the tinted box of a window over a range.
func (f *diagramSheet) drawBox(p *pen, s Span, w Window) {
	if w.Left == w.Right {
		return
	}
	look := LookOf(s.Group)
	a, b := f.at([2]float64{w.Left, w.Lo}), f.at([2]float64{w.Right, w.Hi})
	corners := uprightBox(a.X, a.Y, b.X, b.Y)
	tinted := ink(look.Edge)
	tinted.A = uint8(math.Round(255 * BoxOpacity))
	p.fill(tinted, corners[:])
	p.stroke(look.Edge, 0.5, nil, append(corners[:], corners[0]))
}

// drawWindow draws a window's bar, its caps, or arrows where it goes on beyond
// the frame, and its mark.
func (f *diagramSheet) drawWindow(p *pen, s Span, w Window) {
	look := LookOf(s.Group)
	lo, hi, mid := f.at([2]float64{w.X, w.Lo}), f.at([2]float64{w.X, w.Hi}), f.at(w.Mark())
	bar := [][]vg.Point{{lo, hi}}
	caps := whisker(lo.X, lo.Y, hi.Y)
	if !w.Below {
		bar = append(bar, caps[1])
	}
	if !w.Above {
		bar = append(bar, caps[2])
	}
	p.stroke(look.Edge, windowWidth, nil, bar...)
	if w.Below {
		p.arrow(look.Edge, mid, lo)
	}
	if w.Above {
		p.arrow(look.Edge, mid, hi)
	}
	p.mark(look, mid, s.Flagged)
}
