package furnace

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"sync"

	"smeltbook/assay/quantity"
	"smeltbook/assay/quantity/uncertainty"
)

// Spread is what the spread of the parameters does to the answer.
type Spread struct {
	HotTC, BedTC, CharcoalKgH, Wall, Top quantity.Quantity
	Ratio                                uncertainty.Summary // CO/CO2 of the lower bed
	Hot                                  uncertainty.Summary // °C, of the burning zone
	HotEnough                            float64             // share of draws with the burning zone at or over the temperature asked for
	Draws, Failed                        int
	Seed                                 uint64
}

// SpreadOf draws the parameters (JCGM 101:2008), each draw by a random stream
// made of seed and its number, and solves the furnace for each. wanted is the
// temperature in °C that the burning zone is asked to have.
func SpreadOf(ctx context.Context, f Furnace, wanted float64, draws int, seed uint64) (Spread, error) {
	centre, err := f.Solve()
	if err != nil {
		return Spread{}, err
	}
	if draws < 2 {
		return Spread{}, fmt.Errorf("%d draws give no spread; give at least 2", draws)
	}
	states := make([]State, draws)
	failed := make([]bool, draws)
	err = drawn(ctx, f, draws, seed, func(g *Furnace, s *solver, w *shell, i int) {
		var err error
		if states[i], err = g.solve(s, w); err != nil {
			failed[i] = true
		}
	})
	if err != nil {
		return Spread{}, err
	}
	sp := Spread{Seed: seed}
	var hot, bed, charcoal, wall, top, ratio []float64
	for i, st := range states {
		if failed[i] {
			sp.Failed++
			continue
		}
		hot, bed, charcoal = append(hot, st.HotTC()), append(bed, st.BedTC()), append(charcoal, st.CharcoalKgH)
		wall, top, ratio = append(wall, st.Wall), append(top, st.Top), append(ratio, st.Ratio())
		if st.HotTC() >= wanted {
			sp.HotEnough++
		}
	}
	sp.Draws = len(hot)
	if sp.Draws < 2 || sp.Failed > draws/2 {
		return sp, fmt.Errorf("the heat balance settles in %d of %d draws only", sp.Draws, draws)
	}
	sp.HotEnough /= float64(sp.Draws)
	q := func(value float64, xs []float64, unit string) quantity.Quantity {
		return quantity.WithU(value, uncertainty.Summarise(xs, 0.95).SD, unit, "the spread of the parameters, by Monte Carlo")
	}
	sp.HotTC, sp.BedTC = q(centre.HotTC(), hot, "°C"), q(centre.BedTC(), bed, "°C")
	sp.CharcoalKgH, sp.Wall, sp.Top = q(centre.CharcoalKgH, charcoal, "kg/h"), q(centre.Wall, wall, "W"), q(centre.Top, top, "W")
	sp.Ratio, sp.Hot = uncertainty.Summarise(ratio, 0.95), uncertainty.Summarise(hot, 0.95)
	return sp, nil
}

// HeatUpSpread returns the minutes until the burning zone has a temperature, as
// Course.Reaches does, and their spread; never is the share of draws in which
// it does not within the hours.
func HeatUpSpread(ctx context.Context, f Furnace, tc, hours float64, draws int, seed uint64) (minutes uncertainty.Summary, never float64, err error) {
	f.Hours = hours
	if err := f.check(); err != nil {
		return minutes, 0, err
	}
	if draws < 2 {
		return minutes, 0, fmt.Errorf("%d draws give no spread; give at least 2", draws)
	}
	at := make([]float64, draws)
	err = drawn(ctx, f, draws, seed, func(g *Furnace, s *solver, w *shell, i int) {
		var c [moments]Moment
		at[i] = math.NaN()
		if g.heatUp(s, w, c[:]) == nil {
			at[i] = Course(c[:]).Reaches(tc)
		}
	})
	if err != nil {
		return minutes, 0, err
	}
	var good []float64
	for _, x := range at {
		if !math.IsNaN(x) {
			good = append(good, x)
		}
	}
	return uncertainty.Summarise(good, 0.95), 1 - float64(len(good))/float64(draws), nil
}

// drawn calls visit for every draw, on all processors.
func drawn(ctx context.Context, f Furnace, draws int, seed uint64, visit func(f *Furnace, s *solver, w *shell, i int)) error {
	ps := Parameters(f)
	in := inputs(ps)
	if _, err := uncertainty.NewSampler(in, nil); err != nil {
		return err
	}
	workers := min(runtime.GOMAXPROCS(0), draws)
	var wait sync.WaitGroup
	for k := range workers {
		wait.Go(func() {
			sampler, err := uncertainty.NewSampler(in, nil)
			if err != nil {
				return // unreachable: the same inputs were good above
			}
			x := make([]float64, len(in))
			source := rand.NewPCG(0, 0)
			r := rand.New(source)
			var s solver
			var w shell
			for i := k; i < draws && ctx.Err() == nil; i += workers {
				source.Seed(seed, uint64(i))
				sampler.Draw(r, x)
				g := with(f, ps, x)
				visit(&g, &s, &w, i)
			}
		})
	}
	wait.Wait()
	return ctx.Err()
}

// Rank shares the variance of the temperature of the burning zone, or of
// ln(CO/CO2) of the lower bed, among the parameters, by Sobol's indices.
func Rank(ctx context.Context, f Furnace, ratio bool, trials int, seed uint64) ([]uncertainty.Effect, error) {
	if err := f.check(); err != nil {
		return nil, err
	}
	ps := Parameters(f)
	var s solver
	var w shell
	return uncertainty.Sobol(ctx, inputs(ps), func(x []float64) float64 {
		g := with(f, ps, x)
		st, err := g.solve(&s, &w)
		switch {
		case err != nil:
			return math.NaN()
		case ratio:
			return math.Log(st.Ratio())
		}
		return st.HotTC()
	}, trials, seed)
}
