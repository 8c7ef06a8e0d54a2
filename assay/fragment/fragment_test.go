package fragment_test

import (
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"smeltbook/assay/fragment"
	"smeltbook/assay/quantity"
	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
	"smeltbook/assay/source/checkdata"
)

// The figures of furnace practice (computed): a chord of 60 mm of a ring of
// 300 mm has a sagitta of 3.03 mm; read 0.5 mm off it gives 258 to 358 mm. A
// chord of 120 mm gives 290 to 312.
func TestSagitta(t *testing.T) {
	checkdata.Near(t, "sagitta of 60 mm", fragment.Sagitta(60, 300), 3.03, 0.005)
	s := fragment.Sagitta(60, 300)
	checkdata.Near(t, "read high", fragment.Diameter(60, s+0.5), 258, 0.5)
	checkdata.Near(t, "read low", fragment.Diameter(60, s-0.5), 358, 0.5)
	// The printed figures for 120 mm take the sagitta of 12.52 mm as 12.5.
	checkdata.Near(t, "sagitta of 120 mm", fragment.Sagitta(120, 300), 12.5, 0.05)
	checkdata.Near(t, "read high", fragment.Diameter(120, 12.5+0.5), 290, 0.5)
	checkdata.Near(t, "read low", fragment.Diameter(120, 12.5-0.5), 312, 0.5)
	// The same by curvature, with 0.5 mm as two-sided limits.
	c := fragment.OfSagitta(60, 0, fragment.Sagitta(60, 300), 0.5)
	l := c.Limits(1)
	checkdata.Near(t, "diameter", l.Value, 300, 1e-9)
	checkdata.Near(t, "low", l.Low, 258, 1)
	checkdata.Near(t, "high", l.High, 358, 2)
	// Short chords do not rule out a straight edge.
	if l := fragment.OfSagitta(30, 0.5, 0.7, 0.5).Limits(1.96); !math.IsInf(l.High, 1) || l.Low > 215 {
		t.Errorf("%+v", l)
	}
	// At the least chord the lower limit of the curvature is about nil.
	straight, known := fragment.LeastChord(300, 0.5, 0.1)
	c = fragment.OfSagitta(straight, 0, fragment.Sagitta(straight, 300), 0.5)
	checkdata.Near(t, "at the least chord", c.K-1.96*c.U, 0, 2e-4*c.K+1e-4)
	c = fragment.OfSagitta(known, 0, fragment.Sagitta(known, 300), 0.5)
	checkdata.Near(t, "known to a tenth", 1.96*c.U/c.K, 0.1, 0.02)
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
	checkdata.Near(t, "x", c.X, 4.7398, 2e-3)
	checkdata.Near(t, "y", c.Y, 2.9835, 2e-3)
	checkdata.Near(t, "radius", c.R, 4.7142, 2e-3)
}

// Eight points with their ellipse of least geometric distance: Gander, Golub &
// Strebel 1994, BIT 34:558 (from memory): centre 2.6996, 3.8160, half axes
// 6.5187 and 3.0319.
func TestEllipseOfGander(t *testing.T) {
	pts := []fragment.Point{{1, 7}, {2, 6}, {5, 8}, {7, 7}, {9, 5}, {3, 7}, {6, 2}, {8, 4}}
	c, err := fragment.FitCircle(pts, 10)
	if err != nil {
		t.Fatal(err)
	}
	e, err := fragment.FitEllipse(pts, c)
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "x", e.X, 2.6996, 2e-3)
	checkdata.Near(t, "y", e.Y, 3.8160, 2e-3)
	checkdata.Near(t, "a", e.A, 6.5187, 2e-3)
	checkdata.Near(t, "b", e.B, 3.0319, 2e-3)
}

// An oval of 200 by 160 mm, read over a third, is told from a circle; a circle
// is not told from itself, and a short arc is refused.
func TestEllipseOrCircle(t *testing.T) {
	ring := func(a, b, from, to float64) (pts []fragment.Point) {
		for i := range 24 {
			phi := from + (to-from)*float64(i)/23
			r := 1 + 0.0015*math.Sin(91*float64(i))
			pts = append(pts, fragment.Point{X: a * r * math.Cos(phi), Y: b * r * math.Sin(phi)})
		}
		return pts
	}
	fit := func(pts []fragment.Point) (fragment.Ellipse, error) {
		c, err := fragment.FitCircle(pts, 0.3)
		if err != nil {
			t.Fatal(err)
		}
		return fragment.FitEllipse(pts, c)
	}
	e, err := fit(ring(100, 80, 0, 3.4))
	if err != nil || e.P > 0.001 {
		t.Errorf("an oval: %+v, %v", e, err)
	}
	checkdata.Near(t, "half axis", e.A, 100, 3)
	checkdata.Near(t, "half axis", e.B, 80, 3)
	if e, err := fit(ring(100, 100, 0, 3.4)); err != nil || e.P < 0.05 {
		t.Errorf("a circle: %+v, %v", e, err)
	}
	if _, err := fit(ring(100, 80, 0, 0.6)); err == nil {
		t.Error("a short arc tells an oval from a circle")
	}
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
		checkdata.Near(t, "radius of the turned arc", d.R/c.R, 1, 1e-4)
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
	checkdata.Near(t, "radius", c.R, 150, 4)
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
	checkdata.Near(t, "four alike", p.Limits.Value, 300, 1e-9)
	one := same.Limits(1.959964)
	if !(p.Limits.Low > one.Low && p.Limits.High < one.High) {
		t.Errorf("four fragments %+v say less than one %+v", p.Limits, one)
	}
	// Heterogeneity by hand: curvatures 1, 3 with errors 0.5: Q = 8,
	// τ² = (8 − 1)/(8 − 32/8) = 1.75.
	p, _ = fragment.Pool([]fragment.Curvature{{1, 0.5}, {3, 0.5}})
	checkdata.Near(t, "Q", p.Q, 8, 1e-12)
	checkdata.Near(t, "scatter", p.Scatter*p.Scatter, 1.75, 1e-12)
	checkdata.Near(t, "mean", 2/p.Limits.Value, 2, 1e-12)
	if _, ok := fragment.Pool(nil); ok {
		t.Error("no fragments were pooled")
	}
}

func TestRead(t *testing.T) {
	field := func(names ...string) (fs []sheet.Field) {
		for i, n := range names {
			name, unit, _ := strings.Cut(strings.TrimSuffix(n, ")"), " (")
			fs = append(fs, sheet.Field{Name: name, Unit: unit, Ref: string(rune('A'+i)) + "1"})
		}
		return fs
	}
	row := func(n int, values ...string) (r sheet.Record) {
		for i, v := range values {
			c := sheet.RecordCell{Text: v, Value: math.NaN(), Class: quantity.Unusable, At: source.Cell{File: "f.xlsx", Sheet: "S", Ref: string(rune('A'+i)) + strconv.Itoa(n)}}
			if x, err := strconv.ParseFloat(v, 64); err == nil {
				c.Value, c.Class = x, quantity.Measured
			} else if v == "" {
				c.Class = quantity.Missing
			}
			r.Cells = append(r.Cells, c)
		}
		return r
	}
	t1 := sheet.Records{File: "f.xlsx", Sheet: "S", Fields: field("Fragment", "Chord (mm)", "Sagitta (cm)", "Slagged (mm)", "Vitrified (mm)", "Grey (mm)"),
		Rows: []sheet.Record{row(2, "W1", "60", "0.303", "3", "30", "12"), row(3, "W2", "30", "2", "", "", ""), row(4, "W3", "30", "wide", "", "", ""), row(5, "w1", "30", "0.1", "", "", "")}}
	t2 := sheet.Records{File: "f.xlsx", Sheet: "P", Fields: field("Fragment", "x (mm)", "y (mm)"), Rows: []sheet.Record{row(2, "W9", "0", "0"), row(3, "W9", "10", "1"), row(4, "W9", "x", "1")}}
	got, ns := fragment.Read([]sheet.Records{t1, t2})
	if len(got) != 3 || got[0].Name != "W1" || len(got[0].Layers) != 3 || !got[0].Layers[2].Broken || got[0].Layers[1].Outer != 33 || len(got[2].Points) != 2 {
		t.Fatalf("%+v", got)
	}
	checkdata.Near(t, "sagitta in mm", got[0].Sagitta, 3.03, 1e-9)
	if r, ok := got[0].Read(); !ok || math.Abs(r.Limits.Value-300) > 1 || r.Way != fragment.BySagitta {
		t.Errorf("%+v", r)
	}
	want := map[string]string{"FRAGMENT_SAGITTA": "A3", "FRAGMENT_NUMBER": "C4", "FRAGMENT_TWICE": "A5", "FRAGMENT_ASSUMED_U": "B2"}
	for _, n := range ns {
		if ref, ok := want[n.Code]; ok && (n.At.Ref == ref || n.At.Sheet == "P") {
			delete(want, n.Code)
		}
	}
	if len(want) > 0 {
		t.Errorf("not told: %v in %v", want, ns)
	}
}

func FuzzCircle(f *testing.F) {
	f.Add(0.0, 0.0, 10.0, 1.0, 20.0, 1.5, 30.0, 0.5, 0.3)
	f.Add(0.0, 0.0, 0.0, 0.0, 1.0, 1.0, 2.0, 2.0, 1.0)
	f.Fuzz(func(t *testing.T, a, b, c, d, e, g, h, i, u float64) {
		for _, x := range []float64{a, b, c, d, e, g, h, i} {
			if !(math.Abs(x) < 1e4) {
				return
			}
		}
		if !(u > 1e-3 && u < 1e3) {
			return
		}
		r, err := fragment.FitCircle([]fragment.Point{{X: a, Y: b}, {X: c, Y: d}, {X: e, Y: g}, {X: h, Y: i}}, u)
		if err == nil && (!(r.R > 0) || math.IsNaN(r.Limits.Low) || !(r.Limits.Low <= r.Limits.High)) {
			t.Fatalf("%+v", r)
		}
	})
}
