package charge

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"smeltbook/assay/source/checkdata"
	"smeltbook/phase/melt"
	"smeltbook/phase/slag"
)

// oxides is a stock as kg of oxides in a kilogram of it.
type oxides map[slag.Oxide]float64

// mixing returns the slag of stocks whose oxides all go to it; the cost is the
// flux.
func mixing(ores int, stocks ...oxides) func([]float64) (slag.Wt, float64, error) {
	return func(kg []float64) (w slag.Wt, cost float64, err error) {
		for i, s := range stocks {
			for o, x := range s {
				w[o] += kg[i] * x
			}
			if i >= ores {
				cost += kg[i]
			}
		}
		return w.Normalise(), cost, nil
	}
}

func model(t *testing.T) Model {
	t.Helper()
	m, err := melt.Default()
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// Levy 1912, lecture VII (seen): 7 parts of lime do the work of 9 of ferrous
// oxide, for one part of CaO carries 0.54 of silica as mono-silicate, one of FeO
// 0.42. Either flux alone is solved for, and lime is taken where both may serve.
func TestWorthOfFluxes(t *testing.T) {
	quartz, lime, iron := oxides{slag.SiO2: 1}, oxides{slag.CaO: 1}, oxides{slag.FeO: 1}
	solve := func(term Term, stocks ...oxides) []float64 {
		p := Problem{Ores: []Bound{{1, 1}}, Slag: mixing(1, stocks...), Target: []Term{term}}
		for range stocks[1:] {
			p.Fluxes = append(p.Fluxes, Bound{0, 3})
		}
		s, err := p.Solve(context.Background())
		if err != nil || !s.Verdict.Met() {
			t.Fatalf("%v: %+v", err, s)
		}
		return s.Kg
	}
	mono := func(over slag.Oxide, mass float64) Term {
		return Term{Of: Ratio, Over: over, Under: slag.SiO2, Lo: 2 * mass / slag.SiO2.Mass(), Hi: 10}
	}
	checkdata.Near(t, "silica by lime", 1/solve(mono(slag.CaO, slag.CaO.Mass()), quartz, lime)[1], 0.54, 0.005)
	checkdata.Near(t, "silica by ferrous oxide", 1/solve(mono(slag.FeO, slag.FeO.Mass()), quartz, iron)[1], 0.42, 0.005)
	both := solve(Term{Of: Content, Over: slag.SiO2, Hi: 40}, quartz, lime, iron)
	checkdata.Near(t, "bases for 40 silica", both[1]+both[2], 1.5, 1e-6)
}

// The target is met, at no more flux and at no more slag than a fine grid over
// all mixtures finds.
func TestCheapest(t *testing.T) {
	ore := oxides{slag.SiO2: 0.48, slag.Al2O3: 0.04, slag.FeO: 0.22, slag.CaO: 0.01, slag.K2O: 0.006}
	rich := oxides{slag.SiO2: 0.17, slag.Al2O3: 0.014, slag.FeO: 0.29, slag.CaO: 0.007}
	bog := oxides{slag.SiO2: 0.10, slag.Al2O3: 0.023, slag.FeO: 0.66}
	stone := oxides{slag.SiO2: 0.05, slag.CaO: 0.51, slag.Al2O3: 0.009}
	stocks := []oxides{ore, rich, bog, stone}
	flux := mixing(2, stocks...)
	weight := func(kg []float64) (slag.Wt, float64, error) {
		w, _, err := flux(kg)
		sum := 0.0
		for i, s := range stocks {
			for _, x := range s {
				sum += kg[i] * x
			}
		}
		return w, sum, err
	}
	for name, of := range map[string]func([]float64) (slag.Wt, float64, error){"flux": flux, "slag": weight} {
		p := Problem{Ores: []Bound{{0.5, 1}, {0, 0.3}}, Fluxes: []Bound{{0, 1}, {0, 0.3}},
			Slag: of, Model: model(t), Seed: 7,
			Target: []Term{AtMost(Liquidus, 1200), {Of: Viscosity, AtC: 1250, Hi: 0.35}, {Of: Ratio, Over: slag.CaO, Under: slag.SiO2, Hi: 0.3}}}
		got, err := p.Solve(context.Background())
		if err != nil || !got.Verdict.Met() {
			t.Fatalf("%v %+v", err, got.Verdict)
		}
		if again, err := p.Solve(context.Background()); err != nil || again.Cost != got.Cost {
			t.Errorf("the same seed gives %g and %g (%v)", got.Cost, again.Cost, err)
		}
		checkdata.Near(t, "ores", got.Kg[0]+got.Kg[1], 1, 1e-9)
		best := math.Inf(1)
		for a := 0.7; a <= 1.0001; a += 0.05 {
			for f := 0.0; f <= 1; f += 0.005 {
				for l := 0.0; l <= 0.3; l += 0.01 {
					w, cost, _ := p.Slag([]float64{a, 1 - a, f, l})
					if cost < best {
						if _, met := judge(p.Model, w, p.Target, tolerance); met {
							best = cost
						}
					}
				}
			}
		}
		if !(got.Cost <= best+1e-6) {
			t.Errorf("least %s %g, the grid finds %g", name, got.Cost, best)
		}
		t.Logf("least %s %.4f at %.4f, grid %.4f", name, got.Cost, got.Kg, best)
	}
}

// A target out of reach: the nearest mixture, and what it would take.
func TestOutOfReach(t *testing.T) {
	p := Problem{Ores: []Bound{{1, 1}}, Fluxes: []Bound{{0, 0.2}},
		Slag:  mixing(1, oxides{slag.SiO2: 1}, oxides{slag.FeO: 1}),
		Model: model(t), Target: []Term{{Of: Content, Over: slag.SiO2, Hi: 40}, {Of: Ratio, Over: slag.FeO, Under: slag.SiO2, Hi: 0.1}}}
	s, err := p.Solve(context.Background())
	if err != nil || s.Verdict.Met() {
		t.Fatalf("%v %+v", err, s)
	}
	ways, err := p.Ways(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range ways {
		switch {
		case w.Change == EaseTerm && w.Index == 0: // FeO/SiO2 of 0.1
			checkdata.Near(t, "least silica", w.Solution.Verdict.Values[0], 100/1.1, 1e-3)
		case w.Change == EaseTerm && w.Index == 1 && w.Reached:
			t.Error("0.2 kg of flux bring 1 kg of quartz to 40 wt%")
		case w.Change != EaseTerm && w.Reached:
			t.Errorf("%s reaches what contradicts itself", w.Change)
		}
	}
	p.Target = p.Target[:1]
	ways, err = p.Ways(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	if w := ways[1]; w.Change != MoreFlux || !w.Reached {
		t.Errorf("%+v", w)
	} else {
		checkdata.Near(t, "flux", w.Solution.Kg[1], 1.5, 1e-5)
	}
}

func TestRefuses(t *testing.T) {
	good := Problem{Ores: []Bound{{0, 1}}, Slag: mixing(1, oxides{slag.SiO2: 1})}
	for says, change := range map[string]func(*Problem){
		"needs an ore":      func(p *Problem) { p.Ores = nil },
		"nothing to choose": func(p *Problem) { p.Fluxes = []Bound{{2, 1}} },
		"at most 0.5":       func(p *Problem) { p.Ores = []Bound{{0, 0.5}} },
		"never negative":    func(p *Problem) { p.Target = []Term{{Of: Content, Lo: -1, Hi: 4}} },
		"contradicts":       func(p *Problem) { p.Target = []Term{{Of: Content, Lo: 5, Hi: 4}} },
		"contradict each other": func(p *Problem) {
			p.Target = []Term{{Of: Content, Over: slag.SiO2, Lo: 40, Hi: 50}, {Of: Ratio, Over: slag.FeO, Under: slag.SiO2, Lo: 2, Hi: 3}}
		},
		"no target": func(p *Problem) { p.Target = []Term{{Of: Ratio, Lo: 1, Hi: 2}} },
		"no mixture within": func(p *Problem) {
			p.Slag = func([]float64) (slag.Wt, float64, error) { return slag.Wt{}, 0, errors.New("none") }
		},
	} {
		p := good
		change(&p)
		if _, err := p.Solve(context.Background()); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v", says, err)
		}
	}
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if _, err := good.Solve(ctx); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
}

func BenchmarkSolve(b *testing.B) {
	m, err := melt.Default()
	if err != nil {
		b.Fatal(err)
	}
	ore := oxides{slag.SiO2: 0.48, slag.Al2O3: 0.04, slag.FeO: 0.22, slag.CaO: 0.01, slag.K2O: 0.006}
	bog := oxides{slag.SiO2: 0.10, slag.Al2O3: 0.023, slag.FeO: 0.66}
	p := Problem{Ores: []Bound{{1, 1}}, Fluxes: []Bound{{0, 1}}, Slag: mixing(1, ore, bog), Model: m, Target: []Term{AtMost(Liquidus, 1200)}}
	b.Run("solve", func(b *testing.B) {
		for b.Loop() {
			if _, err := p.Solve(context.Background()); err != nil {
				b.Fatal(err)
			}
		}
	})
	w, _, err := p.Slag([]float64{1, 0.5})
	if err != nil {
		b.Fatal(err)
	}
	b.Run("anchor_one_liquidus", func(b *testing.B) {
		for b.Loop() {
			if _, err := m.Liquidus(w); err != nil {
				b.Fatal(err)
			}
		}
	})
}
