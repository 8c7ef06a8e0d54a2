package melt

import (
	"context"
	"errors"
	"math"
	"reflect"
	"runtime"
	"testing"

	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/phase/slag"
)

// measuredMelt returns a melt of values with standard uncertainties, in wt%.
func measuredMelt(t testing.TB, values map[string][2]float64) slag.Melt {
	t.Helper()
	var parts []chem.Part
	for _, id := range []string{"SiO2", "FeO", "CaO", "Al2O3"} {
		if v, ok := values[id]; ok {
			parts = append(parts, chem.Part{ID: id, Quantity: quantity.WithU(v[0], v[1], "wt%", "for the test")})
		}
	}
	c, err := chem.NewComposition(parts...)
	if err != nil {
		t.Fatal(err)
	}
	melt, err := slag.FromComposition(c)
	if err != nil {
		t.Fatal(err)
	}
	return melt
}

// TestSpreadIsDeterministic: the same seed gives the same bits on one
// processor and on all.
func TestSpreadIsDeterministic(t *testing.T) {
	m := testModel(t)
	melt := measuredMelt(t, map[string][2]float64{"SiO2": {32, 0.6}, "FeO": {56, 0.9}, "CaO": {12, 0.4}})
	run := func(procs int) Spread {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(procs))
		s, err := m.Spread(context.Background(), melt, 500, 42)
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	one, four := run(1), run(4)
	if !reflect.DeepEqual(one, four) {
		t.Errorf("one processor %+v, four %+v", one, four)
	}
	var share float64
	for _, s := range one.First {
		share += s.Share
	}
	if math.Abs(share-1) > 1e-12 || one.Draws != 500 || !(one.Low < one.Mean && one.Mean < one.High) {
		t.Errorf("%+v", one)
	}
}

// TestSpreadAgainstPropagation: where the liquidus is close to linear, the
// spread of the draws agrees with the law of propagation of uncertainty
// (JCGM 100:2008, 5.1.2) through the slopes.
func TestSpreadAgainstPropagation(t *testing.T) {
	m := testModel(t)
	const u = 0.05
	melt := measuredMelt(t, map[string][2]float64{"SiO2": {45, u}, "FeO": {45, 0}, "CaO": {10, 0}})
	s, err := m.Spread(context.Background(), melt, 4000, 7)
	if err != nil {
		t.Fatal(err)
	}
	slopes, err := m.Slopes(melt.Wt)
	if err != nil {
		t.Fatal(err)
	}
	// Adding du of SiO2 to 100 raises its share by du·(1 − 0.45).
	want := math.Abs(slopes.Slopes[0].PerWt) * u * 0.55
	if math.Abs(s.SD-want) > 0.06*want {
		t.Errorf("sd of the draws %.3f °C, propagated %.3f °C", s.SD, want)
	}
}

func TestSpreadRefuses(t *testing.T) {
	m := testModel(t)
	plain := slag.FromWt(slag.Wt{slag.SiO2: 32, slag.FeO: 68})
	if _, err := m.Spread(context.Background(), plain, 100, 1); !errors.Is(err, ErrNoUncertainty) {
		t.Errorf("without uncertainty: %v", err)
	}
	melt := measuredMelt(t, map[string][2]float64{"SiO2": {32, 0.6}, "FeO": {68, 0.9}})
	if _, err := m.Spread(context.Background(), melt, 1, 1); err == nil {
		t.Error("one draw gave a spread")
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := m.Spread(ctx, melt, 100, 1); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
}
