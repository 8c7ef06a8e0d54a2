package figure

import (
	"math"

	"gonum.org/v1/plot/vg"
)

// obstacles are the places of bars and marks that lettering avoids.
func (f *diagramSheet) obstacles() []box {
	var out []box
	for _, w := range f.windows {
		lo, hi := f.at([2]float64{w.X, w.Lo}), f.at([2]float64{w.X, w.Hi})
		out = append(out, uprightBox(lo.X-2.2, lo.Y-1, hi.X+2.2, hi.Y+1), around(f.at(w.Mark()), markRadius+1.2))
	}
	for _, s := range f.body.Points {
		out = append(out, around(f.spot(s), markRadius+1.2))
		for _, b := range f.barsOf(s) {
			out = append(out, uprightBox(b[0].X-0.8, b[0].Y-0.8, b[1].X+0.8, b[1].Y+0.8))
		}
	}
	return out
}

// boxSides are the outlines of the windows over a range.
func (f *diagramSheet) boxSides() [][]vg.Point {
	var out [][]vg.Point
	for _, w := range f.windows {
		if w.Left < w.Right {
			a, b := f.at([2]float64{w.Left, w.Lo}), f.at([2]float64{w.Right, w.Hi})
			corners := uprightBox(a.X, a.Y, b.X, b.Y)
			out = append(out, append(corners[:], corners[0]))
		}
	}
	return out
}

// within tells whether a box lies in the frame.
func (f *diagramSheet) within(b box) bool {
	for _, c := range b {
		if c.X < f.left+1 || c.X > f.left+f.wide-1 || c.Y < f.foot+1 || c.Y > f.foot+f.tall-1 {
			return false
		}
	}
	return true
}

// nameLines letters each line on its run: clear of windows and other lines
// where it can, over another line or the side of a box before over a window.
func (f *diagramSheet) nameLines(p *pen, lines [][][]vg.Point, marks []box) {
	for i, line := range f.body.Lines {
		l := lettering{size: smallSize, color: LineStroke(line.Style).Color, ax: 0.5, ay: 0.5}
		run := longestRun(lines[i])
		s := l.fit(line.Label, min(f.wide/2, runLength(run)-6))
		if s == "" || s == "…" {
			f.nameBeside(p, l, line.Label, run, marks)
			continue
		}
		others := append(except(lines, i), f.boxSides()...)
		for strict := 2; strict >= 0; strict-- {
			if f.nameOn(p, l, s, run, others, marks, strict) {
				break
			}
		}
	}
}

// nameOn letters a line on its run. It avoids other lines and the sides of
// boxes at strictness 2 and windows from 1 on; other lettering always.
func (f *diagramSheet) nameOn(p *pen, l lettering, s string, run []vg.Point, others [][]vg.Point, marks []box, strict int) bool {
	if strict < 1 {
		marks = nil
	}
	for _, at := range runPlaces(run, l.width(s)) {
		l.angle = at.angle
		b := l.box(at.Point, s)
		if f.within(b) && p.free(b.grown(1), marks) && (strict < 2 || !crosses(b.grown(1), others)) {
			p.halo(b)
			p.text(l, at.Point, s)
			return true
		}
	}
	return false
}

// runPlaces lists places for a label on a line, towards its right end first,
// and then places beside it.
func runPlaces(line []vg.Point, width vg.Length) []labelPlace {
	total := runLength(line)
	room := float64((width/2 + 2) / total)
	var on, beside []labelPlace
	for _, fraction := range []float64{
		0.82, 0.74, 0.9, 0.66, 0.58, 0.5, 0.42, 0.34, 0.26, 0.18, 0.1,
		0.86, 0.78, 0.7, 0.62, 0.54, 0.46, 0.38, 0.3, 0.22, 0.14,
	} {
		if room <= 0.5 {
			fraction = math.Min(math.Max(fraction, room), 1-room)
		}
		at, angle := along(line, fraction)
		on = append(on, labelPlace{at, angle})
		sin, cos := math.Sincos(angle)
		for _, off := range []vg.Length{6.5, -6.5} {
			beside = append(beside, labelPlace{at.Add(vg.Point{X: -off * vg.Length(sin), Y: off * vg.Length(cos)}), angle})
		}
	}
	return append(on, beside...)
}

// nameBeside letters a line too short to carry its name.
func (f *diagramSheet) nameBeside(p *pen, l lettering, label string, run []vg.Point, marks []box) {
	s := l.fit(label, f.wide/3)
	if len(run) == 0 || s == "" {
		return
	}
	for _, end := range []vg.Point{run[len(run)-1], run[0]} {
		for _, off := range []struct{ x, y, ax vg.Length }{{3, 0, 0}, {-3, 0, 1}, {0, 6, 0.5}, {0, -6, 0.5}} {
			at := end.Add(vg.Point{X: off.x, Y: off.y})
			if b := l.at(off.ax, 0.5).box(at, s); f.within(b) && p.textIfFree(l.at(off.ax, 0.5), at, s, marks) {
				return
			}
		}
	}
}

// nameRegions names the regions inside them, clear of windows and of lines
// where it can.
func (f *diagramSheet) nameRegions(p *pen, areas [][]vg.Point, lines [][][]vg.Point, marks []box) {
	all := append(except(lines, -1), f.boxSides()...)
	l := lettering{size: smallSize, italic: true, color: MutedColor, ax: 0.5, ay: 0.5}
	for i, r := range f.body.Regions {
		s := l.fit(r.Label, f.wide/3)
		for strict := 2; strict >= 0 && s != ""; strict-- {
			avoid := marks
			if strict < 1 {
				avoid = nil
			}
			for _, at := range inner(areas[i]) {
				b := l.box(at, s)
				if !f.within(b) || !holds(areas[i], b) || strict == 2 && crosses(b.grown(1), all) || !p.free(b.grown(1), avoid) {
					continue
				}
				p.text(l, at, s)
				s = ""
				break
			}
		}
	}
}

// nameWindows names the windows of samples over or under their bars where there is room.
func (f *diagramSheet) nameWindows(p *pen, lines [][][]vg.Point, marks []box) {
	all := append(except(lines, -1), f.boxSides()...)
	for i, s := range f.body.Boxes {
		w := f.windows[i]
		l := lettering{size: smallSize, color: tint(LookOf(s.Group).Edge, curveContrasts[0]), ax: 0.5}
		text := l.fit(s.Sample, curveName)
		over, under := f.at([2]float64{w.X, w.Hi}), f.at([2]float64{w.X, w.Lo})
		for _, try := range []struct {
			l  lettering
			at vg.Point
		}{
			{l.at(0.5, 0), over.Add(vg.Point{Y: 3.2})},
			{l.at(0.5, 1), under.Sub(vg.Point{Y: 3.2})},
		} {
			b := try.l.box(try.at, text)
			if f.within(b) && !crosses(b.grown(0.8), all) && p.textIfFree(try.l, try.at, text, marks) {
				break
			}
		}
	}
}

// except joins all lines but those at one place.
func except(lines [][][]vg.Point, at int) [][]vg.Point {
	var out [][]vg.Point
	for i, l := range lines {
		if i != at {
			out = append(out, l...)
		}
	}
	return out
}

// inner lists places in a polygon, those farthest from its sides first, from a
// grid over its extent.
func inner(area []vg.Point) []vg.Point {
	const n = 16
	lo, hi := area[0], area[0]
	for _, c := range area {
		lo = vg.Point{X: min(lo.X, c.X), Y: min(lo.Y, c.Y)}
		hi = vg.Point{X: max(hi.X, c.X), Y: max(hi.Y, c.Y)}
	}
	var out []vg.Point
	for i := range n {
		for k := range n {
			at := vg.Point{X: lo.X + (hi.X-lo.X)*(vg.Length(i)+0.5)/n, Y: lo.Y + (hi.Y-lo.Y)*(vg.Length(k)+0.5)/n}
			if inPolygon(area, at) {
				out = append(out, at)
			}
		}
	}
	sortByDistance(out, area)
	return out
}
