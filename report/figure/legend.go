package figure

import "gonum.org/v1/plot/vg"

// entry is an item of a legend: a sign drawn about a point, and its meaning.
type entry struct {
	sign func(p *pen, at vg.Point)
	text string
}

// legend is a set of entries that flow in centred lines.
type legend struct {
	lines [][]entry
}

const (
	signWidth  = vg.Length(20)
	legendStep = vg.Length(11)
	entryGap   = vg.Length(12)
)

func (e entry) width() vg.Length { return signWidth + small.width(e.text) }

// flow sets entries in lines of at most the given width.
func flow(entries []entry, width vg.Length) legend {
	var out legend
	var line []entry
	used := vg.Length(0)
	for _, e := range entries {
		e.text = small.fit(e.text, width-signWidth)
		w := e.width()
		if len(line) > 0 && used+entryGap+w > width {
			out.lines = append(out.lines, line)
			line, used = nil, 0
		}
		if len(line) > 0 {
			used += entryGap
		}
		line = append(line, e)
		used += w
	}
	if len(line) > 0 {
		out.lines = append(out.lines, line)
	}
	return out
}

func (l legend) height() vg.Length {
	if len(l.lines) == 0 {
		return 0
	}
	return legendStep*vg.Length(len(l.lines)) + 5
}

// draw sets the legend at the foot of the figure.
func (l legend) draw(p *pen) {
	for i, line := range l.lines {
		y := legendStep*vg.Length(len(l.lines)-1-i) + 6
		width := entryGap * vg.Length(len(line)-1)
		for _, e := range line {
			width += e.width()
		}
		x := (p.width - width) / 2
		for _, e := range line {
			e.sign(p, vg.Point{X: x + signWidth/2 - 2, Y: y})
			p.text(small.at(0, 0.5), vg.Point{X: x + signWidth, Y: y}, e.text)
			x += e.width() + entryGap
		}
	}
}

func markSign(look Look, hollow bool) func(*pen, vg.Point) {
	return func(p *pen, at vg.Point) { p.mark(look, at, hollow) }
}

func lineSign(hex string, width vg.Length, dashes []vg.Length) func(*pen, vg.Point) {
	return func(p *pen, at vg.Point) {
		p.stroke(hex, width, dashes, []vg.Point{{X: at.X - 7, Y: at.Y}, {X: at.X + 7, Y: at.Y}})
	}
}

// limitSign is a grey mark with an arrow; it stands for points of any group.
func limitSign(down bool) func(*pen, vg.Point) {
	return func(p *pen, at vg.Point) {
		look := Look{Shape: Round, Edge: MutedColor}
		to := vg.Point{X: at.X - 9, Y: at.Y}
		if down {
			at.Y += 2
			to = vg.Point{X: at.X, Y: at.Y - 7}
		}
		p.arrow(MutedColor, at, to)
		p.hollowSign(look, at)
	}
}

func flaggedSign(p *pen, at vg.Point) { p.hollowSign(Look{Shape: Round, Edge: MutedColor}, at) }

func (p *pen) hollowSign(look Look, at vg.Point) {
	look.Fill = "#FFFFFF"
	p.mark(look, at, true)
}

// conditionEntries explain hollow marks, arrows and error bars where the marks
// use them; bars says what error bars are, and is empty where none are drawn.
func conditionEntries(marks []Mark, down bool, bars string) []entry {
	var limit, flagged, uncertain bool
	for _, m := range marks {
		limit = limit || m.Limit
		flagged = flagged || m.Flagged && !m.Limit
		uncertain = uncertain || m.hasBar()
	}
	var out []entry
	if uncertain && bars != "" {
		out = append(out, entry{barSign, bars})
	}
	if flagged {
		out = append(out, entry{flaggedSign, "outside the model's range"})
	}
	if limit {
		out = append(out, entry{limitSign(down), "upper limit (below detection)"})
	}
	return out
}

func barSign(p *pen, at vg.Point) {
	p.stroke(MutedColor, 0.6, nil, whisker(at.X, at.Y-4, at.Y+4)...)
}

// whisker is a vertical error bar with caps.
func whisker(x, y0, y1 vg.Length) [][]vg.Point {
	const cap = 1.6
	return [][]vg.Point{
		{{X: x, Y: y0}, {X: x, Y: y1}},
		{{X: x - cap, Y: y0}, {X: x + cap, Y: y0}},
		{{X: x - cap, Y: y1}, {X: x + cap, Y: y1}},
	}
}
