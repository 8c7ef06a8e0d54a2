package uncertainty

import (
	"context"
	"math"
	"testing"

	"smeltbook/assay/source/checkdata"
)

// The function of Ishigami & Homma 1990 with a = 7, b = 0.1 and its indices as
// printed (Saltelli et al. 2008, Global Sensitivity Analysis: The Primer):
// 0.3139, 0.4424, 0 by themselves; 0.5576, 0.4424, 0.2437 in all.
func TestSobolAgainstIshigami(t *testing.T) {
	u := math.Pi / math.Sqrt(3)
	in := []Input{{"x1", 0, u, Rectangular}, {"x2", 0, u, Rectangular}, {"x3", 0, u, Rectangular}}
	f := func(x []float64) float64 {
		return math.Sin(x[0]) + 7*math.Pow(math.Sin(x[1]), 2) + 0.1*math.Pow(x[2], 4)*math.Sin(x[0])
	}
	got, err := Sobol(context.Background(), in, f, 20_000, 1)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []Effect{{"x1", 0.3139, 0.5576}, {"x2", 0.4424, 0.4424}, {"x3", 0, 0.2437}} {
		if got[i].Name != want.Name {
			t.Errorf("input %d is %q", i, got[i].Name)
		}
		checkdata.Near(t, want.Name+" by itself", got[i].First, want.First, 0.03)
		checkdata.Near(t, want.Name+" in all", got[i].Total, want.Total, 0.02)
	}
	again, err := Sobol(context.Background(), in, f, 20_000, 1)
	if err != nil || again[0] != got[0] {
		t.Errorf("the same seed gives %v, then %v, %v", got[0], again[0], err)
	}
}

func TestSobolRefuses(t *testing.T) {
	ctx := context.Background()
	in := []Input{{"x", 0, 1, Normal}}
	flat := func([]float64) float64 { return 1 }
	none := func([]float64) float64 { return math.NaN() }
	for name, f := range map[string]Function{"flat": flat, "no value": none} {
		if _, err := Sobol(ctx, in, f, 100, 1); err == nil {
			t.Errorf("%s: ranked", name)
		}
	}
	if _, err := Sobol(ctx, in, flat, 2, 1); err == nil {
		t.Error("two trials are ranked")
	}
	ended, stop := context.WithCancel(ctx)
	stop()
	if _, err := Sobol(ended, in, flat, 100, 1); err != context.Canceled {
		t.Errorf("stopped: %v", err)
	}
}
