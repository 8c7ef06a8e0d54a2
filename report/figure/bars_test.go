package figure_test

import (
	"math"
	"strings"
	"testing"

	"smeltbook/report/figure"
)

// A bar with ends of its own reaches them, held to the axis; its meaning
// stands in the legend in place of the standard uncertainty.
func TestBarsWithEndsOfTheirOwn(t *testing.T) {
	body := &figure.Facing{Axis: figure.Axis{Label: "viscosity", Unit: "Pa·s", Min: 0.1, Max: 10, Log: true}, Bars: "within a factor of two"}
	own := figure.Mark{Sample: "A", Value: 0.15, U: math.NaN(), Ends: &figure.Ends{Lo: 0.075, Hi: 0.3}}
	body.Pages[0].Marks = []figure.Mark{own}
	body.Pages[1].Group = 1
	if lo, hi, ok := (figure.Spread{Facing: body}).Bar(own); !ok || lo != 0.1 || hi != 0.3 {
		t.Errorf("bar from %g to %g, %v", lo, hi, ok)
	}
	if lo, hi, ok := (figure.Spread{Facing: body}).Bar(figure.Mark{Value: 1, U: 0.2}); !ok || lo != 0.8 || hi != 1.2 {
		t.Errorf("bar of a standard uncertainty from %g to %g, %v", lo, hi, ok)
	}
	own.Limit = true
	if _, _, ok := (figure.Spread{Facing: body}).Bar(own); ok {
		t.Error("an upper limit has a bar")
	}
	f := figure.Figure{ID: "bars", Caption: "Bars.", Alt: "Bars.", Groups: []figure.Group{{Name: "a", Label: "a"}, {Name: "b", Label: "b"}}, Body: body}
	svg, err := f.SVG(180)
	if err != nil {
		t.Fatal(err)
	}
	if text := string(svg); !strings.Contains(text, "within a factor of two") || strings.Contains(text, "one standard uncertainty") {
		t.Error("the legend does not say what the bars are")
	}
}
