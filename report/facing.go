package report

import (
	"fmt"
	"math"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/quantity"
	"smeltbook/report/figure"
	"smeltbook/report/study"
)

// pair is the two groups of a spread, replica first as the notebook orders
// them.
type pair [2]assay.Group

func (p pair) figureGroups() []figure.Group {
	return []figure.Group{figureGroup(p[0]), figureGroup(p[1])}
}

func figureGroup(g assay.Group) figure.Group {
	return figure.Group{Name: g.Name, Label: g.Label()}
}

// facingFigure shows one variable, a point with its standard uncertainty for
// each sample, on two facing pages.
func facingFigure(v study.Variable, groups pair, detail func(*assay.Sample) []figure.Detail) *figure.Facing {
	f := &figure.Facing{}
	var heights []float64
	for i, g := range groups {
		f.Pages[i].Group = i
		for _, s := range g.Samples {
			q := v.Of(s)
			m, ok := markOf(s, q)
			if !ok {
				continue
			}
			m.Details = append([]figure.Detail{{Label: formulaText(v.Label), Value: q.WithUnit()}}, detail(s)...)
			f.Pages[i].Marks = append(f.Pages[i].Marks, m)
			heights = append(heights, m.Value)
			if !math.IsNaN(m.U) {
				heights = append(heights, m.Value-m.U, m.Value+m.U)
			}
		}
	}
	f.Axis = axisFor(formulaText(v.Label), axisUnit(v.Unit), heights)
	f.Gutter = gutter(v, groups)
	return f
}

func axisUnit(unit string) string {
	if unit == "1" {
		return ""
	}
	return unit
}

// markOf places a quantity: a number as a point, a stated limit as a hollow
// one. ok is false where there is nothing to place.
func markOf(s *assay.Sample, q quantity.Quantity) (m figure.Mark, ok bool) {
	switch {
	case q.Known():
		return figure.Mark{Sample: s.ID, Value: q.Value, U: q.U}, true
	case q.Class.Censored() && q.Limit > 0:
		return figure.Mark{Sample: s.ID, Value: q.Limit, U: math.NaN(), Limit: true}, true
	}
	return figure.Mark{}, false
}

// gutter states the difference of the two pages in a few short lines.
func gutter(v study.Variable, groups pair) []string {
	d := v.Difference(groups[0].Samples, groups[1].Samples)
	if math.IsNaN(d.Value) {
		return []string{"no difference:", d.Why}
	}
	if model := modelApart(v, groups[0].Samples, groups[1].Samples); model > 0 {
		all := math.Hypot(d.U, model)
		text, _ := quantity.Number(d.Value, all)
		return []string{groups[0].Name + " − " + groups[1].Name, strings.TrimSpace(text + " " + axisUnit(v.Unit)), plusMinus[1:] + shortSpan(d.U, all)}
	}
	lines := []string{groups[0].Name + " − " + groups[1].Name, quantity.WithU(d.Value, d.U, v.Unit, "").WithUnit()}
	if !math.IsNaN(d.Low) {
		lines = append(lines, "95 %: "+interval(d.Low, d.High, d.U))
	}
	return lines
}

// interval prints two ends to the place of the uncertainty between them.
func interval(lo, hi, u float64) string {
	a, _ := quantity.Number(lo, u)
	b, _ := quantity.Number(hi, u)
	return a + " to " + b
}

// whoIsShown counts, for captions, the samples a figure shows and those it
// cannot show.
func whoIsShown(f *figure.Facing, groups pair) string {
	text := ""
	for i, g := range groups {
		if i > 0 {
			text += ", "
		}
		text += fmt.Sprintf("%s n\u00a0=\u00a0%d", g.Name, len(f.Pages[i].Marks))
		if lacking := len(g.Samples) - len(f.Pages[i].Marks); lacking > 0 {
			text += fmt.Sprintf(" (%d without a value)", lacking)
		}
	}
	return text
}
