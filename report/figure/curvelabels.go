package figure

import (
	"slices"

	"gonum.org/v1/plot/vg"
)

// curveName is the longest name of a curve; a longer one is shortened.
const curveName = vg.Length(60)

// nameCurves names each sample once: beside an end of its line, or on the line
// as near to an end as there is room. A name never covers another line or a
// reference; a sample without such a place stays without a name.
// It tells whether every sample has one.
func (f *curvesSheet) nameCurves(p *pen, page int) (all bool) {
	all = true
	side := f.body.Pages[page]
	color := tint(LookOf(side.Group).Edge, curveContrasts[0])
	strands := side.Strand()
	var own [][][]vg.Point // by sample
	for i, n := range strands {
		if n == len(own) {
			own = append(own, nil)
		}
		own[n] = append(own[n], f.run(page, side.Lines[i])...)
	}
	for i, n := range strands {
		if slices.Index(strands, n) != i {
			continue
		}
		others := f.uprights(page)
		for _, r := range f.body.Levels {
			if r.From == r.To {
				others = append(others, []vg.Point{{X: f.x0(page), Y: f.y(r.From)}, {X: f.x0(page) + f.page, Y: f.y(r.From)}})
			}
		}
		for k, lines := range own {
			if k != n {
				others = append(others, lines...)
			}
		}
		l := lettering{size: smallSize, color: color}
		if !f.nameCurve(p, page, l, l.fit(side.Lines[i].Sample, curveName), own[n], others) {
			all = false
		}
	}
	return all
}

func (f *curvesSheet) nameCurve(p *pen, page int, l lettering, s string, own, others [][]vg.Point) bool {
	inside := func(b box) bool {
		for _, c := range b {
			if c.X < f.x0(page)+1 || c.X > f.x0(page)+f.page-1 || c.Y < f.foot+1 || c.Y > f.foot+f.tall {
				return false
			}
		}
		return true
	}
	free := func(b box) bool { return inside(b) && !crosses(b, others) && p.free(b, nil) }
	line := longestRun(own)
	if s == "" || len(line) < 2 {
		return false
	}
	first, last := line[0], line[len(line)-1]
	if first.X > last.X {
		first, last = last, first
	}
	for _, try := range []struct {
		l  lettering
		at vg.Point
	}{
		{l.at(0, 0.5), last.Add(vg.Point{X: 2.5})},
		{l.at(1, 0.5), first.Sub(vg.Point{X: 2.5})},
	} {
		if b := try.l.box(try.at, s).grown(0.8); free(b) && !crosses(b, own) {
			p.text(try.l, try.at, s)
			return true
		}
	}
	for _, at := range labelPlaces(line, l.width(s)) {
		on := l.at(0.5, 0.5)
		on.angle = at.angle
		if b := on.box(at.Point, s); free(b.grown(0.8)) {
			p.halo(b)
			p.text(on, at.Point, s)
			return true
		}
	}
	return false
}

func longestRun(lines [][]vg.Point) []vg.Point {
	var longest []vg.Point
	for _, part := range lines {
		if longest == nil || runLength(part) > runLength(longest) {
			longest = part
		}
	}
	return longest
}

// labelPlace is a place on a line and the line's lean there.
type labelPlace struct {
	vg.Point
	angle float64
}

// labelPlaces lists places for a label of a width on a line, from its ends
// inwards. A label needs a stretch that is longer than itself.
func labelPlaces(line []vg.Point, width vg.Length) []labelPlace {
	total := runLength(line)
	var out []labelPlace
	for run := width/2 + 3; run <= total/2; run += max(4, total/40) {
		for _, r := range []vg.Length{total - run, run} {
			at, angle := along(line, float64(r/total))
			out = append(out, labelPlace{at, angle})
		}
	}
	return out
}
