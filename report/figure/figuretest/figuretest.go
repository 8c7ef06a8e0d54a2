// Package figuretest makes up figures for the tests of the two drawings. All
// samples and numbers are invented.
package figuretest

import (
	"fmt"
	"math"

	"smeltbook/report/figure"
)

// Groups are the two sides of a spread.
func Groups() []figure.Group {
	return []figure.Group{
		{Name: "fired", Label: "fired (experimental slag)"},
		{Name: "dug", Label: "dug (excavated slag)"},
	}
}

// wave is an even-looking series of numbers between -1 and 1.
func wave(i int, phase float64) float64 { return math.Sin(2.399*float64(i) + phase) }

func sample(group, i int) string {
	if group == 0 {
		return fmt.Sprintf("KR-%02d", i+1)
	}
	return fmt.Sprintf("LS-%03d", 7*i+12)
}

func share(b, c float64) figure.Share { return figure.Share{1 - b - c, b, c} }

// Ternary is a crowded triangle: fired and dug points, isotherms that leave
// the triangle, boundaries and field names, some of them in each other's way.
func Ternary(fired, dug int) figure.Figure {
	t := &figure.Ternary{Corners: [3]string{"FeO + MnO", "SiO₂", "CaO + MgO"}}
	for g, n := range []int{fired, dug} {
		for i := range n {
			b := 0.30 + 0.05*wave(i, 1.1) + 0.02*wave(3*i, 0.4) + 0.035*float64(g)
			c := 0.12 + 0.06*wave(i, 2.9) + 0.03*wave(5*i, 1.7) - 0.03*float64(g)
			t.Points = append(t.Points, figure.TernaryPoint{
				Group: g, Sample: sample(g, i), At: share(b, c),
				Details: []figure.Detail{{Label: "SiO₂", Value: fmt.Sprintf("%.1f %%", 100*b)}, {Label: "liquidus", Value: "1190 ± 25 °C"}},
			})
		}
	}
	for tc := 1150.0; tc <= 1600; tc += 50 {
		r := 0.05 + (tc-1150)/1000
		iso := figure.Isotherm{TC: tc, Major: math.Mod(tc, 100) == 0}
		for k := 0; k <= 72; k++ {
			sin, cos := math.Sincos(float64(k) * math.Pi / 36)
			iso.Line = append(iso.Line, share(0.33+r*0.8*sin, 0.16+r*1.1*cos-r*0.4*sin))
		}
		t.Isotherms = append(t.Isotherms, iso)
	}
	t.Boundaries = [][]figure.Share{
		{share(0.28, 0), share(0.30, 0.10), share(0.34, 0.20), share(0.42, 0.33), share(0.46, 0.54)},
		{share(0.40, 0), share(0.42, 0.10), share(0.50, 0.22), share(0.62, 0.38)},
		{share(0.34, 0.20), share(0.15, 0.25), share(0, 0.31)},
	}
	t.Fields = []figure.FieldLabel{
		{Text: "wüstite", At: share(0.12, 0.10), Area: 0.20},
		{Text: "fayalite", At: share(0.33, 0.06), Area: 0.06},
		{Text: "tridymite and cristobalite", At: share(0.70, 0.10), Area: 0.25},
		{Text: "olivine", At: share(0.36, 0.10), Area: 0.03},
		{Text: "pseudowollastonite", At: share(0.48, 0.36), Area: 0.09},
		{Text: "dicalcium silicate", At: share(0.24, 0.46), Area: 0.15},
		{Text: "rankinite", At: share(0.40, 0.50), Area: 0.01},
	}
	return figure.Figure{
		ID: "melt-map", Groups: Groups(), Body: t,
		Caption: "Slags in the system FeO–SiO₂–CaO with computed liquidus isotherms.",
		Alt:     "Triangle with most fired and dug samples near the fayalite field at 1150 to 1250 °C.",
	}
}

// Facing is liquidus temperatures with error bars, a flagged mark and a limit.
func Facing(fired, dug int) figure.Figure {
	f := &figure.Facing{
		Axis: figure.Axis{Label: "liquidus temperature", Unit: "°C", Min: 1050, Max: 1400},
		References: []figure.Reference{
			{From: 1250, To: 1250, Label: "reached at the tuyère"},
			{From: 1100, To: 1150, Label: "bowl floor in firing 3"},
		},
		Gutter: []string{"fired − dug", "+38 ± 17 °C", "(medians)"},
	}
	for g, n := range []int{fired, dug} {
		f.Pages[g].Group = g
		for i := range n {
			m := figure.Mark{
				Sample: sample(g, i), Value: 1215 - 40*float64(g) + 55*wave(i, 0.3), U: 18 + 8*wave(i, 2),
				Details: []figure.Detail{{Label: "first crystals", Value: "fayalite"}},
			}
			m.Flagged = i == 4
			m.Limit = g == 1 && i == 2
			if i == 5 {
				m.U = math.NaN()
			}
			f.Pages[g].Marks = append(f.Pages[g].Marks, m)
		}
	}
	return figure.Figure{
		ID: "melting", Groups: Groups(), Body: f,
		Caption: "Liquidus temperature of fired and dug slags.",
		Alt:     "Fired slags melt about 40 °C higher than dug ones.",
	}
}

// Stacked is copper lost to slag by cause, as stacked bars.
func Stacked(fired, dug int) figure.Figure {
	f := &figure.Facing{
		Axis:   figure.Axis{Label: "copper in slag", Unit: "wt%", Min: 0, Max: 5},
		Stack:  []string{"dissolved", "entrained drops", "unreduced", "as sulphide"},
		Gutter: []string{"fired − dug", "+0.9 ± 0.4 wt%"},
	}
	for g, n := range []int{fired, dug} {
		f.Pages[g].Group = g
		for i := range n {
			parts := []float64{0.5 + 0.2*wave(i, 1), 1 + 0.8*wave(i, 2), 0.6 + 0.5*wave(i, 3), 0.2 + 0.2*wave(i, 4)}
			m := figure.Mark{Sample: sample(g, i), U: 0.2, Stack: parts}
			for _, p := range parts {
				m.Value += p
			}
			f.Pages[g].Marks = append(f.Pages[g].Marks, m)
		}
	}
	return figure.Figure{ID: "copper-loss", Groups: Groups(), Body: f, Caption: "Copper lost to slag.", Alt: "Stacked bars of four causes."}
}

// Profile is twelve oxides on a logarithmic axis, with limits.
func Profile(fired, dug int) figure.Figure {
	p := &figure.Profile{Axis: figure.Axis{Label: "content", Unit: "wt%", Min: 0.01, Max: 100, Log: true}, Pages: [2]int{0, 1}}
	oxides := []string{"FeO", "SiO2", "Al2O3", "CaO", "MgO", "K2O", "Na2O", "TiO2", "MnO", "P2O5", "SO3", "Cu2O"}
	typical := []float64{45, 31, 6, 7, 1.8, 1.5, 0.4, 0.3, 0.5, 0.35, 0.15, 1.2}
	for k, oxide := range oxides {
		row := figure.ProfileRow{Label: figure.Formula(oxide)}
		for g, n := range []int{fired, dug} {
			row.Middle[g] = math.NaN()
			if n > 0 {
				row.Middle[g] = typical[k] * (1 + 0.2*float64(g))
			}
			for i := range n {
				m := figure.Mark{Sample: sample(g, i), Value: typical[k] * (1 + 0.2*float64(g)) * math.Exp(0.25*wave(i+k, float64(k))), U: math.NaN()}
				if oxide == "SO3" && i%4 == 1 {
					m.Limit, m.Value = true, 0.05
				}
				row.Marks[g] = append(row.Marks[g], m)
			}
		}
		p.Rows = append(p.Rows, row)
	}
	return figure.Figure{ID: "oxides", Groups: Groups(), Body: p, Caption: "Composition of fired and dug slags.", Alt: "Twelve oxides on facing pages."}
}

// All is one figure of each kind with 14 fired and 12 dug samples.
func All() []figure.Figure {
	return []figure.Figure{
		Ternary(14, 12), Facing(14, 12), Stacked(14, 12), Profile(14, 12),
		Melted(14, 12), Viscosity(14, 12), Diagram(14, 12), Bands(5), Biplot(14, 12), Effects(5, 4), Methods(14),
	}
}

// Hostile is one figure of each kind in which every text is s.
func Hostile(s string) []figure.Figure {
	figures := []figure.Figure{Ternary(3, 2), Facing(3, 2), Stacked(2, 2), Profile(2, 2), Melted(3, 2), Diagram(4, 2), Bands(2), Biplot(4, 2), Effects(3, 2), Methods(3)}
	details := []figure.Detail{{Label: s, Value: s}}
	for i := range figures {
		f := &figures[i]
		f.Caption, f.Alt = s, s
		f.Groups = []figure.Group{{Name: s, Label: s}, {Name: s, Label: s + " "}}
		switch body := f.Body.(type) {
		case *figure.Ternary:
			body.Corners = [3]string{s, s, s}
			for k := range body.Points {
				body.Points[k].Sample, body.Points[k].Details = s, details
			}
			for k := range body.Fields {
				body.Fields[k].Text = s
			}
		case *figure.Facing:
			body.Axis.Label, body.Axis.Unit = s, s
			body.Gutter = []string{s, s}
			for k := range body.References {
				body.References[k].Label = s
			}
			for k := range body.Stack {
				body.Stack[k] = s
			}
			for p := range body.Pages {
				hostileMarks(body.Pages[p].Marks, s, details)
			}
		case *figure.Profile:
			body.Axis.Label, body.Axis.Unit = s, s
			for k := range body.Rows {
				body.Rows[k].Label = s
				hostileMarks(body.Rows[k].Marks[0], s, details)
				hostileMarks(body.Rows[k].Marks[1], s, details)
			}
		default:
			hostileLines(body, s, details)
		}
	}
	return figures
}

func hostileMarks(marks []figure.Mark, s string, details []figure.Detail) {
	for i := range marks {
		marks[i].Sample, marks[i].Details = s, details
	}
}
