package figure_test

import (
	"math"
	"strings"
	"testing"

	"smeltbook/report/figure"
	"smeltbook/report/figure/figuretest"
)

func TestValidateRefuses(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	ternary := func(change func(*figure.Ternary)) figure.Figure {
		f := figuretest.Ternary(2, 2)
		change(f.Body.(*figure.Ternary))
		return f
	}
	facing := func(change func(*figure.Facing)) figure.Figure {
		f := figuretest.Facing(2, 2)
		change(f.Body.(*figure.Facing))
		return f
	}
	stacked := func(change func(*figure.Facing)) figure.Figure {
		f := figuretest.Stacked(2, 2)
		change(f.Body.(*figure.Facing))
		return f
	}
	profile := func(change func(*figure.Profile)) figure.Figure {
		f := figuretest.Profile(2, 2)
		change(f.Body.(*figure.Profile))
		return f
	}
	curves := func(change func(*figure.Curves)) figure.Figure {
		f := figuretest.Melted(3, 2)
		change(f.Body.(*figure.Curves))
		return f
	}
	viscosity := func(change func(*figure.Curves)) figure.Figure {
		f := figuretest.Viscosity(3, 2)
		change(f.Body.(*figure.Curves))
		return f
	}
	diagram := func(change func(*figure.Diagram)) figure.Figure {
		f := figuretest.Diagram(3, 2)
		change(f.Body.(*figure.Diagram))
		return f
	}
	methods := func(change func(*figure.Diagram)) figure.Figure {
		f := figuretest.Methods(3)
		change(f.Body.(*figure.Diagram))
		return f
	}
	biplot := func(change func(*figure.Diagram)) figure.Figure {
		f := figuretest.Biplot(3, 2)
		change(f.Body.(*figure.Diagram))
		return f
	}
	intervals := func(change func(*figure.Intervals)) figure.Figure {
		f := figuretest.Effects(3, 2)
		change(f.Body.(*figure.Intervals))
		return f
	}
	named := func(id string) figure.Figure {
		f := figuretest.Facing(1, 1)
		f.ID = id
		return f
	}
	tests := []struct {
		name   string
		figure figure.Figure
		want   string
	}{
		{"no id", named(""), "id must start with a letter"},
		{"id with markup", named(`a"b`), "id must start with a letter"},
		{"id starts with a digit", named("7a"), "id must start with a letter"},
		{"no body", figure.Figure{ID: "a"}, "no body"},
		{"nil body", figure.Figure{ID: "a", Body: (*figure.Ternary)(nil)}, "nil"},
		{"NaN share", ternary(func(b *figure.Ternary) { b.Points[0].At[1] = nan }), `sample "KR-01"`},
		{"shares not of one whole", ternary(func(b *figure.Ternary) { b.Points[0].At = figure.Share{50, 30, 20} }), "add to 100"},
		{"point outside", ternary(func(b *figure.Ternary) { b.Points[0].At = figure.Share{1.2, -0.1, -0.1} }), "at least zero"},
		{"unknown group", ternary(func(b *figure.Ternary) { b.Points[0].Group = 2 }), "group 2 is not one of the figure's 2"},
		{"infinite isotherm", ternary(func(b *figure.Ternary) { b.Isotherms[0].Line[3][0] = inf }), "isotherm at 1150"},
		{"isotherm without temperature", ternary(func(b *figure.Ternary) { b.Isotherms[0].TC = nan }), "isotherm"},
		{"NaN boundary", ternary(func(b *figure.Ternary) { b.Boundaries[1][0][2] = nan }), "boundary 2"},
		{"field outside", ternary(func(b *figure.Ternary) { b.Fields[0].At = figure.Share{-1, 1, 1} }), `field "wüstite"`},
		{"NaN axis", facing(func(b *figure.Facing) { b.Axis.Min = nan }), "finite"},
		{"empty axis", facing(func(b *figure.Facing) { b.Axis.Max = b.Axis.Min }), "not below"},
		{"log axis from zero", facing(func(b *figure.Facing) { b.Axis.Log, b.Axis.Min = true, 0 }), "logarithmic"},
		{"NaN value", facing(func(b *figure.Facing) { b.Pages[1].Marks[0].Value = nan }), `sample "LS-012"`},
		{"value off the axis", facing(func(b *figure.Facing) { b.Pages[0].Marks[0].Value = 1700 }), "outside the axis"},
		{"error bar beside its value", facing(func(b *figure.Facing) { b.Pages[0].Marks[0].Ends = &figure.Ends{Lo: -10, Hi: -9} }), "does not hold the value"},
		{"negative uncertainty", facing(func(b *figure.Facing) { b.Pages[0].Marks[0].U = -1 }), "uncertainty"},
		{"group of a page", facing(func(b *figure.Facing) { b.Pages[0].Group = -1 }), "group -1"},
		{"reference off the axis", facing(func(b *figure.Facing) { b.References[0].From, b.References[0].To = 900, 900 }), "reference"},
		{"reference reversed", facing(func(b *figure.Facing) { b.References[1].From = 1300 }), "not a range"},
		{"parts missing", stacked(func(b *figure.Facing) { b.Pages[0].Marks[0].Stack = nil }), "0 parts where the figure has 4"},
		{"parts do not add up", stacked(func(b *figure.Facing) { b.Pages[0].Marks[0].Value = 4.9 }), "not to the value"},
		{"negative part", stacked(func(b *figure.Facing) { b.Pages[0].Marks[0].Stack[0] = -1 }), `part "dissolved"`},
		{"bars on a log axis", stacked(func(b *figure.Facing) { b.Axis.Log, b.Axis.Min = true, 0.1 }), "starts at zero"},
		{"zero on a log axis", profile(func(b *figure.Profile) { b.Rows[2].Marks[0][1].Value = 0 }), "Al₂O₃ of sample"},
		{"median off the axis", profile(func(b *figure.Profile) { b.Rows[0].Middle[1] = 1e4 }), "median of FeO"},
		{"nil curves", figure.Figure{ID: "a", Body: (*figure.Curves)(nil)}, "nil"},
		{"NaN on a curve", curves(func(b *figure.Curves) { b.Pages[0].Lines[1].Y[4] = nan }), `sample "KR-02": point 5: value NaN on the axis "share molten"`},
		{"infinite on a curve", curves(func(b *figure.Curves) { b.Pages[1].Lines[0].X[0] = inf }), `sample "LS-012": point 1`},
		{"lengths differ", curves(func(b *figure.Curves) { b.Pages[0].Lines[0].Y = b.Pages[0].Lines[0].Y[1:] }), `51 values on the axis "temperature" and 50 on "share molten"`},
		{"curve of no points", curves(func(b *figure.Curves) { b.Pages[0].Lines[0].X, b.Pages[0].Lines[0].Y = nil, nil }), "0 points where at least 2 are needed"},
		{"curve of one point", curves(func(b *figure.Curves) { b.Pages[0].Lines[0].X, b.Pages[0].Lines[0].Y = []float64{1100}, []float64{5} }), "1 points"},
		{"curve outside", curves(func(b *figure.Curves) { b.X.Min, b.X.Max = 2000, 2100; b.References = nil }), `sample "KR-01": no part of the line lies within the axes`},
		{"zero on a log curve", viscosity(func(b *figure.Curves) { b.Pages[0].Lines[2].Y[0] = 0 }), `value 0 has no place on the logarithmic axis "viscosity"`},
		{"curve beyond all measure", curves(func(b *figure.Curves) { b.Pages[0].Lines[0].Y[1] = 1e300 }), "too far off the axis"},
		{"group of a curve page", curves(func(b *figure.Curves) { b.Pages[1].Group = 7 }), "group 7"},
		{"reference off the horizontal axis", curves(func(b *figure.Curves) { b.References[0].From, b.References[0].To = 2000, 2000 }), "reference"},
		{"level off the vertical axis", curves(func(b *figure.Curves) { b.Levels[0].To = -5; b.Levels[0].From = -6 }), "reference"},
		{"NaN level", curves(func(b *figure.Curves) { b.Levels[0].To = nan }), "not a range"},
		{"empty horizontal axis", curves(func(b *figure.Curves) { b.X.Max = b.X.Min }), "not below"},
		{"nil diagram", figure.Figure{ID: "a", Body: (*figure.Diagram)(nil)}, "nil"},
		{"NaN on a line", diagram(func(b *figure.Diagram) { b.Lines[2].Y[3] = nan }), `line "quartz–fayalite–magnetite": point 4`},
		{"line outside", diagram(func(b *figure.Diagram) { b.Lines[0].X = []float64{100, 200}; b.Lines[0].Y = []float64{-9, -9} }), `line "Cu–Cu₂O": no part`},
		{"negative style", diagram(func(b *figure.Diagram) { b.Lines[0].Style = -1 }), "style -1"},
		{"region of two corners", diagram(func(b *figure.Diagram) { b.Regions[0].X, b.Regions[0].Y = b.Regions[0].X[:2], b.Regions[0].Y[:2] }), `region "metallic iron": 2 points where at least 3`},
		{"region outside", diagram(func(b *figure.Diagram) { b.Regions[1].Y = []float64{1, 2, 3, 4} }), `region "no metallic copper": no part`},
		{"region without a name", diagram(func(b *figure.Diagram) { b.Regions[1].Label = "" }), "a region has no name"},
		{"window reversed", diagram(func(b *figure.Diagram) { b.Boxes[0].To = -30 }), `window of "KR-01"`},
		{"NaN window", diagram(func(b *figure.Diagram) { b.Boxes[0].From = nan }), "not a range"},
		{"window off the axis", diagram(func(b *figure.Diagram) { b.Boxes[0].From, b.Boxes[0].To = -40, -30 }), `lies outside the axis "log pO₂"`},
		{"window at no temperature", diagram(func(b *figure.Diagram) { b.Boxes[0].X0, b.Boxes[0].X1 = inf, inf }), "not a range"},
		{"window beside the axis", diagram(func(b *figure.Diagram) { b.Boxes[0].X0, b.Boxes[0].X1 = 20, 30 }), `lies outside the axis "temperature"`},
		{"group of a window", diagram(func(b *figure.Diagram) { b.Boxes[0].Group = 2 }), "group 2"},
		{"point off the plane", biplot(func(b *figure.Diagram) { b.Points[0].X = 7 }), `sample "KR-01": value 7 lies outside`},
		{"NaN point", biplot(func(b *figure.Diagram) { b.Points[1].Y = nan }), "not a finite number"},
		{"point of no sample off the plane", methods(func(b *figure.Diagram) { b.Points[1].Y = 40 }), `sample "a control": value 40 lies outside the axis "Cu, handheld"`},
		{"negative bar of a point", methods(func(b *figure.Diagram) { b.Points[0].UY = -1 }), "uncertainties"},
		{"group of a point", biplot(func(b *figure.Diagram) { b.Points[0].Group = 5 }), "group 5"},
		{"hollow without a word", biplot(func(b *figure.Diagram) { b.Hollow = "" }), "does not say why"},
		{"nil intervals", figure.Figure{ID: "a", Body: (*figure.Intervals)(nil)}, "nil"},
		{"axis without zero", intervals(func(b *figure.Intervals) { b.Axis.Min = 0.1 }), "has to hold zero"},
		{"no panel", intervals(func(b *figure.Intervals) { b.Panels = nil }), "need a panel"},
		{"bars missing", intervals(func(b *figure.Intervals) { b.Panels[1].Bars = b.Panels[1].Bars[:1] }), `panel "liquidus temperature" has 1 bars for 3 rows`},
		{"effect off the axis", intervals(func(b *figure.Intervals) { b.Panels[0].Bars[0].Value = 9 }), `air of "silica against bases": value 9 lies outside`},
		{"interval beside its value", intervals(func(b *figure.Intervals) { b.Panels[0].Bars[0].Lo = 2.9 }), "does not hold the value"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := tt.figure.SVG(140)
			if err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("error %v, want one with %q", err, tt.want)
			}
		})
	}
}

func TestValidateAccepts(t *testing.T) {
	for _, f := range append(figuretest.All(), figuretest.Facing(0, 0), figuretest.Profile(0, 0), figuretest.Ternary(0, 0), figuretest.Melted(0, 0), figuretest.Diagram(0, 0)) {
		if err := f.Validate(); err != nil {
			t.Error(err)
		}
	}
	empty := figuretest.Profile(1, 1)
	empty.Body.(*figure.Profile).Rows = nil
	if _, err := empty.SVG(140); err != nil {
		t.Errorf("a profile without rows: %v", err)
	}
}
