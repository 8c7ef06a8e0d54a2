package melt

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat"
)

// TestTangentAgainstWhole: draws found from the tangent give the mean, the
// standard deviation and the first minerals of draws that are all searched for
// in full; most melts let them.
func TestTangentAgainstWhole(t *testing.T) {
	m := testModel(t)
	r := rand.New(rand.NewPCG(5, 5))
	const melts, draws = 40, 200
	follow := 0
	for k := range melts {
		values := map[string][2]float64{}
		for i, id := range []string{"SiO2", "FeO", "CaO", "Al2O3"} {
			x := []float64{25, 30, 2, 2}[i] + []float64{20, 30, 15, 8}[i]*r.Float64()
			values[id] = [2]float64{x, 0.02 * x}
		}
		melt := measuredMelt(t, values)
		got, err := m.Spread(context.Background(), melt, draws, 9)
		if err != nil {
			t.Fatal(err)
		}
		if got.ByTangent > 0 {
			follow++
		}
		var s search
		first, whole := 0.0, make([]float64, draws)
		for i := range whole {
			w := melt.Draw(rand.New(rand.NewPCG(9, uint64(i))))
			o, err := m.onset(&s, &w)
			if err != nil {
				t.Fatal(err)
			}
			whole[i] = o.tc()
			if m.solids[o.solid].phase == got.First[0].Phase {
				first += 1.0 / draws
			}
		}
		mean, sd := stat.MeanStdDev(whole, nil)
		if math.Abs(got.Mean-mean) > 0.02 || math.Abs(got.SD-sd) > 0.02 || math.Abs(got.First[0].Share-first) > 1e-9 {
			t.Errorf("melt %d: %.2f ± %.2f °C, %s in a share of %.2f; whole %.2f ± %.2f °C, %.2f", k, got.Mean, got.SD, got.First[0].Phase, got.First[0].Share, mean, sd, first)
		}
	}
	if follow < melts/2 {
		t.Errorf("%d of %d melts follow the tangent", follow, melts)
	}
}
