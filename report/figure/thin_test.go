package figure_test

import (
	"math"
	"testing"

	"smeltbook/report/figure"
)

// What is left out lies within the distance of what is left, the ends stay, and
// a circle takes as many chords as its sagitta allows: of radius r and distance
// d no fewer than π/acos(1 − d/r), and by halving no more than twice that many.
func TestThin(t *testing.T) {
	const d = 0.01
	var circle, wave, straight [][2]float64
	for i := range 1001 {
		x := float64(i) / 1000
		sin, cos := math.Sincos(2 * math.Pi * x)
		circle = append(circle, [2]float64{cos, sin})
		wave = append(wave, [2]float64{x, 0.2*math.Sin(9*x) + 0.004*math.Sin(400*x)})
		straight = append(straight, [2]float64{x, 2 * x})
	}
	for name, line := range map[string][][2]float64{"circle": circle, "wave": wave, "straight": straight, "two": straight[:2], "one": straight[:1], "none": nil} {
		got := figure.Thin(line, d)
		if len(line) > 0 && (got[0] != line[0] || got[len(got)-1] != line[len(line)-1]) {
			t.Errorf("%s: an end is gone", name)
		}
		for _, p := range line {
			near := math.Inf(1)
			for i := range got {
				a, b := got[max(i-1, 0)], got[i]
				for k := range 201 {
					s := float64(k) / 200
					near = min(near, math.Hypot(p[0]-a[0]-s*(b[0]-a[0]), p[1]-a[1]-s*(b[1]-a[1])))
				}
			}
			if near > d+0.002 {
				t.Fatalf("%s: the point %v is %v away from what is left", name, p, near)
			}
		}
	}
	least := math.Pi / math.Acos(1-d)
	if n := float64(len(figure.Thin(circle, d)) - 1); n < least || n > 2*least {
		t.Errorf("a circle has %v chords, want %.0f to %.0f", n, least, 2*least)
	}
	if n := len(figure.Thin(straight, d)); n != 2 {
		t.Errorf("a straight line has %d points", n)
	}
}
