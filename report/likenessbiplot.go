package report

import (
	"context"
	"fmt"
	"math"

	"smeltbook/assay/logratio"
	"smeltbook/report/figure"
	"smeltbook/report/page"
)

// biplotShape is about the height of a diagram over its width, so that
// distances count alike both ways.
const biplotShape = 0.6

// biplotFigure draws samples and parts on the plane of the first two principal
// components of the centred log-ratios; nil where the samples span none.
func (b *builder) biplotFigure(ctx context.Context, d likenessData, r logratio.Replacement) (*page.Figure, error) {
	m, err := d.table.Complete(r)
	if err != nil {
		return nil, err
	}
	c, err := m.Principal()
	if err != nil || len(c.Loadings) < 2 {
		return nil, nil // too few samples or parts for a plane; the tables stand without it
	}
	body := &figure.Diagram{Hollow: "apart from its own group"}
	var far, long float64
	for i := range c.Scores {
		far = math.Max(far, math.Hypot(c.Scores[i][0], c.Scores[i][1]))
	}
	for j := range m.Parts {
		long = math.Max(long, math.Hypot(c.Loadings[0][j], c.Loadings[1][j]))
	}
	xs, ys := []float64{0}, []float64{0}
	for j, id := range m.Parts {
		x, y := c.Loadings[0][j]*far/long, c.Loadings[1][j]*far/long
		xs, ys = append(xs, x), append(ys, y)
		body.Lines = append(body.Lines, figure.NamedLine{Label: formulaText(id), X: []float64{0, x}, Y: []float64{0, y},
			Details: []figure.Detail{{Label: "loading on the first", Value: short(c.Loadings[0][j])}, {Label: "on the second", Value: short(c.Loadings[1][j])}}})
	}
	odd := d.odd(ctx, m, b.study.Conditions.Seed)
	for i, s := range d.samples {
		x, y := c.Scores[i][0], c.Scores[i][1]
		xs, ys = append(xs, x), append(ys, y)
		details := []figure.Detail{{Label: "from", Value: whence(s)}}
		if odd.outside[i] {
			details = append(details, figure.Detail{Label: "apart from its group", Value: "yes"})
		}
		body.Points = append(body.Points, figure.Spot{Group: d.group[i], Sample: s.ID, X: x, Y: y, Hollow: odd.outside[i], Details: details})
	}
	label := func(k int) string {
		return fmt.Sprintf("%s component, %.0f %% of the variance", []string{"first", "second"}[k], 100*c.Shares[k])
	}
	body.X, body.Y = axisFor(label(0), "", xs), axisFor(label(1), "", ys)
	sameScale(&body.X, &body.Y)
	return b.figure(figure.Figure{
		Caption: fmt.Sprintf("Samples and parts on the plane that shows most of their differences (%.0f %%): %s n\u00a0=\u00a0%d, %s n\u00a0=\u00a0%d. Samples near each other are alike; a sample lies towards the parts it is rich in. What tells two parts apart runs from the end of one line to the end of the other, and parts whose lines end at one place keep their ratio. %s",
			100*(c.Shares[0]+c.Shares[1]), d.groups[0].Name, count(d.group, 0), d.groups[1].Name, count(d.group, 1), odd.text),
		Alt:    fmt.Sprintf("Biplot of centred log-ratios of %s with the samples of %s and %s.", list(m.Parts), d.groups[0].Label(), d.groups[1].Label()),
		Groups: d.groups.figureGroups(), Body: body,
	}, page.Wide)
}

func count(group []int, g int) (n int) {
	for _, x := range group {
		if x == g {
			n++
		}
	}
	return n
}

// sameScale widens one of the axes of a diagram so that a step is about as long
// on both.
func sameScale(x, y *figure.Axis) {
	wide, tall := x.Max-x.Min, y.Max-y.Min
	if need := tall / biplotShape; need > wide {
		x.Min, x.Max = x.Min-(need-wide)/2, x.Max+(need-wide)/2
		return
	}
	more := wide*biplotShape - tall
	y.Min, y.Max = y.Min-more/2, y.Max+more/2
}

// oddSamples are those that lie apart from their own group.
type oddSamples struct {
	outside map[int]bool
	text    string // what was looked for, or why it could not be
}

// odd looks for outliers group by group.
func (d likenessData) odd(ctx context.Context, m logratio.Matrix, seed uint64) oddSamples {
	out := oddSamples{outside: map[int]bool{}}
	z, err := d.basis.Coordinates(m)
	if err != nil {
		return out
	}
	for g, group := range d.groups {
		var places []int
		var rows [][]float64
		for i, row := range z {
			if d.group[i] == g {
				places, rows = append(places, i), append(rows, row)
			}
		}
		o, err := logratio.FindOutliers(ctx, rows, seed)
		switch {
		case err != nil:
			out.text += fmt.Sprintf("%s has too few samples to call one odd. ", capital(group.Name))
		case len(o.Outside) > 0:
			var names []string
			for _, k := range o.Outside {
				out.outside[places[k]] = true
				names = append(names, d.samples[places[k]].ID)
			}
			how := "by the beta distribution"
			if o.Robust {
				how = "by simulated groups of as many samples, from the tightest three quarters of this one"
			}
			out.text += fmt.Sprintf("Hollow: apart from the rest of %s, as one clean group in twenty would show, %s (%s). ", group.Name, how, list(names))
		}
	}
	return out
}
