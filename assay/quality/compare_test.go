package quality

import (
	"math"
	"math/rand/v2"
	"testing"

	"smeltbook/assay/source/checkdata"
)

// ironslag is iron in crushed blast-furnace slag by a chemical and by a
// magnetic test: Hand, Daly, Lunn, McConway & Ostrowski 1993, A Handbook of
// Small Data Sets (Chapman & Hall; source from memory). The answers below were
// computed in R.
var ironslag = [][2]float64{{24, 25}, {16, 22}, {24, 17}, {18, 21}, {18, 20}, {10, 13}, {14, 16}, {16, 14}, {18, 19}, {20, 10}, {21, 23}, {20, 20}, {21, 19}, {15, 15}, {16, 16}, {15, 16}, {17, 12}, {19, 15}, {16, 15}, {15, 15}, {15, 15}, {13, 17}, {24, 18}, {22, 16}, {21, 18}, {24, 22}, {15, 20}, {20, 21}, {20, 21}, {25, 21}, {27, 25}, {22, 22}, {20, 18}, {24, 21}, {24, 18}, {23, 20}, {29, 25}, {27, 20}, {23, 18}, {19, 19}, {25, 16}, {15, 16}, {16, 16}, {27, 26}, {27, 28}, {30, 28}, {29, 30}, {26, 32}, {25, 28}, {25, 36}, {32, 40}, {28, 33}, {25, 33}}

func TestTwoMethodsForIronInSlag(t *testing.T) {
	var magnetic, chemical []float64
	for _, p := range ironslag {
		chemical, magnetic = append(chemical, p[0]), append(magnetic, p[1])
	}
	o, err := Ordinary(magnetic, chemical)
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "ordinary intercept", o.A, 8.95650107, 1e-7)
	checkdata.Near(t, "ordinary slope", o.B, 0.5866413121, 1e-9)
	checkdata.Near(t, "residual sd", o.Residual, 3.463588962, 1e-8)
	d, err := Deming(magnetic, chemical, 1)
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "Deming slope", d.B, 0.7395435666, 1e-9)
	checkdata.Near(t, "Deming intercept", d.A, 5.783058052, 1e-8)
	if !(d.UB > 0.02 && d.UB < 0.3) {
		t.Errorf("u of the Deming slope is %g", d.UB)
	}
	p, err := PassingBablok(magnetic, chemical)
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "Passing–Bablok slope", p.B, 0.9166666667, 1e-9)
	checkdata.Near(t, "Passing–Bablok intercept", p.A, 1.5, 1e-9)
	if !(p.BLow < p.B && p.B < p.BTop && p.ALow < p.A && p.A < p.ATop) {
		t.Errorf("the interval does not hold the line: %+v", p)
	}
	a, ok := AgreementOf(magnetic, chemical)
	if !ok {
		t.Fatal("no agreement")
	}
	checkdata.Near(t, "mean difference", a.Mean, 0.3773584906, 1e-9)
	checkdata.Near(t, "sd of differences", a.SD, 4.306642522, 1e-8)
	checkdata.Near(t, "lower limit", a.Low, -8.063660852, 1e-8)
	checkdata.Near(t, "upper limit", a.High, 8.818377833, 1e-8)
	checkdata.Near(t, "t", a.T, 0.6379009321, 1e-9)
	checkdata.Near(t, "concordance", a.Concordance, 0.7135944311, 1e-9)
}

// With the same errors at every point York's line is Deming's.
func TestYorkIsDemingWithEvenErrors(t *testing.T) {
	xs, ys := pearson()
	for _, lambda := range []float64{0.25, 1, 4} {
		var points []Point
		for i := range xs {
			points = append(points, Point{X: xs[i], Y: ys[i], UX: 0.1, UY: 0.1 * math.Sqrt(lambda)})
		}
		y, err := York(points)
		if err != nil {
			t.Fatal(err)
		}
		d, _ := Deming(xs, ys, lambda)
		checkdata.Near(t, "slope", y.B, d.B, 1e-10)
		checkdata.Near(t, "intercept", y.A, d.A, 1e-9)
	}
	// Without errors in x it is the ordinary line.
	var points []Point
	for i := range xs {
		points = append(points, Point{X: xs[i], Y: ys[i], UY: 0.3})
	}
	y, err := York(points)
	if err != nil {
		t.Fatal(err)
	}
	o, _ := Ordinary(xs, ys)
	checkdata.Near(t, "slope without errors in x", y.B, o.B, 1e-12)
}

// Exchanging the methods turns the line about.
func TestLinesTurnAbout(t *testing.T) {
	var points, turned []Point
	var xs, ys []float64
	rng := rand.New(rand.NewPCG(7, 7))
	for range 40 {
		x := 1 + 9*rng.Float64()
		p := Point{X: x + 0.2*rng.NormFloat64(), Y: 0.5 + 1.2*x + 0.3*rng.NormFloat64(), UX: 0.2, UY: 0.3}
		points, turned = append(points, p), append(turned, Point{X: p.Y, Y: p.X, UX: p.UY, UY: p.UX})
		xs, ys = append(xs, p.X), append(ys, p.Y)
	}
	a, err := York(points)
	b, err2 := York(turned)
	if err != nil || err2 != nil {
		t.Fatal(err, err2)
	}
	checkdata.Near(t, "York's slope turned", a.B*b.B, 1, 1e-9)
	checkdata.Near(t, "MSWD turned", a.MSWD, b.MSWD, 1e-9)
	if math.Abs(a.B-1.2) > 3*a.Scaled().UB {
		t.Errorf("slope %g ± %g, true 1.2", a.B, a.UB)
	}
	p, _ := PassingBablok(xs, ys)
	q, _ := PassingBablok(ys, xs)
	checkdata.Near(t, "Passing–Bablok turned", p.B*q.B, 1, 0.02)
}

// A fifth of wild points turns the ordinary line and not the robust ones.
func TestRobustLinesHold(t *testing.T) {
	var xs, ys []float64
	for i := range 20 {
		x := 1 + float64(i)/2
		y := 1 + 2*x
		if i >= 16 {
			y += 30
		}
		xs, ys = append(xs, x), append(ys, y)
	}
	o, _ := Ordinary(xs, ys)
	if o.B < 2.5 {
		t.Fatalf("the wild points do nothing: ordinary slope %g", o.B)
	}
	p, err := PassingBablok(xs, ys)
	if err != nil {
		t.Fatal(err)
	}
	s, err := TheilSen(xs, ys)
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "Passing–Bablok", p.B, 2, 0.05)
	checkdata.Near(t, "Theil–Sen", s.B, 2, 0.05)
	if _, err := PassingBablok(xs, neg(ys)); err == nil {
		t.Error("falling results are fitted")
	}
}

func neg(xs []float64) []float64 {
	out := make([]float64, len(xs))
	for i, x := range xs {
		out[i] = -x
	}
	return out
}

func TestFitsRefuse(t *testing.T) {
	for _, c := range [][]Point{
		nil,
		{{X: 1, Y: 1, UX: 1, UY: 1}, {X: 2, Y: 2, UX: 1, UY: 1}},
		{{X: 1, Y: 1, UX: 1, UY: 1}, {X: 1, Y: 2, UX: 1, UY: 1}, {X: 1, Y: 3, UX: 1, UY: 1}},
		{{X: 1, Y: 1}, {X: 2, Y: 2}, {X: 3, Y: 3}},
	} {
		if l, err := York(c); err == nil {
			t.Errorf("%v gives %+v", c, l)
		}
	}
}

// Correcting readings brings them back to the trusted method, with intervals
// that hold the truth about as often as they say.
func TestCorrectedReadings(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	held, asked := 0, 0
	for range 200 {
		var points []Point
		reading := func(x float64) float64 { return (0.05 + 1.15*x) * (1 + 0.05*rng.NormFloat64()) }
		for range 20 {
			x := 0.5 + 4*rng.Float64()
			points = append(points, Point{X: x * (1 + 0.01*rng.NormFloat64()), Y: reading(x), UX: 0.01 * x, UY: 0.01 * x})
		}
		l, err := York(points)
		if err != nil {
			t.Fatal(err)
		}
		if l.Fits() {
			t.Fatal("a line with five times the stated scatter is said to fit")
		}
		for range 10 {
			x := 1 + 3*rng.Float64()
			y := reading(x)
			got, u, ok := l.Correct(y, 0.01*x)
			if !ok {
				continue
			}
			asked++
			if math.Abs(got-x) <= l.T()*u {
				held++
			}
		}
	}
	if share := float64(held) / float64(asked); share < 0.90 || share > 0.985 {
		t.Errorf("95 %% intervals hold %.1f %% of %d", 100*share, asked)
	}
	l, _ := York([]Point{{X: 1, Y: 1.1, UX: .1, UY: .1}, {X: 2, Y: 2.1, UX: .1, UY: .1}, {X: 3, Y: 3, UX: .1, UY: .1}})
	if _, _, ok := l.Correct(9, 0.1); ok {
		t.Error("a reading three times the highest calibrator is corrected")
	}
}

// The line is noisy even with two hundred groups, and the median of 11 lies a
// few per cent high, so the mean over many sets is held to what made them.
func TestPrecisionLineRecovers(t *testing.T) {
	const sets = 20
	var s0, k, above float64
	for seed := range uint64(sets) {
		rng := rand.New(rand.NewPCG(seed, 4))
		var pairs [][2]float64
		for range 2200 {
			c := 0.1 + 5*rng.Float64()
			s := 0.02 + 0.03*c
			pairs = append(pairs, [2]float64{c + s*rng.NormFloat64(), c + s*rng.NormFloat64()})
		}
		l, ok := PrecisionLineOf(pairs)
		if !ok {
			t.Fatal("no line")
		}
		s0, k = s0+l.S0/sets, k+l.K/sets
		for _, p := range pairs {
			if tenth, _ := ControlLines(l.At((p[0] + p[1]) / 2)); math.Abs(p[0]-p[1]) > tenth {
				above += 1.0 / sets / float64(len(pairs))
			}
		}
		if _, ok := PrecisionLineOf(pairs[:49]); ok {
			t.Error("49 pairs make a line")
		}
	}
	checkdata.Near(t, "k", k, 0.03, 0.002)
	checkdata.Near(t, "s0", s0, 0.02, 0.004)
	checkdata.Near(t, "share of pairs above the line that a tenth should pass", above, 0.1, 0.01)
}
