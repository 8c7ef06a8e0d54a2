package fragment_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"smeltbook/assay/fragment"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s = %g, want %g ± %g", what, got, want, within)
	}
}

// The figures of furnace practice (computed): a chord of 60 mm of a ring of
// 300 mm has a sagitta of 3.03 mm; read 0.5 mm off it gives 258 to 358 mm. A
// chord of 120 mm gives 290 to 312.
func TestSagitta(t *testing.T) {
	near(t, "sagitta of 60 mm", fragment.Sagitta(60, 300), 3.03, 0.005)
	s := fragment.Sagitta(60, 300)
	near(t, "read high", fragment.Diameter(60, s+0.5), 258, 0.5)
	near(t, "read low", fragment.Diameter(60, s-0.5), 358, 0.5)
	// The printed figures for 120 mm take the sagitta of 12.52 mm as 12.5.
	near(t, "sagitta of 120 mm", fragment.Sagitta(120, 300), 12.5, 0.05)
	near(t, "read high", fragment.Diameter(120, 12.5+0.5), 290, 0.5)
	near(t, "read low", fragment.Diameter(120, 12.5-0.5), 312, 0.5)
	// The same by curvature, with 0.5 mm as two-sided limits.
	c := fragment.OfSagitta(60, 0, fragment.Sagitta(60, 300), 0.5)
	l := c.Limits(1)
	near(t, "diameter", l.Value, 300, 1e-9)
	near(t, "low", l.Low, 258, 1)
	near(t, "high", l.High, 358, 2)
	// Short chords do not rule out a straight edge.
	if l := fragment.OfSagitta(30, 0.5, 0.7, 0.5).Limits(1.96); !math.IsInf(l.High, 1) || l.Low > 215 {
		t.Errorf("%+v", l)
	}
	// At the least chord the lower limit of the curvature is about nil.
	straight, known := fragment.LeastChord(300, 0.5, 0.1)
	c = fragment.OfSagitta(straight, 0, fragment.Sagitta(straight, 300), 0.5)
	near(t, "at the least chord", c.K-1.96*c.U, 0, 2e-4*c.K+1e-4)
	c = fragment.OfSagitta(known, 0, fragment.Sagitta(known, 300), 0.5)
	near(t, "known to a tenth", 1.96*c.U/c.K, 0.1, 0.02)
}

// Six points with their circles of least algebraic and of least geometric
// distance: Gander, Golub & Strebel 1994, BIT 34:558 (from memory): centre
// 4.7398, 2.9835 and radius 4.7142.
func TestCircleOfGander(t *testing.T) {
	pts := []fragment.Point{{1, 7}, {2, 6}, {5, 8}, {7, 7}, {9, 5}, {3, 7}}
	c, err := fragment.FitCircle(pts, 10) // so wide that no point is weighted down
	if err != nil {
		t.Fatal(err)
	}
	near(t, "x", c.X, 4.7398, 2e-3)
	near(t, "y", c.Y, 2.9835, 2e-3)
	near(t, "radius", c.R, 4.7142, 2e-3)
}

// An arc read with known errors: the limits hold the truth about as often as
// they say, and turning or moving the points changes nothing.
func TestCircleLimits(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	held, n := 0, 120
	for trial := range n {
		var pts, turned []fragment.Point
		for i := range 13 {
			a := (float64(i) - 6) / 6 * math.Asin(60./165)
			r := 165 + 0.3*rng.NormFloat64()
			pts = append(pts, fragment.Point{X: r * math.Sin(a), Y: r * math.Cos(a)})
			sin, cos := math.Sincos(float64(trial))
			p := pts[i]
			turned = append(turned, fragment.Point{X: p.X*cos - p.Y*sin + 500, Y: p.X*sin + p.Y*cos - 70})
		}
		c, err := fragment.FitCircle(pts, 0.3)
		if err != nil {
			t.Fatal(err)
		}
		if c.Limits.Low <= 330 && c.Limits.High >= 330 {
			held++
		}
		d, err := fragment.FitCircle(turned, 0.3)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "radius of the turned arc", d.R/c.R, 1, 1e-4)
	}
	if held < n*88/100 {
		t.Errorf("%d of %d limits hold the truth, want about 95 %%", held, n)
	}
}

// One slipped reading is found and hardly moves the circle.
func TestCircleRobust(t *testing.T) {
	var pts []fragment.Point
	for i := range 15 {
		a := (float64(i) - 7) / 7 * 0.5
		r := 150 + 0.1*math.Sin(7*float64(i))
		pts = append(pts, fragment.Point{X: r * math.Cos(a), Y: r * math.Sin(a)})
	}
	pts[4].X += 4
	c, err := fragment.FitCircle(pts, 0.3)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "radius", c.R, 150, 4)
	if len(c.Outliers) != 1 || c.Outliers[0] != 4 {
		t.Errorf("outliers %v, want point 4", c.Outliers)
	}
	// A straight edge has no upper limit.
	var line []fragment.Point
	for i := range 9 {
		line = append(line, fragment.Point{X: float64(i) * 8, Y: 0.2 * math.Cos(5*float64(i))})
	}
	c, err = fragment.FitCircle(line, 0.3)
	if err != nil {
		t.Fatal(err)
	}
	if !math.IsInf(c.Limits.High, 1) || c.Limits.Low < 200 {
		t.Errorf("a straight edge gives %+v", c.Limits)
	}
	if _, err := fragment.FitCircle(line[:3], 0.3); err == nil {
		t.Error("three points have an error of a circle")
	}
}

func TestPool(t *testing.T) {
	same := fragment.OfSagitta(60, 0, fragment.Sagitta(60, 300), 0.5)
	p, ok := fragment.Pool([]fragment.Curvature{same, same, same, same})
	if !ok || p.Scatter != 0 {
		t.Fatalf("%+v", p)
	}
	near(t, "four alike", p.Limits.Value, 300, 1e-9)
	one := same.Limits(1.959964)
	if !(p.Limits.Low > one.Low && p.Limits.High < one.High) {
		t.Errorf("four fragments %+v say less than one %+v", p.Limits, one)
	}
	// Heterogeneity by hand: curvatures 1, 3 with errors 0.5: Q = 8,
	// τ² = (8 − 1)/(8 − 32/8) = 1.75.
	p, _ = fragment.Pool([]fragment.Curvature{{1, 0.5}, {3, 0.5}})
	near(t, "Q", p.Q, 8, 1e-12)
	near(t, "scatter", p.Scatter*p.Scatter, 1.75, 1e-12)
	near(t, "mean", 2/p.Limits.Value, 2, 1e-12)
	if _, ok := fragment.Pool(nil); ok {
		t.Error("no fragments were pooled")
	}
}
