package figure

import (
	"math"

	"gonum.org/v1/plot/vg"
)

// facingSheet is a Facing laid out at a width.
type facingSheet struct {
	facingPages
	body     *Facing
	groups   []Group
	geometry Spread
	names    vg.Length // room for the sample names
	legend   legend
}

// Room about facing pages, in points.
const (
	nameLength = vg.Length(72) // longest sample name
	nameStep   = vg.Length(7.8)
)

func layFacing(b *Facing, groups []Group, width vg.Length) *facingSheet {
	f := &facingSheet{body: b, groups: groups, geometry: Spread{b}}
	f.facingPages = layPages(b.Axis, b.Gutter, width, max(110, min(230, 0.34*width+24)), 18)
	f.heads = layHeads(groups, [2]int{b.Pages[0].Group, b.Pages[1].Group}, f.page)
	f.names = 12
	for page := range 2 {
		if !f.level(page) {
			for _, m := range b.Pages[page].Marks {
				f.names = max(f.names, min(small.width(m.Sample), nameLength)+7)
			}
		}
	}
	f.legend = flow(f.entries(), width-8)
	f.foot = f.legend.height() + f.names
	return f
}

// level tells whether the sample names of a page fit side by side without
// being turned.
func (f *facingSheet) level(page int) bool {
	marks := f.body.Pages[page].Marks
	slot := f.page / vg.Length(max(1, len(marks)))
	for _, m := range marks {
		if small.width(m.Sample)+5 > slot {
			return false
		}
	}
	return true
}

func (f *facingSheet) entries() []entry {
	var out []entry
	for i, part := range f.body.Stack {
		look := PartLookOf(i)
		out = append(out, entry{func(p *pen, at vg.Point) {
			p.hatched(look, at.X-6, at.Y-3.5, at.X+6, at.Y+3.5)
		}, part})
	}
	marks := append(append([]Mark(nil), f.body.Pages[0].Marks...), f.body.Pages[1].Marks...)
	return append(out, conditionEntries(marks, true, f.body.BarsMean())...)
}

func (f *facingSheet) height() vg.Length { return f.foot + f.tall + f.heads.height() }

func (f *facingSheet) at(page, i int, v float64) vg.Point {
	return vg.Point{X: f.x0(page) + f.page*vg.Length(f.geometry.Slot(page, i)), Y: f.y(v)}
}

func (f *facingSheet) draw(p *pen) {
	obstacles := f.obstacles()
	f.drawPages(p)
	f.drawAxis(p)
	f.drawNames(p)
	f.drawGutter(p)
	for page := range 2 {
		f.drawBars(p, page)
		f.drawMarks(p, page)
	}
	f.nameLevels(p, f.body.References, obstacles, [2][][]vg.Point{})
	f.legend.draw(p)
}

// drawPages draws grounds, grid, references and heads.
func (f *facingSheet) drawPages(p *pen) {
	for page, side := range f.body.Pages {
		f.drawBands(p, page, f.body.References)
		f.drawGrid(p, page)
		f.drawLevels(p, page, f.body.References)
		f.drawFrame(p, page)
		middle := f.x0(page) + f.page/2
		f.heads.draw(p, page, LookOf(side.Group), middle, f.foot+f.tall, len(f.body.Stack) == 0)
	}
}

// drawNames sets the sample names under their marks: level where they fit,
// else upright, and then every second or third where the slots are narrower
// than a line of text.
func (f *facingSheet) drawNames(p *pen) {
	for page := range 2 {
		marks := f.body.Pages[page].Marks
		l := small.at(0.5, 1)
		every := 1
		if !f.level(page) {
			l = lettering{size: smallSize, color: InkColor, ax: 1, ay: 0.5, angle: math.Pi / 2}
			slot := f.page / vg.Length(len(marks))
			every = int(math.Ceil(float64(nameStep / slot)))
		}
		for i := 0; i < len(marks); i += every {
			at := f.at(page, i, f.body.Axis.Min)
			p.text(l, vg.Point{X: at.X, Y: f.foot - 4}, l.fit(marks[i].Sample, nameLength))
		}
	}
}

// barWidth is the width of a stacked bar.
func (f *facingSheet) barWidth(page int) vg.Length {
	return min(0.68*f.page/vg.Length(max(1, len(f.body.Pages[page].Marks))), 22)
}

// slimBar is the width below which a bar is nothing but its fill: hatches and
// outlines would fill it.
const slimBar = vg.Length(1.6)

// drawBars draws the stacked parts, part by part.
func (f *facingSheet) drawBars(p *pen, page int) {
	w := f.barWidth(page)
	for k := range f.body.Stack {
		for i, m := range f.body.Pages[page].Marks {
			if k >= len(m.Stack) || m.Stack[k] <= 0 {
				continue
			}
			below := 0.0
			for _, part := range m.Stack[:k] {
				below += part
			}
			x := f.at(page, i, m.Value).X
			lo, hi := f.y(below), f.y(below+m.Stack[k])
			if w < slimBar {
				box := uprightBox(x-w/2, lo, x+w/2, hi)
				p.fill(ink(PartLookOf(k).Fill), box[:])
				continue
			}
			p.hatched(PartLookOf(k), x-w/2, lo, x+w/2, hi)
		}
	}
}

// drawMarks draws the uncertainties, and the marks over them.
func (f *facingSheet) drawMarks(p *pen, page int) {
	look := LookOf(f.body.Pages[page].Group)
	if len(f.body.Stack) > 0 {
		look.Edge = InkColor
	}
	for i, m := range f.body.Pages[page].Marks {
		at := f.at(page, i, m.Value)
		if lo, hi, ok := f.geometry.Bar(m); ok {
			p.stroke(look.Edge, 0.6, nil, whisker(at.X, f.y(lo), f.y(hi))...)
		}
		if m.Limit {
			p.arrow(look.Edge, at, vg.Point{X: at.X, Y: max(at.Y-10, min(f.foot+1, at.Y-5))})
		}
	}
	for i, m := range f.body.Pages[page].Marks {
		if len(f.body.Stack) == 0 || m.Limit || m.Flagged {
			p.mark(look, f.at(page, i, m.Value), m.Limit || m.Flagged)
		}
	}
}
