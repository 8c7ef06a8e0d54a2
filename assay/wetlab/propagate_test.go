package wetlab

import (
	"math"
	"testing"
)

// TestKragten compares with the examples of EURACHEM/CITAC QUAM, 2nd edition,
// as printed at measurementuncertainty.org (app_a_example1 to 3; seen). The
// page of A3 prints 0.00016; the numbers of its own table give 0.000189.
func TestKragten(t *testing.T) {
	for _, c := range []struct {
		name  string
		in    []Input
		f     func([]float64) float64
		y, u  float64
		tol   float64
		terms []float64
	}{
		{"A1, cadmium standard", []Input{{"m", 100.28, 0.05}, {"P", 0.9999, 0.000058}, {"V", 100.0, 0.07}},
			func(x []float64) float64 { return 1000 * x[0] * x[1] / x[2] }, 1002.70, 0.863, 0.001, []float64{0.49995, 0.05816, -0.70140}},
		{"A2, sodium hydroxide", []Input{{"rep", 1, 0.0005}, {"m", 0.3888, 0.00013}, {"P", 1, 0.00029}, {"M", 204.2212, 0.0038}, {"V", 18.64, 0.013}},
			func(x []float64) float64 { return x[0] * ByWeighing(x[1], x[2], x[3], x[4]) }, 0.102136, 0.0000986, 1e-6,
			[]float64{5.107e-5, 3.415e-5, 2.962e-5, -1.90e-6, -7.118e-5}},
		{"A3, hydrochloric acid", []Input{{"rep", 1, 0.001}, {"m", 0.3888, 0.00013}, {"P", 1, 0.00029}, {"V2", 14.89, 0.015}, {"V1", 18.64, 0.016}, {"M", 204.2212, 0.0038}, {"V", 15, 0.011}},
			func(x []float64) float64 { return x[0] * ByWeighing(x[1], x[2], x[5], x[4]) * x[3] / x[6] }, 0.101387, 0.000189, 1e-6, nil},
	} {
		y, u, terms := Propagate(c.f, c.in)
		if math.Abs(y-c.y) > c.tol*10 || math.Abs(u-c.u) > c.tol {
			t.Errorf("%s: %g ± %g, printed %g ± %g", c.name, y, u, c.y, c.u)
		}
		for i, want := range c.terms {
			if math.Abs(terms[i].Dy-want) > 2e-3*math.Abs(want) {
				t.Errorf("%s: %s moves the result by %g, printed %g", c.name, terms[i].Name, terms[i].Dy, want)
			}
		}
	}
}

// TestUncertaintyOfTitration works W14 with u(V) = 0.02 mL, u(c) = 0.00002,
// u(m) = 0.0001 g and a repeatability of 0.1 %; numbers made for the check.
// By hand: 25.582·√((0.02/17.8)² + (0.00002/0.01667)² + (0.0001/0.5)² + 0.001²)
// = 0.0495, where u(V) is that of the volume less the blank.
func TestUncertaintyOfTitration(t *testing.T) {
	r := determination(t, "pratt", "FeO", "sample mass=0.5000±0.0001; volume=17.85±0.02; blank=0.05±0; concentration=0.01667±0.00002; repeatability=0.1").Compute()
	if math.Abs(r.Value.Value-25.582) > 0.001 || math.Abs(r.Value.U-0.0495) > 0.0005 {
		t.Errorf("FeO = %g ± %g, want 25.582 ± 0.0495", r.Value.Value, r.Value.U)
	}
	if len(r.Assumed) != 0 || r.RepeatabilityBy != "as stated" {
		t.Errorf("assumed %v, repeatability %s", r.Assumed, r.RepeatabilityBy)
	}
}

// TestStandardAddition: data of a public worked example (scribd document
// 228626738); its own s of 0.6477 adds a 1 under the root, which does not
// belong there (IUPAC note, books.rsc.org/view-large/6382024, seen).
func TestStandardAddition(t *testing.T) {
	l, err := FitLine([]float64{0, 0.1, 0.2, 0.3}, []float64{0.214, 0.386, 0.554, 0.728})
	if err != nil {
		t.Fatal(err)
	}
	x0, s := l.Added()
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"slope", l.B, 1.7100}, {"intercept", l.A, 0.2140}, {"s(y/x)", l.Syx, 0.0017321}, {"x0", x0, 0.12515}, {"s(x0)", s, 0.0013453},
		{"µg/g", x0 * 300 / 25 * 100 / 3.12, 48.13}, {"s of µg/g", s * 300 / 25 * 100 / 3.12, 0.5174},
	} {
		if math.Abs(c.got-c.want) > 4e-4*math.Abs(c.want) {
			t.Errorf("%s = %g, want %g", c.what, c.got, c.want)
		}
	}
}

// TestLineInverse puts noise on a line of known errors: the scatter of x found
// must be what At says. The generator is a fixed recurrence.
func TestLineInverse(t *testing.T) {
	state := uint64(2026)
	normal := func() float64 { // sum of twelve uniforms
		s := -6.0
		for range 12 {
			state = state*6364136223846793005 + 1442695040888963407
			s += float64(state>>11) / (1 << 53)
		}
		return s
	}
	xs := []float64{0, 1, 2, 3, 4, 5}
	const trials, sd, x0 = 4000, 0.01, 4.3
	var sum, sum2, told float64
	for range trials {
		ys := make([]float64, len(xs))
		for i, x := range xs {
			ys[i] = 0.02 + 0.2*x + sd*normal()
		}
		l, err := FitLine(xs, ys)
		if err != nil {
			t.Fatal(err)
		}
		x, s := l.At(0.02+0.2*x0+sd*(normal()+normal())/2, 2)
		sum, sum2, told = sum+x, sum2+x*x, told+s*s
	}
	mean := sum / trials
	scatter := math.Sqrt(sum2/trials - mean*mean)
	if math.Abs(mean-x0) > 0.005 || math.Abs(scatter/math.Sqrt(told/trials)-1) > 0.05 {
		t.Errorf("found %g with scatter %g, told %g", mean, scatter, math.Sqrt(told/trials))
	}
}
