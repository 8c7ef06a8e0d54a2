package uncertainty

import (
	"context"
	"math"
	"testing"

	"smeltbook/assay/source/checkdata"
)

// EURACHEM/CITAC guide "Quantifying Uncertainty in Analytical Measurement",
// 2nd edition, examples A1 to A3, with their inputs as printed. The standard
// uncertainties were recomputed from those inputs: A1 and A2 agree with the
// printed 0.9 mg/L and 0.00010 mol/L. A3 is printed as 0.00016 mol/L on one
// public copy, which its own table of inputs does not give.
func TestGuideExamples(t *testing.T) {
	for _, c := range []struct {
		name     string
		in       []Input
		f        Function
		value, u float64
		tol      float64
		terms    []float64
	}{
		{"A1 calibration standard", []Input{{Name: "m", Value: 100.28, U: 0.05}, {Name: "P", Value: 0.9999, U: 0.000058}, {Name: "V", Value: 100, U: 0.07}},
			func(x []float64) float64 { return 1000 * x[0] * x[1] / x[2] }, 1002.70, 0.863, 0.001, []float64{0.49995, 0.05816, -0.70140}},
		{"A2 sodium hydroxide", []Input{{Name: "repeatability", Value: 1, U: 0.0005}, {Name: "m", Value: 0.3888, U: 0.00013}, {Name: "P", Value: 1, U: 0.00029},
			{Name: "M", Value: 204.2212, U: 0.0038}, {Name: "V", Value: 18.64, U: 0.013}},
			func(x []float64) float64 { return 1000 * x[0] * x[1] * x[2] / (x[3] * x[4]) }, 0.102136, 0.0000986, 1e-7,
			[]float64{5.107e-5, 3.415e-5, 2.962e-5, -1.90e-6, -7.118e-5}},
		{"A3 acid by titration", []Input{{Name: "repeatability", Value: 1, U: 0.001}, {Name: "m", Value: 0.3888, U: 0.00013}, {Name: "P", Value: 1, U: 0.00029},
			{Name: "V2", Value: 14.89, U: 0.015}, {Name: "V1", Value: 18.64, U: 0.016}, {Name: "M", Value: 204.2212, U: 0.0038}, {Name: "V", Value: 15, U: 0.011}},
			func(x []float64) float64 { return 1000 * x[0] * x[1] * x[2] * x[3] / (x[4] * x[5] * x[6]) }, 0.101387, 0.000189, 1e-6, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			b, err := Propagate(c.in, nil, c.f)
			if err != nil {
				t.Fatal(err)
			}
			checkdata.Near(t, "value", b.Value, c.value, max(c.tol, 1e-5*c.value))
			checkdata.Near(t, "u", b.U, c.u, c.tol)
			for i, want := range c.terms {
				checkdata.Near(t, "term of "+c.in[i].Name, b.Terms[i], want, 1.5e-3*math.Abs(want)+1e-8)
			}
			mc, err := MonteCarlo(context.Background(), c.in, nil, c.f, Settings{Trials: 200_000, Seed: 1})
			if err != nil {
				t.Fatal(err)
			}
			checkdata.Near(t, "u by drawing", mc.SD, b.U, 0.01*b.U)
		})
	}
}

// Ferrous iron by direct titration: 0.5000 g, 17.85 mL of 0.01667 mol/L
// dichromate, blank 0.05 mL; numbers constructed, arithmetic by hand: 25.582
// with 0.0495 wt% FeO.
func TestTitration(t *testing.T) {
	in := []Input{{Name: "V", Value: 17.85, U: 0.02}, {Name: "c", Value: 0.01667, U: 0.00002}, {Name: "m", Value: 0.5, U: 0.0001}, {Name: "repeatability", Value: 1, U: 0.001}}
	b, err := Propagate(in, nil, func(x []float64) float64 { return 600 * x[1] * (x[0] - 0.05) * 1e-3 * 71.844 / x[2] * x[3] })
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "FeO", b.Value, 25.582, 0.001)
	checkdata.Near(t, "u", b.U, 0.0495, 0.001)
}

// JCGM 101:2008, 9.2.3, 9.2.4 and 9.3 (from memory, each recomputed with 4·10⁶
// trials when the numbers were noted).
func TestSupplementExamples(t *testing.T) {
	rect := func(sd float64) Input { return Input{Name: "x", U: sd, Shape: Rectangular} }
	sum := func(x []float64) (s float64) {
		for _, v := range x {
			s += v
		}
		return s
	}
	run := func(in []Input, f Function) Result {
		t.Helper()
		r, err := MonteCarlo(context.Background(), in, nil, f, Settings{Trials: 1_000_000, Seed: 1})
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	r := run([]Input{rect(1), rect(1), rect(1), rect(1)}, sum)
	checkdata.Near(t, "four rectangular: u", r.SD, 2, 0.01)
	checkdata.Near(t, "low", r.Low, -3.88, 0.01)
	checkdata.Near(t, "high", r.High, 3.88, 0.01)
	r = run([]Input{rect(1), rect(1), rect(1), rect(10)}, sum)
	checkdata.Near(t, "one wide rectangular: u", r.SD, 10.15, 0.02)
	checkdata.Near(t, "low", r.Low, -17.0, 0.1)
	checkdata.Near(t, "high", r.High, 17.0, 0.1)

	between := func(lo, hi float64) Input {
		return Input{Name: "density", Value: (lo + hi) / 2, U: (hi - lo) / 2 / math.Sqrt(3), Shape: Rectangular}
	}
	mass := []Input{{Name: "m", Value: 100_000, U: 0.050}, {Name: "dm", Value: 1.234, U: 0.020}, between(1.10, 1.30), between(7000, 9000), between(7950, 8050)}
	weigh := func(x []float64) float64 { return (x[0]+x[1])*(1+(x[2]-1.2)*(1/x[3]-1/x[4])) - 100_000 }
	r = run(mass, weigh)
	checkdata.Near(t, "mass", r.Mean, 1.234, 0.001)
	checkdata.Near(t, "u of the mass", r.SD, 0.0754, 0.0005)
	checkdata.Near(t, "shortest interval, low", r.ShortLow, 1.083, 0.005)
	checkdata.Near(t, "shortest interval, high", r.ShortHigh, 1.383, 0.005)
	b, err := Propagate(mass, nil, weigh)
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "first order", b.U, 0.0539, 0.0002)
}

// JCGM 100:2008, annex H.2 (readings and results from memory): resistance,
// reactance and impedance from voltage, current and phase that were read
// together, five times, and are correlated. The correlations are taken from the
// readings, for those printed (−0.36, 0.86, −0.65) are rounded to two figures.
func TestCorrelatedInputs(t *testing.T) {
	readings := [3][5]float64{{5.007, 4.994, 5.005, 4.990, 4.999}, {19.663e-3, 19.639e-3, 19.640e-3, 19.685e-3, 19.678e-3}, {1.0456, 1.0438, 1.0468, 1.0428, 1.0433}}
	in := make([]Input, 3)
	for i, list := range readings {
		var m Moments
		for _, x := range list {
			m.Add(x)
		}
		in[i] = Input{Name: "V I phase", Value: m.Mean(), U: m.SD() / math.Sqrt(5)}
	}
	r := func(i, j int) float64 {
		var s float64
		for k := range 5 {
			s += (readings[i][k] - in[i].Value) * (readings[j][k] - in[j].Value)
		}
		return s / 20 / (in[i].U * in[j].U) // of the means: n(n − 1) = 20
	}
	checkdata.Near(t, "r(V, I)", r(0, 1), -0.36, 0.005)
	checkdata.Near(t, "r(V, phase)", r(0, 2), 0.86, 0.005)
	checkdata.Near(t, "r(I, phase)", r(1, 2), -0.65, 0.005)
	c := Correlated(3, Pair{0, 1, r(0, 1)}, Pair{0, 2, r(0, 2)}, Pair{1, 2, r(1, 2)})
	for _, x := range []struct {
		name     string
		f        Function
		value, u float64
	}{
		{"resistance", func(x []float64) float64 { return x[0] / x[1] * math.Cos(x[2]) }, 127.732, 0.071},
		{"reactance", func(x []float64) float64 { return x[0] / x[1] * math.Sin(x[2]) }, 219.847, 0.295},
		{"impedance", func(x []float64) float64 { return x[0] / x[1] }, 254.260, 0.236},
	} {
		b, err := Propagate(in, c, x.f)
		if err != nil {
			t.Fatal(err)
		}
		checkdata.Near(t, x.name, b.Value, x.value, 0.0005)
		checkdata.Near(t, "u of "+x.name, b.U, x.u, 0.0006)
		r, err := MonteCarlo(context.Background(), in, c, x.f, Settings{Trials: 200_000, Seed: 2})
		if err != nil {
			t.Fatal(err)
		}
		checkdata.Near(t, "u of "+x.name+" by drawing", r.SD, b.U, 0.01*b.U)
	}
}
