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
		{"mean a", a.Mean, 0.75, 1e-9},
		{"mean b", b.Mean, 2.33, 1e-9},
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
	qs := append(numbers(1, 3), quantity.None(quantity.Below, 0.5, "wt%"), quantity.None(quantity.NotRun, math.NaN(), "wt%"))
	g := Of(qs)
	if g.N != 2 || g.Censored != 1 || g.Absent != 1 {
		t.Fatalf("counts %d/%d/%d, want 2/1/1", g.N, g.Censored, g.Absent)
	}
	if math.Abs(g.MeanLow-4.0/3) > 1e-12 || math.Abs(g.MeanHigh-1.5) > 1e-12 {
		t.Errorf("mean between %g and %g, want 1.333 and 1.5", g.MeanLow, g.MeanHigh)
	}
	if d := Between(g, Of(numbers(1, 2))); !math.IsNaN(d.Value) || d.Why == "" {
		t.Errorf("a censored group gave the difference %v without a reason", d)
	}
	g = Of([]quantity.Quantity{quantity.None(quantity.NotFound, math.NaN(), "wt%")})
	if !math.IsNaN(g.MeanHigh) || g.MeanLow != 0 {
		t.Errorf("a limit that is not stated gave the bounds %g to %g", g.MeanLow, g.MeanHigh)
	}
}

func TestMedianOfEvenAndOdd(t *testing.T) {
	if m := Of(numbers(4, 1, 3)).Median; m != 3 {
		t.Errorf("median of three = %g", m)
	}
	if m := Of(numbers(4, 1, 3, 2)).Median; m != 2.5 {
		t.Errorf("median of four = %g", m)
	}
}
