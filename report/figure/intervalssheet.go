package figure

import (
	"strings"

	"gonum.org/v1/plot/vg"
)

// intervalsSheet is Intervals laid out at a width.
type intervalsSheet struct {
	body   *Intervals
	ticks  []Tick
	width  vg.Length
	names  vg.Length // room for the names of rows
	panel  vg.Length
	gap    vg.Length
	row    vg.Length
	foot   vg.Length
	heads  [][]string
	legend legend
}

func layIntervals(b *Intervals, width vg.Length) *intervalsSheet {
	f := &intervalsSheet{body: b, width: width, gap: 8, row: 15}
	for _, r := range b.Rows {
		f.names = max(f.names, small.width(r))
	}
	f.names = min(f.names, width*0.28) + 8
	n := vg.Length(len(b.Panels))
	f.panel = (width - f.names - f.gap*(n-1) - 10) / n
	f.ticks = b.Axis.Ticks(max(3, int(f.panel/20)))
	for _, p := range b.Panels {
		lines := headText.wrap(p.Label, f.panel)
		if len(lines) > 3 {
			lines = append(lines[:2], headText.fit(strings.Join(lines[2:], " "), f.panel))
		}
		f.heads = append(f.heads, lines)
	}
	f.legend = flow(f.entries(), width-8)
	f.foot = f.legend.height() + acrossFoot
	return f
}

func (f *intervalsSheet) entries() []entry {
	firm, open := false, false
	for _, p := range f.body.Panels {
		for _, x := range p.Bars {
			firm, open = firm || !x.Empty() && x.Firm, open || !x.Empty() && !x.Firm
		}
	}
	var out []entry
	if firm || open {
		out = append(out, entry{func(p *pen, at vg.Point) {
			p.stroke(InkColor, windowWidth, nil, []vg.Point{{X: at.X - 6, Y: at.Y}, {X: at.X + 6, Y: at.Y}})
		}, f.body.Bars})
	}
	if firm {
		out = append(out, entry{markSign(intervalLook, false), f.body.Firm})
	}
	return out
}

func (f *intervalsSheet) headHeight() vg.Length {
	most := 1
	for _, h := range f.heads {
		most = max(most, len(h))
	}
	return 7 + lineGap*vg.Length(most)
}

func (f *intervalsSheet) height() vg.Length {
	return f.foot + f.row*vg.Length(max(1, len(f.body.Rows))) + f.headHeight()
}

// at places a value of a panel at a height counted in rows from the top.
func (f *intervalsSheet) at(panel int, v, down float64) vg.Point {
	x := f.names + vg.Length(panel)*(f.panel+f.gap) + f.panel*vg.Length(f.body.Axis.Held(v))
	return vg.Point{X: x, Y: f.foot + f.row*(vg.Length(max(1, len(f.body.Rows)))-vg.Length(down))}
}

func (f *intervalsSheet) draw(p *pen) {
	rows := float64(max(1, len(f.body.Rows)))
	for i, name := range f.body.Rows {
		mid := f.at(0, f.body.Axis.Min, float64(i)+0.5)
		p.text(small.at(1, 0.5), vg.Point{X: f.names - 5, Y: mid.Y}, small.fit(name, f.names-8))
	}
	for k := range f.body.Panels {
		f.drawPanel(p, k, rows)
	}
	title := small.at(0.5, 0.5)
	p.text(title, vg.Point{X: f.names + (f.width-f.names-10)/2, Y: f.foot - 19}, title.fit(f.body.Axis.Title(), f.width-f.names-10))
	f.legend.draw(p)
}

func (f *intervalsSheet) drawPanel(p *pen, k int, rows float64) {
	a := f.body.Axis
	for i := range f.body.Rows {
		if i%2 == 1 {
			from, to := f.at(k, a.Min, float64(i)), f.at(k, a.Max, float64(i+1))
			ground := uprightBox(from.X, from.Y, to.X, to.Y)
			p.fill(ink("#F6F5F0"), ground[:])
		}
	}
	drawAcross(p, f.ticks, f.foot, func(v float64) vg.Length { return f.at(k, v, rows).X })
	p.stroke(RefColor, 0.7, nil, []vg.Point{f.at(k, 0, 0), f.at(k, 0, rows)})
	p.stroke(InkColor, frameWidth, nil, []vg.Point{f.at(k, a.Min, rows), f.at(k, a.Max, rows)})
	middle := (f.at(k, a.Min, 0).X + f.at(k, a.Max, 0).X) / 2
	for i, line := range f.heads[k] {
		p.text(headText.at(0.5, 0.5), vg.Point{X: middle, Y: f.at(k, a.Min, 0).Y + 9 + lineGap*vg.Length(len(f.heads[k])-1-i)}, line)
	}
	for i, x := range f.body.Panels[k].Bars {
		if x.Empty() {
			continue
		}
		down := float64(i) + 0.5
		lo, hi := f.at(k, x.Lo, down), f.at(k, x.Hi, down)
		p.stroke(InkColor, windowWidth, nil, []vg.Point{lo, hi})
		p.markOf(intervalLook, f.at(k, x.Value, down), denseRadius, !x.Firm)
	}
}
