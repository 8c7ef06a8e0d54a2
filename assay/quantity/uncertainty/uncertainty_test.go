package uncertainty

import (
	"context"
	"math"
	"testing"

	"smeltbook/assay/source/checkdata"
)

func TestAdaptiveStopsAndRepeats(t *testing.T) {
	in := []Input{{Name: "a", Value: 10, U: 0.3}, {Name: "b", Value: 2, U: 0.1, Shape: Triangular}}
	f := func(x []float64) float64 { return x[0] / x[1] }
	a, err := MonteCarlo(context.Background(), in, nil, f, Settings{Seed: 5})
	if err != nil {
		t.Fatal(err)
	}
	if !a.Stable || a.Trials < 2*batch || a.Trials%batch != 0 {
		t.Errorf("stable %v after %d trials", a.Stable, a.Trials)
	}
	checkdata.Near(t, "u", a.SD, 5*math.Hypot(0.03, 0.05), 0.01)
	b, err := MonteCarlo(context.Background(), in, nil, f, Settings{Seed: 5})
	if err != nil || a != b {
		t.Errorf("the same seed gives %v and %v", a, b)
	}
	other, err := MonteCarlo(context.Background(), in, nil, f, Settings{Seed: 6})
	if err != nil || other.Mean == a.Mean {
		t.Errorf("another seed gives the same mean %v", other.Mean)
	}
}

// The shortest interval of an exponential distribution begins at zero and ends
// at −ln 0.05.
func TestShortestInterval(t *testing.T) {
	var values []float64
	const n = 20_000
	for i := range n {
		values = append(values, -math.Log(1-(float64(i)+0.5)/n))
	}
	s := Summarise(values, 0.95)
	checkdata.Near(t, "low", s.ShortLow, 0, 1e-3)
	checkdata.Near(t, "high", s.ShortHigh, -math.Log(0.05), 1e-2)
	checkdata.Near(t, "equal tail, low", s.Low, -math.Log(0.975), 1e-3)
	checkdata.Near(t, "equal tail, high", s.High, -math.Log(0.025), 1e-2)
	if one := Summarise([]float64{1}, 0.95); !math.IsNaN(one.SD) {
		t.Errorf("one value has a standard deviation of %g", one.SD)
	}
}

func TestWhatIsRefused(t *testing.T) {
	sum := func(x []float64) float64 { return x[0] + x[1] }
	two := []Input{{Name: "a", Value: 1, U: 0.1}, {Name: "b", Value: 2, U: 0.1}}
	rect := []Input{{Name: "a", Value: 1, U: 0.1}, {Name: "b", Value: 2, U: 0.1, Shape: Rectangular}}
	for name, run := range map[string]func() error{
		"negative u":  func() error { _, err := Propagate([]Input{{U: -1}, {}}, nil, sum); return err },
		"r above one": func() error { _, err := Propagate(two, Correlated(2, Pair{0, 1, 1.1}), sum); return err },
		"wrong size":  func() error { _, err := Propagate(two, Correlated(3), sum); return err },
		"no value":    func() error { _, err := Propagate(two, nil, func([]float64) float64 { return math.NaN() }); return err },
		"correlated rect": func() error {
			_, err := MonteCarlo(context.Background(), rect, Correlated(2, Pair{0, 1, 0.5}), sum, Settings{})
			return err
		},
		"one trial": func() error {
			_, err := MonteCarlo(context.Background(), two, nil, sum, Settings{Trials: 1})
			return err
		},
		"no value drawn": func() error {
			_, err := MonteCarlo(context.Background(), two, nil, func([]float64) float64 { return math.NaN() }, Settings{})
			return err
		},
		"contradiction": func() error {
			three := append(two, Input{Name: "c", Value: 3, U: 0.1})
			_, err := MonteCarlo(context.Background(), three, Correlated(3, Pair{0, 1, 0.9}, Pair{1, 2, 0.9}, Pair{0, 2, -0.9}), sum, Settings{Trials: 100})
			return err
		},
	} {
		if run() == nil {
			t.Errorf("%s: no error", name)
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := MonteCarlo(ctx, two, nil, sum, Settings{}); err != context.Canceled {
		t.Errorf("after cancelling: %v", err)
	}
}

// Fully correlated inputs cancel in a difference.
func TestFullCorrelation(t *testing.T) {
	in := []Input{{Name: "a", Value: 3, U: 0.2}, {Name: "b", Value: 1, U: 0.2}}
	c := Correlated(2, Pair{0, 1, 1})
	diff := func(x []float64) float64 { return x[0] - x[1] }
	b, err := Propagate(in, c, diff)
	if err != nil {
		t.Fatal(err)
	}
	r, err := MonteCarlo(context.Background(), in, c, diff, Settings{Trials: 1000, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "u", b.U, 0, 1e-7)
	checkdata.Near(t, "u by drawing", r.SD, 0, 1e-7)
}
