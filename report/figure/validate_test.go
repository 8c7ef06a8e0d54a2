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
	for _, f := range append(figuretest.All(), figuretest.Facing(0, 0), figuretest.Profile(0, 0), figuretest.Ternary(0, 0)) {
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
