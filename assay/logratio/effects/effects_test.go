package effects

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

func near(t *testing.T, what string, got, want, relative float64) {
	t.Helper()
	if !(math.Abs(got-want) <= relative*math.Abs(want)) {
		t.Errorf("%s = %.12g, want %.12g", what, got, want)
	}
}

// The Longley data of the NIST Statistical Reference Datasets (Longley 1967,
// JASA 62:819), which six nearly aliased settings make hard. With a prior that
// says nothing the effects are the certified coefficients, and their scale is
// the certified standard deviation but for the degrees of freedom, n − 1 with
// the prior's, n − 7 without. Data and certified values from memory; that they
// agree to so many digits vouches for them.
func TestLongleyCertified(t *testing.T) {
	y := []float64{60323, 61122, 60171, 61187, 63221, 63639, 64989, 63761, 66019, 67857, 68169, 66513, 68655, 69564, 69331, 70551}
	settings := []Setting{
		{Name: "deflator", Values: []float64{83.0, 88.5, 88.2, 89.5, 96.2, 98.1, 99.0, 100.0, 101.2, 104.6, 108.4, 110.8, 112.6, 114.2, 115.7, 116.9}},
		{Name: "product", Values: []float64{234289, 259426, 258054, 284599, 328975, 346999, 365385, 363112, 397469, 419180, 442769, 444546, 482704, 502601, 518173, 554894}},
		{Name: "unemployed", Values: []float64{2356, 2325, 3682, 3351, 2099, 1932, 1870, 3578, 2904, 2822, 2936, 4681, 3813, 3931, 4806, 4007}},
		{Name: "forces", Values: []float64{1590, 1456, 1616, 1650, 3099, 3594, 3547, 3350, 3048, 2857, 2798, 2637, 2552, 2514, 2572, 2827}},
		{Name: "population", Values: []float64{107608, 108632, 109773, 110929, 112075, 113270, 115094, 116219, 117388, 118734, 120445, 121950, 123366, 125368, 127852, 130081}},
		{Name: "year", Values: []float64{1947, 1948, 1949, 1950, 1951, 1952, 1953, 1954, 1955, 1956, 1957, 1958, 1959, 1960, 1961, 1962}},
	}
	f, err := FitOutcome(settings, Outcome{Name: "employment", Values: y, Repeat: math.NaN()}, Prior{Tau: 1e6, DF: 2})
	if err != nil {
		t.Fatal(err)
	}
	certified := []struct{ b, sd float64 }{
		{15.0618722713733, 84.9149257747669}, {-0.0358191792925910, 0.0334910077722432}, {-2.02022980381683, 0.488399681651699},
		{-1.03322686717359, 0.214274163161675}, {-0.0511041056535807, 0.226073200069370}, {1829.15146461355, 455.478499142212}}
	for j, e := range f.Effects {
		near(t, e.Setting, e.PerUnit, certified[j].b, 1e-7)
		near(t, "standard deviation of "+e.Setting, e.Scale/f.SD[j]*math.Sqrt(15.0/9), certified[j].sd, 1e-7)
	}
	if f.DF != 15 {
		t.Errorf("%g degrees of freedom", f.DF)
	}
	// A prior of a modest spread cannot tell product, population and year apart.
	if f, err = FitOutcome(settings, Outcome{Name: "employment", Values: y, Repeat: math.NaN()}, DefaultPrior); err != nil {
		t.Fatal(err)
	}
	if len(f.Effects[1].Aliases) == 0 || f.Effects[1].Resolution > 0.6 {
		t.Errorf("product: %+v", f.Effects[1])
	}
}

// One setting by hand: x standardised has Σx² = n − 1 = 4, so V = 1/(4 + 1) and
// the effect is 4/5 of the plain slope; ν = 2 + 4, νσ² = 2·1² + yᵀy − m·xᵀy.
func TestOneSettingByHand(t *testing.T) {
	x := []float64{1, 2, 3, 4, 5}
	y := []float64{2, 1, 4, 3, 5}
	f, err := FitOutcome([]Setting{{Name: "air", Values: x}}, Outcome{Name: "copper", Values: y, Repeat: 1}, DefaultPrior)
	if err != nil {
		t.Fatal(err)
	}
	e := f.Effects[0]
	sd := math.Sqrt(2.5)
	slope := 0.8 * sd // plain slope per standard deviation: Σxy/Σx² = 8/10
	near(t, "effect", e.PerSD, 0.8*slope, 1e-12)
	near(t, "per unit", e.PerUnit, 0.64, 1e-12)
	near(t, "resolution", e.Resolution, 0.8, 1e-12)
	sigma := math.Sqrt((2 + 10 - 0.8*slope*4*slope) / 6)
	near(t, "sigma", f.Sigma, sigma, 1e-12)
	near(t, "scale", e.Scale, sigma/math.Sqrt(5), 1e-12)
	near(t, "upper end", e.High, e.PerSD+2.446912*e.Scale, 1e-6) // t of 6 degrees of freedom, handbook 2.447
	if e.Up < 0.9 || e.Up > 1 {
		t.Errorf("probability above zero %g", e.Up)
	}
}

func TestAliasesAndConstants(t *testing.T) {
	settings := []Setting{
		{Name: "air", Values: []float64{100, 100, 200, 200, 200}},
		{Name: "bellows", Values: []float64{1, 1, 2, 2, 2}},
		{Name: "pipe", Values: []float64{2, 2, 2, 2, 2}},
		{Name: "lime", Values: []float64{0, 1, math.NaN(), 1, 0}},
		{Name: "ore", Values: []float64{1, 2, 1, 2, 1.5}},
	}
	f, err := FitOutcome(settings, Outcome{Name: "silica", Values: []float64{1, 2, 3, 4, 3.5}, Repeat: 0.3}, DefaultPrior)
	if err != nil {
		t.Fatal(err)
	}
	if len(f.Effects) != 3 || len(f.Constant) != 2 || !strings.HasPrefix(f.Constant[0], "pipe") || !strings.HasPrefix(f.Constant[1], "lime") {
		t.Fatalf("effects %+v, constant %v", f.Effects, f.Constant)
	}
	// Two settings that went together share the effect in equal halves.
	air, bellows := f.Effects[0], f.Effects[1]
	near(t, "equal shares", air.PerSD, bellows.PerSD, 1e-9)
	if len(air.Aliases) != 1 || air.Aliases[0].Setting != "bellows" || math.Abs(air.Aliases[0].Share-air.Resolution) > 1e-9 {
		t.Errorf("air: %+v", air)
	}
	if len(f.Effects[2].Aliases) != 0 {
		t.Errorf("ore: %+v", f.Effects[2])
	}
	if _, err := FitOutcome(settings[2:3], Outcome{Name: "silica", Values: []float64{1, 2, 3, 4, 3.5}}, DefaultPrior); err == nil {
		t.Error("a setting that never varied has no effect to tell")
	}
	if _, err := FitOutcome(settings, Outcome{Name: "silica", Values: []float64{1, 2, math.NaN(), math.NaN(), math.NaN()}}, DefaultPrior); err == nil {
		t.Error("two firings tell nothing")
	}
}

// Of effects drawn from the prior 95 % intervals hold about 95 %.
func TestIntervalsCoverThePrior(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 1))
	const trials = 1500
	var held, all float64
	for range trials {
		// σ² from the prior: 2/χ²(2) with Repeat 1.
		sigma := math.Sqrt(2 / (2 * r.ExpFloat64()))
		settings := make([]Setting, 4)
		for j := range settings {
			settings[j] = Setting{Name: string(rune('a' + j)), Values: make([]float64, 6)}
			for i := range settings[j].Values {
				settings[j].Values[i] = r.NormFloat64()
			}
		}
		truth := make([]float64, 4)
		for j := range truth {
			truth[j] = sigma * r.NormFloat64()
		}
		f, err := FitOutcome(settings, Outcome{Name: "y", Values: make([]float64, 6), Repeat: 1}, DefaultPrior)
		if err != nil {
			t.Fatal(err)
		}
		y := make([]float64, 6)
		for i := range y {
			y[i] = 10 + sigma*r.NormFloat64()
			for j, s := range settings {
				y[i] += truth[j] * (s.Values[i] - f.Mean[j]) / f.SD[j]
			}
		}
		if f, err = FitOutcome(settings, Outcome{Name: "y", Values: y, Repeat: 1}, DefaultPrior); err != nil {
			t.Fatal(err)
		}
		for j, e := range f.Effects {
			all++
			if e.Low <= truth[j] && truth[j] <= e.High {
				held++
			}
		}
	}
	if share := held / all; math.Abs(share-0.95) > 0.012 {
		t.Errorf("intervals hold a share of %.3f", share)
	}
}

// The order of firings does not matter.
func TestOrderOfFirings(t *testing.T) {
	a := []Setting{{Name: "air", Values: []float64{1, 2, 4, 3, 3.5}}, {Name: "ore", Values: []float64{5, 1, 2, 2, 4}}}
	b := []Setting{{Name: "air", Values: []float64{3.5, 3, 4, 2, 1}}, {Name: "ore", Values: []float64{4, 2, 2, 1, 5}}}
	f, err := FitOutcome(a, Outcome{Values: []float64{1, 2, 3, 4, 6}, Repeat: 1}, DefaultPrior)
	if err != nil {
		t.Fatal(err)
	}
	g, err := FitOutcome(b, Outcome{Values: []float64{6, 4, 3, 2, 1}, Repeat: 1}, DefaultPrior)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(f.Effects, g.Effects, cmpopts.EquateApprox(1e-10, 1e-12)); d != "" {
		t.Error(d)
	}
}
