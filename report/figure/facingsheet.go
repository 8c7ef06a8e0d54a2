package figure

import (
	"math"

	"gonum.org/v1/plot/vg"
)

// facingSheet is a Facing laid out at a width.
type facingSheet struct {
	body        *Facing
	groups      []Group
	geometry    Spread
	ticks       []Tick
	width       vg.Length
	left, right vg.Length // outer margins
	gutter      vg.Length
	page        vg.Length // width of a page
	tall        vg.Length // height of a page
	foot        vg.Length // of the pages above the bottom
	names       vg.Length // room for the sample names
	lines       []string  // of the gutter
	heads       heads
	legend      legend
}

// Room about facing pages, in points.
const (
	nameLength = vg.Length(72) // longest sample name
	nameStep   = vg.Length(7.8)
)

func layFacing(b *Facing, groups []Group, width vg.Length) *facingSheet {
	f := &facingSheet{body: b, groups: groups, geometry: Spread{b}, width: width}
	f.tall = max(110, min(230, 0.34*width+24))
	f.layGutter()
	f.ticks = b.Axis.Ticks(int(f.tall / 26))
	lettered := vg.Length(0)
	for _, t := range f.ticks {
		lettered = max(lettered, small.width(t.Label))
	}
	// Both margins have room for the axis title, so that the gutter stands in
	// the middle of the sheet.
	f.left = lettered + 8 + lineGap + 2
	f.right = f.left
	f.page = (width - f.left - f.right - f.gutter) / 2
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

func (f *facingSheet) layGutter() {
	widest := vg.Length(0)
	for _, s := range f.body.Gutter {
		widest = max(widest, small.width(s))
	}
	f.gutter = max(18, min(widest+12, f.width*0.21))
	for _, s := range f.body.Gutter {
		f.lines = append(f.lines, small.wrap(s, f.gutter-8)...)
	}
	f.tall = max(f.tall, lineGap*vg.Length(len(f.lines))+12)
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

// x0 is the left edge of a page.
func (f *facingSheet) x0(page int) vg.Length {
	return f.left + vg.Length(page)*(f.page+f.gutter)
}

func (f *facingSheet) y(v float64) vg.Length {
	return f.foot + f.tall*vg.Length(f.geometry.Height(v))
}

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
		for i, m := range f.body.Pages[page].Marks {
			f.drawMark(p, page, i, m)
		}
	}
	for _, r := range f.body.References {
		f.nameReference(p, r, obstacles)
	}
	f.legend.draw(p)
}

// drawPages draws grounds, grid, references and heads.
func (f *facingSheet) drawPages(p *pen) {
	top := f.foot + f.tall
	for page, side := range f.body.Pages {
		x0, x1 := f.x0(page), f.x0(page)+f.page
		for _, r := range f.body.References {
			if r.From < r.To {
				b := uprightBox(x0, f.y(r.From), x1, f.y(r.To))
				p.fill(ink(BandColor), b[:])
			}
		}
		var grid [][]vg.Point
		for _, t := range f.ticks {
			if t.Label != "" {
				grid = append(grid, []vg.Point{{X: x0, Y: f.y(t.Value)}, {X: x1, Y: f.y(t.Value)}})
			}
		}
		p.stroke(GridColor, hairWidth, nil, grid...)
		for _, r := range f.body.References {
			if r.From == r.To {
				p.stroke(RefColor, 0.7, []vg.Length{3, 2}, []vg.Point{{X: x0, Y: f.y(r.From)}, {X: x1, Y: f.y(r.From)}})
			}
		}
		outer, inner := x0, x1
		if page == 1 {
			outer, inner = x1, x0
		}
		p.stroke(InkColor, frameWidth, nil, []vg.Point{{X: outer, Y: top}, {X: outer, Y: f.foot}, {X: inner, Y: f.foot}})
		f.heads.draw(p, page, LookOf(side.Group), (x0+x1)/2, top, len(f.body.Stack) == 0)
	}
}

// drawAxis letters the shared axis at both outer margins.
func (f *facingSheet) drawAxis(p *pen) {
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
	p.text(title, vg.Point{X: 2, Y: f.foot + f.tall/2}, title.fit(f.body.Axis.Title(), f.tall))
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

func (f *facingSheet) drawGutter(p *pen) {
	x := f.left + f.page + f.gutter/2
	y := f.foot + f.tall/2 + lineGap*vg.Length(len(f.lines)-1)/2
	for _, s := range f.lines {
		p.text(small.at(0.5, 0.5), vg.Point{X: x, Y: y}, s)
		y -= lineGap
	}
}

// barWidth is the width of a stacked bar.
func (f *facingSheet) barWidth(page int) vg.Length {
	return min(0.68*f.page/vg.Length(max(1, len(f.body.Pages[page].Marks))), 22)
}

func (f *facingSheet) drawMark(p *pen, page, i int, m Mark) {
	look := LookOf(f.body.Pages[page].Group)
	at := f.at(page, i, m.Value)
	if len(f.body.Stack) > 0 {
		w, sum := f.barWidth(page), 0.0
		for k, part := range m.Stack {
			lo, hi := f.y(sum), f.y(sum+part)
			if part > 0 {
				p.hatched(PartLookOf(k), at.X-w/2, lo, at.X+w/2, hi)
			}
			sum += part
		}
		look.Edge = InkColor
	}
	if lo, hi, ok := f.geometry.Bar(m); ok {
		p.stroke(look.Edge, 0.6, nil, whisker(at.X, f.y(lo), f.y(hi))...)
	}
	if m.Limit {
		p.arrow(look.Edge, at, vg.Point{X: at.X, Y: max(at.Y-10, min(f.foot+1, at.Y-5))})
	}
	if len(f.body.Stack) == 0 || m.Limit || m.Flagged {
		p.mark(look, at, m.Limit || m.Flagged)
	}
}
