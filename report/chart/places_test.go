package chart

import (
	"math"
	"testing"
)

// A label's places lie on its line, lean with it, and never stand on end
// while a flatter one is left.
func TestPlacesOnALine(t *testing.T) {
	bend := [][2]float64{{0.2, 0.1}, {0.6, 0.1}, {0.6, 0.3}} // level, then upright
	places := placesOn([][][2]float64{{{0, 0}, {0.1, 0}}, bend})
	if len(places) != 11 {
		t.Fatalf("%d places", len(places))
	}
	upright := false
	for _, p := range places {
		level, onEnd := math.Abs(p[1]-0.1) < 1e-9 && p[2] == 0, math.Abs(p[0]-0.6) < 1e-9 && math.Abs(p[2]) == 90
		if !level && !onEnd && math.Hypot(p[0]-0.6, p[1]-0.1) > 0.015 {
			t.Errorf("place %v is not on the line, or turned otherwise", p)
		}
		if onEnd {
			upright = true
		} else if upright && level {
			t.Errorf("the level place %v comes after one on end", p)
		}
	}
	if got := places[0]; math.Abs(got[0]-0.5) > 1e-9 {
		t.Errorf("the first place is %v, want the middle of the line", got)
	}
	if got := placesOn([][][2]float64{{{0, 0}, {0.05, 0}}}); got != nil {
		t.Errorf("a short line has the places %v", got)
	}
	if got := placesOn(nil); got != nil {
		t.Errorf("no line has the places %v", got)
	}
}
