package figure

import (
	"math"
	"slices"
	"testing"
)

func windowsAt(places ...float64) *Diagram {
	d := &Diagram{X: Axis{Min: 0, Max: 1}, Y: Axis{Min: -10, Max: 0}}
	for _, x := range places {
		d.Boxes = append(d.Boxes, Span{X0: x, X1: x, From: -6, To: -4})
	}
	return d
}

// Bars stand apart, in the order of their places and then of the list, around
// where they belong; a bar that is alone does not move.
func TestWindowsStandApart(t *testing.T) {
	tests := []struct {
		name   string
		places []float64
	}{
		{"alone", []float64{0.5}},
		{"three at one place", []float64{0.5, 0.5, 0.5}},
		{"a pair and one apart", []float64{0.9, 0.3, 0.3}},
		{"at the left edge", []float64{0, 0, 0}},
		{"at the right edge", []float64{1, 1, 1}},
		{"two knots that grow together", []float64{0.5, 0.5, 0.5, 0.52, 0.52, 0.52}},
		{"sixty", slices.Repeat([]float64{0.5}, 60)},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			windows := windowsAt(tt.places...).Windows()
			order := make([]int, len(windows))
			for i := range order {
				order[i] = i
			}
			slices.SortStableFunc(order, func(a, b int) int {
				switch {
				case tt.places[a] < tt.places[b]:
					return -1
				case tt.places[a] > tt.places[b]:
					return 1
				}
				return 0
			})
			step := math.Min(windowStep, windowRoom/float64(len(windows)))
			moves := 0.0
			for k, i := range order {
				w := windows[i]
				if w.X < 0 || w.X > 1 {
					t.Errorf("window %d stands at %v", i, w.X)
				}
				if k > 0 && w.X-windows[order[k-1]].X < step-1e-12 {
					t.Errorf("windows %d and %d stand at %v and %v", order[k-1], i, windows[order[k-1]].X, w.X)
				}
				if w.Moved != (math.Abs(w.X-tt.places[i]) > 1e-9) {
					t.Errorf("window %d from %v to %v: moved is %v", i, tt.places[i], w.X, w.Moved)
				}
				moves += w.X - tt.places[i]
			}
			if tt.name[:2] != "at" && math.Abs(moves) > 1e-9 {
				t.Errorf("on the whole the windows moved by %v", moves)
			}
		})
	}
}

func TestWindowEnds(t *testing.T) {
	inf := math.Inf(1)
	tests := []struct {
		name         string
		from, to     float64
		lo, hi, at   float64
		below, above bool
	}{
		{"closed", -6, -4, 0.4, 0.6, 0.5, false, false},
		{"to the edge", -10, 0, 0, 1, 0.5, false, false},
		{"open below", -inf, -4, 0, 0.6, 0.6, true, false},
		{"open above", -6, inf, 0.4, 1, 0.4, false, true},
		{"open", -inf, inf, 0, 1, 0.5, true, true},
		{"leaves the frame", -14, -4, 0, 0.6, 0.1, true, false},
		{"middle below the frame", -40, -4, 0, 0.6, 0, true, false},
	}
	for _, tt := range tests {
		d := windowsAt(0.5)
		d.Boxes[0].From, d.Boxes[0].To = tt.from, tt.to
		if err := d.validate(1); err != nil {
			t.Errorf("%s: %v", tt.name, err)
		}
		w := d.Windows()[0]
		if math.Abs(w.Lo-tt.lo)+math.Abs(w.Hi-tt.hi)+math.Abs(w.At-tt.at) > 1e-12 || w.Below != tt.below || w.Above != tt.above {
			t.Errorf("%s: %+v", tt.name, w)
		}
	}
}

// A window over a range stays where it is.
func TestWindowOverARange(t *testing.T) {
	d := windowsAt(0.5, 0.5)
	d.Boxes[0].X0, d.Boxes[0].X1 = 0.4, 2
	if w := d.Windows()[0]; w.Left != 0.4 || w.Right != 1 || w.X != 0.7 || w.Moved {
		t.Errorf("window %+v", w)
	}
}
