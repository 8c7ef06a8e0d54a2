package figure

import (
	"math"

	"gonum.org/v1/plot/vg"
)

// profileSheet is a Profile laid out at a width.
type profileSheet struct {
	body     *Profile
	groups   []Group
	geometry Rows
	ticks    []Tick
	width    vg.Length
	outer    vg.Length // margin at either side
	gutter   vg.Length
	page     vg.Length
	row      vg.Length
	foot     vg.Length
	heads    heads
	legend   legend
}

func layProfile(b *Profile, groups []Group, width vg.Length) *profileSheet {
	f := &profileSheet{body: b, groups: groups, geometry: Rows{b}, width: width}
	name := lettering{size: headSize, color: InkColor}
	for _, r := range b.Rows {
		f.gutter = max(f.gutter, name.width(r.Label))
	}
	f.gutter = max(30, min(f.gutter+16, width*0.24))
	f.outer = 12
	f.page = (width - f.gutter - 2*f.outer) / 2
	f.heads = layHeads(groups, b.Pages, f.page)
	f.ticks = b.Axis.Ticks(int(f.page / 26))
	f.row = 16
	if len(b.Rows) <= 6 {
		f.row = 21
	}
	f.legend = flow(f.entries(), width-8)
	f.foot = f.legend.height() + 27
	return f
}

func (f *profileSheet) entries() []entry {
	var marks []Mark
	middle := false
	for _, r := range f.body.Rows {
		for side := range 2 {
			marks = append(marks, r.Marks[side]...)
			middle = middle || !math.IsNaN(r.Middle[side])
		}
	}
	var out []entry
	if middle {
		out = append(out, entry{func(p *pen, at vg.Point) {
			p.stroke(InkColor, 1.5, nil, []vg.Point{{X: at.X, Y: at.Y - 4}, {X: at.X, Y: at.Y + 4}})
		}, "median"})
	}
	return append(out, conditionEntries(marks, false, "")...)
}

func (f *profileSheet) height() vg.Length {
	return f.foot + f.row*vg.Length(len(f.body.Rows)) + f.heads.height()
}

// at places a value of a page at a height counted in rows from the top.
func (f *profileSheet) at(side int, v, down float64) vg.Point {
	out := f.page * vg.Length(f.geometry.Out(v))
	x := f.width/2 + f.gutter/2 + out
	if side == 0 {
		x = f.width/2 - f.gutter/2 - out
	}
	return vg.Point{X: x, Y: f.foot + f.row*(vg.Length(len(f.body.Rows))-vg.Length(down))}
}

func (f *profileSheet) draw(p *pen) {
	rows := float64(len(f.body.Rows))
	name := lettering{size: headSize, color: InkColor, ax: 0.5, ay: 0.5}
	for i, r := range f.body.Rows {
		if i%2 == 1 {
			for side := range 2 {
				a, b := f.at(side, f.body.Axis.Min, float64(i)), f.at(side, f.body.Axis.Max, float64(i+1))
				ground := uprightBox(a.X, a.Y, b.X, b.Y)
				p.fill(ink("#F6F5F0"), ground[:])
			}
		}
		mid := f.at(0, f.body.Axis.Min, f.geometry.Middle(i))
		p.text(name, vg.Point{X: f.width / 2, Y: mid.Y}, name.fit(r.Label, f.gutter-8))
	}
	top := f.foot + f.row*vg.Length(rows)
	for side, g := range f.body.Pages {
		f.drawAxis(p, side, rows)
		a, b := f.at(side, f.body.Axis.Min, 0).X, f.at(side, f.body.Axis.Max, 0).X
		f.heads.draw(p, side, LookOf(g), (a+b)/2, top, true)
		for i, r := range f.body.Rows {
			f.drawRow(p, side, i, r, LookOf(g))
		}
	}
	title := small.at(0.5, 0.5)
	p.text(title, vg.Point{X: f.width / 2, Y: f.foot - 19}, title.fit(f.body.Axis.Title(), f.width-8))
	f.legend.draw(p)
}

func (f *profileSheet) drawAxis(p *pen, side int, rows float64) {
	var grid, marks [][]vg.Point
	for _, t := range f.ticks {
		foot, long := f.at(side, t.Value, rows), vg.Length(3)
		if t.Label != "" {
			grid = append(grid, []vg.Point{foot, f.at(side, t.Value, 0)})
			p.textIfFree(small.at(0.5, 1), foot.Sub(vg.Point{Y: 5}), t.Label, nil)
		} else {
			long = 1.5
		}
		marks = append(marks, []vg.Point{foot, foot.Sub(vg.Point{Y: long})})
	}
	p.stroke(GridColor, hairWidth, nil, grid...)
	p.stroke(InkColor, 0.5, nil, marks...)
	inner, outer := f.at(side, f.body.Axis.Min, rows), f.at(side, f.body.Axis.Max, rows)
	p.stroke(InkColor, frameWidth, nil, []vg.Point{f.at(side, f.body.Axis.Min, 0), inner, outer})
}

func (f *profileSheet) drawRow(p *pen, side, row int, r ProfileRow, look Look) {
	for i, m := range r.Marks[side] {
		at := f.at(side, m.Value, f.geometry.Down(row, i))
		if m.Limit {
			inwards := vg.Length(-8)
			if side == 0 {
				inwards = 8
			}
			p.arrow(look.Edge, at, at.Add(vg.Point{X: inwards}))
		}
		p.markOf(look, at, denseRadius, m.Limit || m.Flagged)
	}
	if mid := r.Middle[side]; !math.IsNaN(mid) {
		a, b := f.at(side, mid, float64(row)+0.12), f.at(side, mid, float64(row)+0.88)
		p.stroke("#FFFFFF", 2.6, nil, []vg.Point{a, b})
		p.stroke(InkColor, 1.5, nil, []vg.Point{a, b})
	}
}
