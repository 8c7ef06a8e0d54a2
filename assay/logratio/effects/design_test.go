package effects

import (
	"context"
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func two(name string, past ...float64) Levels {
	return Levels{Setting: Setting{Name: name, Values: past}, Levels: []float64{0, 1}}
}

// Four firings of two settings without a past: the D-optimal design is the
// factorial of 2², every corner once (Fedorov 1972, Theory of Optimal
// Experiments); of three settings the half fraction, in which no two settings
// go together.
func TestFactorialIsOptimal(t *testing.T) {
	p, err := Next(context.Background(), []Levels{two("air"), two("lime")}, 4, DefaultPrior, 1)
	if err != nil {
		t.Fatal(err)
	}
	corners := slices.Clone(p.Runs)
	slices.SortFunc(corners, slices.Compare)
	if d := cmp.Diff([][]float64{{0, 0}, {0, 1}, {1, 0}, {1, 1}}, corners); d != "" {
		t.Error(d)
	}
	if p, err = Next(context.Background(), []Levels{two("air"), two("lime"), two("ore")}, 4, DefaultPrior, 1); err != nil {
		t.Fatal(err)
	}
	for a := range 3 {
		for b := range a {
			var dot float64
			for _, r := range p.Runs {
				dot += (2*r[a] - 1) * (2*r[b] - 1)
			}
			if dot != 0 {
				t.Errorf("settings %d and %d go together in %v", a, b, p.Runs)
			}
		}
	}
}

// When air and lime went together so far the next firing parts them, and tells
// more than any repetition.
func TestNextPartsAliases(t *testing.T) {
	settings := []Levels{two("air", 0, 0, 1, 1), two("lime", 0, 0, 1, 1)}
	p, err := Next(context.Background(), settings, 1, DefaultPrior, 1)
	if err != nil {
		t.Fatal(err)
	}
	if r := p.Runs[0]; r[0] == r[1] {
		t.Errorf("next firing %v keeps air and lime together", r)
	}
	for j := range settings {
		if !(p.After[j] < p.Before[j] && p.Before[j] < p.Prior) {
			t.Errorf("%s: %g before any firing, %g now, %g after", p.Settings[j], p.Prior, p.Before[j], p.After[j])
		}
	}
	// By hand: the scaled levels are ±a with a² = 3/4, so that the precision of
	// the two effects is 4 on the diagonal and 3 beside it, and along their
	// difference 1. The firing (1, a, −a) gains ½·log₂(1 + 1/4 + 2a²/1).
	want := math.Log2(1+0.25+1.5) / 2
	if math.Abs(p.Information-want) > 1e-6 {
		t.Errorf("information %g bits, want %g", p.Information, want)
	}
}

// The order is shuffled by the seed and by nothing else.
func TestOrderBySeed(t *testing.T) {
	settings := []Levels{two("air", 0, 1, 1), two("lime", 1, 0, 0), two("ore", 0, 0, 1)}
	plan := func(seed uint64) [][]float64 {
		p, err := Next(context.Background(), settings, 6, DefaultPrior, seed)
		if err != nil {
			t.Fatal(err)
		}
		return p.Runs
	}
	if d := cmp.Diff(plan(5), plan(5)); d != "" {
		t.Error(d)
	}
	if cmp.Equal(plan(1), plan(2)) && cmp.Equal(plan(2), plan(3)) {
		t.Error("three seeds give one order")
	}
}

func TestPlanRefuses(t *testing.T) {
	ctx := context.Background()
	many := make([]Levels, 13)
	for j := range many {
		many[j] = two(string(rune('a' + j)))
	}
	stopped, cancel := context.WithCancel(ctx)
	cancel()
	for name, ask := range map[string]func() (Plan, error){
		"no firing":       func() (Plan, error) { return Next(ctx, []Levels{two("air")}, 0, DefaultPrior, 1) },
		"no settings":     func() (Plan, error) { return Next(ctx, nil, 2, DefaultPrior, 1) },
		"one level":       func() (Plan, error) { return Next(ctx, []Levels{{Levels: []float64{1}}}, 2, DefaultPrior, 1) },
		"unknown past":    func() (Plan, error) { return Next(ctx, []Levels{two("air", math.NaN(), 1)}, 2, DefaultPrior, 1) },
		"too many levels": func() (Plan, error) { return Next(ctx, many, 2, DefaultPrior, 1) },
		"no prior":        func() (Plan, error) { return Next(ctx, []Levels{two("air")}, 2, Prior{}, 1) },
		"stopped":         func() (Plan, error) { return Next(stopped, []Levels{two("air")}, 2, DefaultPrior, 1) },
	} {
		if _, err := ask(); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}
