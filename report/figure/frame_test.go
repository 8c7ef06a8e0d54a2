package figure

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

func TestFrameClip(t *testing.T) {
	even := Frame{Axis{Min: 0, Max: 10}, Axis{Min: -4, Max: 0}}
	log := Frame{Axis{Min: 0, Max: 10}, Axis{Min: 0.1, Max: 10, Log: true}}
	tests := []struct {
		name   string
		frame  Frame
		xs, ys []float64
		want   [][][2]float64
	}{
		{"inside", even, []float64{1, 5}, []float64{-3, -1}, [][][2]float64{{{0.1, 0.25}, {0.5, 0.75}}}},
		{"along the upper edge", even, []float64{0, 10}, []float64{0, 0}, [][][2]float64{{{0, 1}, {1, 1}}}},
		{"along an edge with rounding", even, []float64{0, 10}, []float64{1e-12, 1e-12}, [][][2]float64{{{0, 1}, {1, 1}}}},
		{"out at the top", even, []float64{0, 10}, []float64{-4, 4}, [][][2]float64{{{0, 0}, {0.5, 1}}}},
		{"out and back", even, []float64{0, 5, 10}, []float64{-2, 2, -2}, [][][2]float64{{{0, 0.5}, {0.25, 1}}, {{0.75, 1}, {1, 0.5}}}},
		{"right through", even, []float64{-10, 20}, []float64{-2, -2}, [][][2]float64{{{0, 0.5}, {1, 0.5}}}},
		{"upright", even, []float64{5, 5}, []float64{-9, 9}, [][][2]float64{{{0.5, 0}, {0.5, 1}}}},
		{"past a corner", even, []float64{-3, 3}, []float64{-1, 2}, nil},
		{"above", even, []float64{0, 10}, []float64{1, 2}, nil},
		{"straight in the logarithm", log, []float64{0, 10}, []float64{0.01, 100}, [][][2]float64{{{0.25, 0}, {0.75, 1}}}},
		{"joints stay one point", even, []float64{0, 1, 2, 3}, []float64{-1, -2, -1, -2}, [][][2]float64{{{0, 0.75}, {0.1, 0.5}, {0.2, 0.75}, {0.3, 0.5}}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := tt.frame.Clip(tt.xs, tt.ys)
			if diff := cmp.Diff(tt.want, got, cmpopts.EquateApprox(0, 1e-8)); diff != "" {
				t.Errorf("parts (-want +got):\n%s", diff)
			}
		})
	}
}

func TestFrameArea(t *testing.T) {
	f := Frame{Axis{Min: 0, Max: 1}, Axis{Min: 0, Max: 1}}
	tests := []struct {
		name   string
		xs, ys []float64
		want   float64
	}{
		{"inside", []float64{0.2, 0.6, 0.6, 0.2}, []float64{0.1, 0.1, 0.6, 0.6}, 0.2},
		{"over a corner", []float64{-1, 0.5, 0.5, -1}, []float64{-1, -1, 0.5, 0.5}, 0.25},
		{"round the frame", []float64{-5, 6, 6, -5}, []float64{-5, -5, 6, 6}, 1},
		{"triangle cut at the side", []float64{0, 2, 0}, []float64{0, 0, 2}, 1},
		{"half a triangle", []float64{0, 2, 0}, []float64{0, 0, 1}, 0.75},
		{"outside", []float64{2, 3, 2}, []float64{0, 0, 1}, 0},
		{"on the edge only", []float64{1, 2, 1}, []float64{0, 0, 1}, 0},
	}
	for _, tt := range tests {
		area := f.Area(tt.xs, tt.ys)
		if got := math.Abs(areaOf(area)); math.Abs(got-tt.want) > 1e-9 || (tt.want == 0) != (area == nil) {
			t.Errorf("%s: area %v of %v, want %v", tt.name, got, area, tt.want)
		}
	}
}

// Whatever a line does, its parts lie in the frame, and a line within it comes
// back whole.
func FuzzFrameClip(f *testing.F) {
	f.Add(0.0, 0.0, 1.0, 1.0, 0.5, 3.0)
	f.Add(-1.0, 0.5, 2.0, 0.5, 0.0, 0.0)
	f.Add(0.0, 1.0, 1.0, 1.0, 1.0, 0.0)
	f.Fuzz(func(t *testing.T, a, b, c, d, e, g float64) {
		for _, v := range []float64{a, b, c, d, e, g} {
			if !(math.Abs(v) < farthest) {
				t.Skip("refused before")
			}
		}
		frame := Frame{Axis{Min: 0, Max: 1}, Axis{Min: 0, Max: 1}}
		xs, ys := []float64{a, c, e}, []float64{b, d, g}
		whole := true
		for i := range xs {
			whole = whole && xs[i] >= 0 && xs[i] <= 1 && ys[i] >= 0 && ys[i] <= 1
		}
		parts := frame.Clip(xs, ys)
		for _, part := range parts {
			for _, p := range part {
				if p != inSquare(p) {
					t.Errorf("%v of %v %v lies outside", p, xs, ys)
				}
			}
		}
		if whole && (len(parts) != 1 || len(parts[0]) != 3) {
			t.Errorf("the line %v %v within the frame became %v", xs, ys, parts)
		}
	})
}
