package report

import (
	"fmt"
	"math"

	"smeltbook/assay"
	"smeltbook/report/figure"
	"smeltbook/report/page"
)

// The curves reach this far either side of the temperature of the entry, in
// °C, in these steps.
const curveReach, curveStep = 150.0, 10.0

// curvesFigure draws viscosity against temperature.
func (b *builder) curvesFigure(groups pair, cond flowConditions, melts map[string]flowing) (*page.Figure, error) {
	lo, hi := cond.tc-curveReach, cond.tc+curveReach
	body := &figure.Curves{X: figure.Axis{Label: "temperature", Unit: "°C", Min: lo, Max: hi},
		References: []figure.Reference{{From: cond.tc, To: cond.tc}}}
	var heights []float64
	var shown [2]int
	for i, g := range groups {
		body.Pages[i].Group = i
		for _, s := range g.Samples {
			f := melts[s.ID]
			if f.slag == nil {
				continue
			}
			lines, err := viscosityLines(s, f, lo, hi)
			if err != nil {
				return nil, fmt.Errorf("%s: %w", s.ID, err)
			}
			if len(lines) > 0 {
				shown[i]++
			}
			for _, l := range lines {
				heights = append(heights, l.Y...)
			}
			body.Pages[i].Lines = append(body.Pages[i].Lines, lines...)
		}
	}
	body.Y = logAxisFor("viscosity", "Pa·s", heights)
	if cond.reach >= body.Y.Min && cond.reach <= body.Y.Max {
		body.Levels = []figure.Reference{{From: cond.reach, To: cond.reach, Label: fmt.Sprintf("%g Pa·s", cond.reach)}}
	}
	return b.figure(figure.Figure{
		Caption: fmt.Sprintf("Viscosity against temperature: %s n\u00a0=\u00a0%d, %s n\u00a0=\u00a0%d. %s. Each line holds within a factor of two; dotted where the composition or the temperature lies outside the model's range. The upright line stands at %.0f °C.",
			groups[0].Name, shown[0], groups[1].Name, shown[1], curveLiquid(b.study.CountsCrystals()), cond.tc),
		Alt: fmt.Sprintf("Lines of viscosity, on a logarithmic scale in pascal seconds, against temperature from %.0f to %.0f °C for the samples of %s on the left page and of %s on the right; all fall with temperature.",
			lo, hi, groups[0].Label(), groups[1].Label()),
		Groups: groups.figureGroups(), Body: body,
	}, page.Facing)
}

func curveLiquid(crystals bool) string {
	if crystals {
		return "The lines follow the slag through its melting interval, crystals and all"
	}
	return "The lines are those of the liquid alone: below its liquidus a slag holds crystals and is stiffer than its line"
}

// viscosityLines is the curve of one slag, parted where it leaves or enters
// the range of its model.
func viscosityLines(s *assay.Sample, f flowing, lo, hi float64) ([]figure.Curve, error) {
	points, err := f.slag.Curve(lo, hi, curveStep)
	if err != nil {
		return nil, err
	}
	var out []figure.Curve
	details := []figure.Detail{{Label: "model", Value: f.slag.Model.Name()}, {Label: "from", Value: whence(s)}}
	open := false
	for _, p := range points {
		if math.IsInf(p.Eta, 0) || math.IsNaN(p.Eta) {
			open = false
			continue
		}
		dashed := false
		if v, err := f.slag.At(p.TC); err == nil {
			dashed = outside(v.Notices)
		}
		n := len(out) - 1
		if open && out[n].Dashed != dashed {
			// The parts meet where the range ends: the dotted one has the last step.
			if dashed {
				last := len(out[n].X) - 1
				out = append(out, figure.Curve{Sample: s.ID, X: []float64{out[n].X[last]}, Y: []float64{out[n].Y[last]}, Dashed: true, Details: details})
			} else {
				out[n].X, out[n].Y = append(out[n].X, p.TC), append(out[n].Y, p.Eta)
				out = append(out, figure.Curve{Sample: s.ID, Details: details})
			}
			n++
		} else if !open {
			out = append(out, figure.Curve{Sample: s.ID, Dashed: dashed, Details: details})
			n, open = n+1, true
		}
		out[n].X, out[n].Y = append(out[n].X, p.TC), append(out[n].Y, p.Eta)
	}
	kept := out[:0]
	for _, l := range out {
		if len(l.X) > 1 {
			kept = append(kept, l)
		}
	}
	return kept, nil
}
