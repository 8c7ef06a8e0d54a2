package figuretest

import (
	"fmt"
	"math"

	"smeltbook/report/figure"
)

// Melted is the share of melt against temperature: lines that meet at 100 %,
// one sample in two parts because it leaves the model's range.
func Melted(fired, dug int) figure.Figure {
	c := &figure.Curves{
		X: figure.Axis{Label: "temperature", Unit: "°C", Min: 950, Max: 1350},
		Y: figure.Axis{Label: "share molten", Unit: "wt%", Min: 0, Max: 100},
		References: []figure.Reference{
			{From: 1250, To: 1250, Label: "reached at the tuyère"},
			{From: 1100, To: 1150, Label: "bowl floor in firing 3"},
		},
		Levels: []figure.Reference{{From: 60, To: 60, Label: "flows under its weight"}},
		Gutter: []string{"at 1200 °C", "fired − dug", "−9 ± 6 wt%"},
	}
	for g, n := range []int{fired, dug} {
		c.Pages[g].Group = g
		for i := range n {
			middle := 1150 + 40*wave(i, 0.7) - 25*float64(g)
			width := 28 + 9*wave(i, 2.2)
			line := figure.Curve{Sample: sample(g, i), Details: []figure.Detail{{Label: "half molten at", Value: fmt.Sprintf("%.0f °C", middle)}}}
			for t := 900.0; t <= 1400; t += 10 { // beyond both ends of the axis
				line.X = append(line.X, t)
				line.Y = append(line.Y, 100/(1+math.Exp((middle-t)/width)))
			}
			line.Dashed = g == 1 && i == 1
			if i != 2 {
				c.Pages[g].Lines = append(c.Pages[g].Lines, line)
				continue
			}
			const split = 30
			hot := line
			hot.X, hot.Y, hot.Dashed = line.X[split:], line.Y[split:], true
			line.X, line.Y = line.X[:split+1], line.Y[:split+1]
			c.Pages[g].Lines = append(c.Pages[g].Lines, line, hot)
		}
	}
	return figure.Figure{ID: "molten", Groups: Groups(), Body: c, Caption: "Share of melt in fired and dug slags.", Alt: "Dug slags are molten at a lower temperature."}
}

// Viscosity is viscosity on a logarithmic axis against temperature.
func Viscosity(fired, dug int) figure.Figure {
	c := &figure.Curves{
		X: figure.Axis{Label: "temperature", Unit: "°C", Min: 1100, Max: 1400},
		Y: figure.Axis{Label: "viscosity", Unit: "Pa s", Min: 0.02, Max: 20, Log: true},
	}
	for g, n := range []int{fired, dug} {
		c.Pages[g].Group = g
		for i := range n {
			line := figure.Curve{Sample: sample(g, i)}
			for t := 1100.0; t <= 1400; t += 20 {
				line.X = append(line.X, t)
				line.Y = append(line.Y, math.Exp(-14.5+22000/(t+273)+0.9*wave(i, 1.3)+0.4*float64(g)))
			}
			c.Pages[g].Lines = append(c.Pages[g].Lines, line)
		}
	}
	return figure.Figure{ID: "viscosity", Groups: Groups(), Body: c, Caption: "Viscosity of fired and dug slags.", Alt: "All lines fall with temperature."}
}

// Diagram is windows of oxygen potential among lines like buffers, several at
// one temperature, some open, and the window of a whole group.
func Diagram(fired, dug int) figure.Figure {
	d := &figure.Diagram{
		X: figure.Axis{Label: "temperature", Unit: "°C", Min: 900, Max: 1400},
		Y: figure.Axis{Label: "log pO₂", Unit: "bar", Min: -18, Max: -2},
	}
	for i, b := range []struct {
		name string
		a, b float64
	}{
		{"Cu–Cu₂O", 7.4, 17600}, {"magnetite–hematite", 14.4, 24900}, {"quartz–fayalite–magnetite", 8.6, 25300},
		{"wüstite–magnetite", 12.9, 32000}, {"iron–wüstite", 6.6, 27200},
	} {
		line := figure.NamedLine{Label: b.name, Style: i, Details: []figure.Detail{{Label: "source", Value: "invented for the test"}}}
		for t := 850.0; t <= 1450; t += 25 {
			line.X = append(line.X, t)
			line.Y = append(line.Y, b.a-b.b/(t+273))
		}
		d.Lines = append(d.Lines, line)
	}
	d.Regions = []figure.Region{
		{Label: "metallic iron", X: []float64{850, 1450, 1450, 850}, Y: []float64{-17.6, -9.2, -25, -25}},
		{Label: "no metallic copper", X: []float64{850, 1450, 1450, 850}, Y: []float64{-8.3, -2.8, 0, 0}},
	}
	for g, n := range []int{fired, dug} {
		for i := range n {
			at := 1200 + 15*wave(i, 0.2)
			if i%3 == 0 {
				at = 1200
			}
			mid := -9 - 1.5*float64(g) + 0.8*wave(i, 1.9)
			s := figure.Span{Group: g, Sample: sample(g, i), X0: at, X1: at, From: mid - 0.7, To: mid + 0.7,
				Details: []figure.Detail{{Label: "from", Value: fmt.Sprintf("%.1f", mid-0.7)}}}
			if i == 3 {
				s.From = math.Inf(-1)
			}
			s.Flagged = i == 1
			d.Boxes = append(d.Boxes, s)
		}
		if n > 2 {
			d.Boxes = append(d.Boxes, figure.Span{Group: g, X0: 1010 + 20*float64(g), X1: 1090 + 20*float64(g), From: -13 - float64(g), To: -10.5 - float64(g),
				Details: []figure.Detail{{Label: "samples", Value: fmt.Sprint(n)}}})
		}
	}
	return figure.Figure{ID: "oxygen", Groups: Groups(), Body: d, Caption: "Oxygen potential of fired and dug slags.", Alt: "Fired windows lie above dug ones."}
}

// Biplot is samples on a plane with lines from its middle, some of them on each
// other, hollow or at the edge.
func Biplot(fired, dug int) figure.Figure {
	d := &figure.Diagram{
		X:      figure.Axis{Label: "first component, 61 % of the variance", Min: -2, Max: 2},
		Y:      figure.Axis{Label: "second component, 22 % of the variance", Min: -1.2, Max: 1.2},
		Hollow: "apart from its own group",
	}
	for i, part := range []string{"SiO₂", "Al₂O₃", "FeO", "CaO", "K₂O", "TiO₂", "Cu"} {
		sin, cos := math.Sincos(1.1 * float64(i))
		long := 0.08 + 0.3*math.Abs(wave(i, 0.7))
		d.Lines = append(d.Lines, figure.NamedLine{Label: part, X: []float64{0, 4 * long * cos}, Y: []float64{0, 2 * long * sin},
			Details: []figure.Detail{{Label: "loading on the first", Value: "0.31"}}})
	}
	for g, n := range []int{fired, dug} {
		for i := range n {
			s := figure.Spot{Group: g, Sample: sample(g, i), X: 0.6*wave(i, 0.4) - 0.5*float64(g), Y: 0.5 * wave(2*i, 1.3), Hollow: i == 1,
				Details: []figure.Detail{{Label: "from", Value: "furnace 1"}}}
			if i == 2 {
				s.X, s.Y = d.X.Max, d.Y.Min
			}
			d.Points = append(d.Points, s)
		}
	}
	return figure.Figure{ID: "biplot", Groups: Groups(), Body: d, Caption: "Fired and dug slags on the plane of two components.", Alt: "Fired samples lie to the right of dug ones."}
}

// Methods is handheld readings of a group against the laboratory's, with a line
// and its band, a point without a sample and one without uncertainty.
func Methods(n int) figure.Figure {
	d := &figure.Diagram{
		X:      figure.Axis{Label: "Cu, laboratory", Unit: "wt%", Min: 0, Max: 10},
		Y:      figure.Axis{Label: "Cu, handheld", Unit: "wt%", Min: 0, Max: 12},
		Hollow: "beyond a limit",
		Lines: []figure.NamedLine{
			{Label: "equal", X: []float64{0, 12}, Y: []float64{0, 12}, Style: 4},
			{Label: "fitted line", X: []float64{0, 12}, Y: []float64{0.1, 13.3}, Details: []figure.Detail{{Label: "slope", Value: "1.10 ± 0.02"}}},
		},
		Regions: []figure.Region{{Label: "95 in 100", X: []float64{0, 12, 12, 0}, Y: []float64{0, 12, 14.6, 0.2}}},
	}
	for i := range n {
		x := 0.5 + 9*float64(i)/float64(n)
		p := figure.Spot{Group: 0, Sample: sample(0, i), X: x, Y: 0.1 + 1.1*x + 0.2*wave(i, 1.7), UX: 0.05 * x, UY: 0.1 * x, Hollow: i == 2,
			Details: []figure.Detail{{Label: "laboratory", Value: fmt.Sprintf("%.1f wt%%", x)}}}
		if i == 1 {
			p.Sample, p.Name, p.UX, p.UY = "", "a control", math.NaN(), 0
		}
		d.Points = append(d.Points, p)
	}
	return figure.Figure{ID: "methods", Groups: Groups(), Body: d, Caption: "Copper by two methods.", Alt: "The handheld reads a tenth higher."}
}

// Effects is intervals of some settings on some results, one row of a panel
// empty, some intervals beyond the axis.
func Effects(settings, results int) figure.Figure {
	f := &figure.Intervals{
		Axis: figure.Axis{Label: "effect in scatters between like firings", Min: -3, Max: 3},
		Bars: "95 % interval", Firm: "zero excluded, whatever the prior",
	}
	for i := range settings {
		f.Rows = append(f.Rows, []string{"air", "ore grade", "flux + second flux to ore", "charcoal to ore", "hours of blowing"}[i%5])
	}
	for k := range results {
		p := figure.Panel{Label: []string{"silica against bases", "liquidus temperature", "copper yield", "lime against iron and manganese"}[k%4]}
		for i := range settings {
			x := figure.Bar{Value: 1.5 * wave(i+3*k, 0.3), Firm: i == 1, Details: []figure.Detail{{Label: "told by the firings", Value: "62 %"}}}
			x.Lo, x.Hi = x.Value-0.8-0.5*float64(k), x.Value+0.8+0.5*float64(k)
			if i == 2 && k == 1 {
				x.Value = math.NaN()
			}
			p.Bars = append(p.Bars, x)
		}
		f.Panels = append(f.Panels, p)
	}
	return figure.Figure{ID: "effects", Body: f, Caption: "What moved the slag.", Alt: "Intervals of effects; that of ore grade excludes zero."}
}

func hostileLines(body figure.Body, s string, details []figure.Detail) {
	switch body := body.(type) {
	case *figure.Curves:
		body.X.Label, body.X.Unit, body.Y.Label, body.Y.Unit = s, s, s, s
		body.Gutter = []string{s, s}
		for k := range body.References {
			body.References[k].Label = s
		}
		for k := range body.Levels {
			body.Levels[k].Label = s
		}
		for p := range body.Pages {
			for k := range body.Pages[p].Lines {
				body.Pages[p].Lines[k].Sample, body.Pages[p].Lines[k].Details = s, details
			}
		}
	case *figure.Intervals:
		body.Axis.Label, body.Bars, body.Firm = s, s, s
		for k := range body.Rows {
			body.Rows[k] = s
		}
		for k := range body.Panels {
			body.Panels[k].Label = s
			for i := range body.Panels[k].Bars {
				body.Panels[k].Bars[i].Details = details
			}
		}
	case *figure.Diagram:
		body.X.Label, body.X.Unit, body.Y.Label, body.Y.Unit = s, s, s, s
		for k := range body.Lines {
			body.Lines[k].Label, body.Lines[k].Details = s, details
		}
		for k := range body.Regions {
			body.Regions[k].Label = s
		}
		for k := range body.Boxes {
			body.Boxes[k].Sample, body.Boxes[k].Details = s, details
		}
		for k := range body.Points {
			body.Points[k].Sample, body.Points[k].Name, body.Points[k].Details = s, s, details
			body.Hollow = s
		}
	case *figure.Bands:
		for k := range body.Places {
			body.Places[k] = s
		}
		for k := range body.Rows {
			body.Rows[k].Name, body.Rows[k].Total = s, s
			for j := range body.Rows[k].Parts {
				body.Rows[k].Parts[j].Label, body.Rows[k].Parts[j].Details = s, details
			}
		}
	}
}
