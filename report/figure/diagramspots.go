package figure

import (
	"fmt"
	"math"

	"gonum.org/v1/plot/vg"
)

func (s Spot) validate(d *Diagram, groups int) error {
	if err := inRange("group", s.Group, groups); err != nil {
		return err
	}
	if err := d.X.holds(s.X); err != nil {
		return err
	}
	if err := d.Y.holds(s.Y); err != nil {
		return err
	}
	if math.IsInf(s.UX, 0) || s.UX < 0 || math.IsInf(s.UY, 0) || s.UY < 0 {
		return fmt.Errorf("uncertainties %v and %v must be positive numbers or NaN for unknown", s.UX, s.UY)
	}
	if s.Hollow && d.Hollow == "" {
		return fmt.Errorf("the point is hollow and the figure does not say why")
	}
	return nil
}

// spot is where a point stands on the sheet.
func (f *diagramSheet) spot(s Spot) vg.Point { return f.at(f.body.Frame().Place(s.X, s.Y)) }

// spotEntries explain the points.
func (f *diagramSheet) spotEntries() []entry {
	used := make([]bool, len(f.groups))
	hollow, barred := false, false
	for _, s := range f.body.Points {
		used[s.Group] = true
		hollow = hollow || s.Hollow
		barred = barred || s.UX > 0 || s.UY > 0
	}
	var out []entry
	for i, g := range f.groups {
		if used[i] {
			out = append(out, entry{markSign(LookOf(i), false), g.Label})
		}
	}
	if barred {
		out = append(out, entry{barSign, oneSD})
	}
	if hollow {
		out = append(out, entry{flaggedSign, f.body.Hollow})
	}
	return out
}

// barsOf are the error bars of a point on the sheet.
func (f *diagramSheet) barsOf(s Spot) (out [][]vg.Point) {
	for _, b := range f.body.Bars(s) {
		out = append(out, []vg.Point{f.at(b[0]), f.at(b[1])})
	}
	return out
}

// drawSpots draws the points with their error bars and names those that have room.
func (f *diagramSheet) drawSpots(p *pen, marks []box) {
	for _, s := range f.body.Points {
		p.stroke(LookOf(s.Group).Edge, 0.6, nil, f.barsOf(s)...)
	}
	for _, s := range f.body.Points {
		p.mark(LookOf(s.Group), f.spot(s), s.Hollow)
	}
	for _, s := range f.body.Points {
		at := f.spot(s)
		l := lettering{size: smallSize, color: tint(LookOf(s.Group).Edge, curveContrasts[0])}
		text := l.fit(s.Sample, curveName)
		for _, try := range []struct{ x, y, ax, ay vg.Length }{{0, 4.4, 0.5, 0}, {0, -4.4, 0.5, 1}, {5, 0, 0, 0.5}, {-5, 0, 1, 0.5}} {
			to, set := at.Add(vg.Point{X: try.x, Y: try.y}), l.at(try.ax, try.ay)
			if f.within(set.box(to, text)) && p.textIfFree(set, to, text, marks) {
				break
			}
		}
	}
}
