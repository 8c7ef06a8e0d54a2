package report

import (
	"math"
	"strings"

	"smeltbook/assay/dressing"
	"smeltbook/report/figure"
	"smeltbook/report/page"
)

// asShare keeps the end of a bar within 0 and 100 %.
func asShare(x float64) float64 { return math.Min(math.Max(x, 0), 100) }

// gradeRecovery draws grade against recovery; nil where no circuit has two lots
// assayed for copper.
func (b *builder) gradeRecovery(circuits []*dressing.Reconciled) (*page.Figure, error) {
	body := &figure.Diagram{X: figure.Axis{Label: "copper recovered", Unit: "%", Min: 0, Max: 100}}
	heights := []float64{0}
	var groups []figure.Group
	var names []string
	for _, r := range circuits {
		curve := r.Curve()
		if len(curve) < 2 {
			continue
		}
		g := len(groups)
		name := "circuit " + r.Circuit.Name
		groups = append(groups, figure.Group{Name: name, Label: name})
		names = append(names, name)
		line := figure.NamedLine{Label: name, Style: g}
		for _, p := range curve {
			x, y := 100*p.Recovery.Value, p.Grade.Value
			ux, uy := 100*finiteOr(p.Recovery.U, 0), finiteOr(p.Grade.U, 0)
			line.X, line.Y = append(line.X, x), append(line.Y, y)
			body.Boxes = append(body.Boxes, figure.Span{Group: g, Sample: p.Lot.Name, X0: asShare(x - ux), X1: asShare(x + ux), From: y - uy, To: y + uy,
				Details: []figure.Detail{{Label: "with all richer lots, Cu", Value: p.Grade.WithUnit()}, {Label: "copper recovered", Value: percent(p.Recovery).WithUnit()},
					{Label: "of the mass", Value: percent(p.Yield).WithUnit()}, {Label: "this lot, Cu", Value: p.Lot.Grade.WithUnit()}}})
			heights = append(heights, y+uy, y-uy)
		}
		body.Lines = append(body.Lines, line)
	}
	if len(groups) == 0 {
		return nil, nil
	}
	body.Y = axisFor("copper of all taken together", "wt%", heights)
	return b.figure(figure.Figure{
		Caption: "Grade and recovery of copper: " + strings.Join(names, ", ") + ". Each mark is what comes together when the lots are taken in from the richest to the poorest, as far as that one; boxes are one standard uncertainty either way. Where products were sieved each size is a lot. A curve further up and to the right is better dressing; what falls steeply is not worth taking.",
		Alt:     "Curves of the copper grade in wt% of the lots taken together against the share of copper recovered in per cent, one for each circuit; all fall from the richest lot towards the grade of the feed.",
		Groups:  groups, Body: body,
	}, page.Wide)
}
