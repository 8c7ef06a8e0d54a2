package summary

import (
	"math"
	"testing"

	"smeltbook/assay/quantity"
)

func numbers(xs ...float64) []quantity.Quantity {
	var qs []quantity.Quantity
	for _, x := range xs {
		qs = append(qs, quantity.WithU(x, 0.1, "wt%", "test"))
	}
	return qs
}

// The classic two-sample set of "Student" (1908, Biometrika 6:1), extra sleep under two
// drugs, has the published means 0.75 and 2.33, standard deviations 1.789 and
// 2.002 and, by Welch's method, t = −1.8608 on 17.776 degrees of freedom with
// the 95 % interval −3.3655 to 0.2055 (the values printed in the manual of the
// R language for its data set "sleep"; from memory).
func TestBetweenStudentSleep(t *testing.T) {
	a := Of(numbers(0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0))
	b := Of(numbers(1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4))
	d := Between(a, b)
	for _, c := range []struct {
		name      string
		got, want float64
		tol       float64
	}{
		{"mean a", a.Mean.Value(), 0.75, 1e-9},
		{"mean b", b.Mean.Value(), 2.33, 1e-9},
		{"sd a", a.SD, 1.789, 0.0005},
		{"sd b", b.SD, 2.002, 0.0005},
		{"t", d.Value / d.U, -1.8608, 0.00005},
		{"degrees of freedom", d.DoF, 17.776, 0.0005},
		{"low", d.Low, -3.3655, 0.0001},
		{"high", d.High, 0.2055, 0.0001},
	} {
		if math.Abs(c.got-c.want) > c.tol {
			t.Errorf("%s = %.5f, want %.5f", c.name, c.got, c.want)
		}
	}
}

func TestOfWithCensored(t *testing.T) {
	limit := quantity.None(quantity.Below, 0.5, "wt%")
	none := quantity.None(quantity.NotFound, math.NaN(), "wt%")
	g := Of(append(numbers(1, 3), limit, quantity.None(quantity.NotRun, math.NaN(), "wt%")))
	if g.N != 2 || g.Censored != 1 || g.Absent != 1 {
		t.Fatalf("counts %d/%d/%d, want 2/1/1", g.N, g.Censored, g.Absent)
	}
	for _, c := range []struct {
		name string
		got  Bounds
		want Bounds
	}{
		{"mean", g.Mean, Bounds{4.0 / 3, 1.5}}, {"median", g.Median, Bounds{1, 1}},
		{"min", g.Min, Bounds{0, 0.5}}, {"max", g.Max, Bounds{3, 3}},
		{"mean without limit", Of(append(numbers(1, 3), none)).Mean, Bounds{4.0 / 3, math.Inf(1)}},
		{"median without limit", Of(append(numbers(1, 3, 4), none)).Median, Bounds{2, 3.5}},
		{"median of limits", Of([]quantity.Quantity{limit, limit}).Median, Bounds{0, 0.5}},
	} {
		if math.Abs(c.got.Low-c.want.Low) > 1e-12 || c.got.High != c.want.High && math.Abs(c.got.High-c.want.High) > 1e-12 {
			t.Errorf("%s between %g and %g, want %g and %g", c.name, c.got.Low, c.got.High, c.want.Low, c.want.High)
		}
	}
	if d := Between(g, Of(numbers(1, 2))); !math.IsNaN(d.Value) || d.Why == "" {
		t.Errorf("a censored group gave the difference %v without a reason", d)
	}
}

func TestMedianOfEvenAndOdd(t *testing.T) {
	if m := Of(numbers(4, 1, 3)).Median.Value(); m != 3 {
		t.Errorf("median of three = %g", m)
	}
	if m := Of(numbers(4, 1, 3, 2)).Median.Value(); m != 2.5 {
		t.Errorf("median of four = %g", m)
	}
}

// Samples that agree better than their own uncertainty do not make a mean
// surer than their uncertainty allows; one sample keeps its own.
func TestUncertaintyOfTheMean(t *testing.T) {
	if u := Of(numbers(1, 1, 1, 1)).UMean(); math.Abs(u-0.05) > 1e-12 {
		t.Errorf("u of the mean of four equal samples ± 0.1 is %g, want 0.05", u)
	}
	if u := Of(numbers(1)).UMean(); math.Abs(u-0.1) > 1e-12 {
		t.Errorf("u of one sample ± 0.1 is %g", u)
	}
	d := Between(Of(numbers(3)), Of(numbers(1, 1, 1, 1)))
	if math.Abs(d.Value-2) > 1e-12 || math.Abs(d.U-math.Hypot(0.1, 0.05)) > 1e-12 || !math.IsNaN(d.Low) || d.Why == "" {
		t.Errorf("difference with a group of one: %+v", d)
	}
}
