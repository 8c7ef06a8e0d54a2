package effects

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"
)

// Levels are the values that a setting may take in a firing to come.
type Levels struct {
	Setting
	Levels []float64
}

// Plan is what to fire next.
type Plan struct {
	Settings    []string
	Runs        [][]float64 // levels by run and setting, in the order in which to fire them
	Information float64     // expected gain about the effects, bits
	Before      []float64   // standard deviation of each effect of one standard deviation, in units of σ, as things stand
	After       []float64   // and after the plan
	Prior       float64     // and before any firing: Tau
}

// maxCandidates bounds the combinations of levels that are looked at.
const maxCandidates = 4096

// Next chooses the given number of firings that together teach most about the
// effects: those that make the determinant of their precision largest, given
// the firings there are and the prior (Bayesian D-optimality; Chaloner &
// Verdinelli 1995, Statistical Science 10:273). It starts with the best one by
// one and exchanges single firings as long as that gains. The order of firing
// is shuffled by the seed, so that weather and practice do not go with a
// setting. Settings whose past values are not all known, and those without two
// levels, cannot be planned.
func Next(ctx context.Context, settings []Levels, firings int, prior Prior, seed uint64) (Plan, error) {
	if firings < 1 {
		return Plan{}, errors.New("a plan needs at least one firing")
	}
	if !(prior.Tau > 0) {
		return Plan{}, errors.New("the prior needs a spread above zero")
	}
	p := Plan{Prior: prior.Tau}
	past, scaled, err := p.scale(settings)
	if err != nil {
		return Plan{}, err
	}
	candidates, err := combinations(scaled)
	if err != nil {
		return Plan{}, err
	}
	start := information(past, prior)
	chosen, gain, err := exchange(ctx, start, candidates, firings)
	if err != nil {
		return Plan{}, err
	}
	p.Information = gain / math.Ln2
	p.Before = deviations(start)
	end := mat.NewSymDense(start.SymmetricDim(), nil)
	end.CopySym(start)
	for _, c := range chosen {
		addRun(end, candidates[c])
	}
	p.After = deviations(end)
	order := rand.New(rand.NewPCG(seed, uint64(firings))).Perm(firings)
	for _, k := range order {
		run := make([]float64, len(settings))
		rest := chosen[k]
		for j := len(settings) - 1; j >= 0; j-- {
			n := len(settings[j].Levels)
			run[j] = settings[j].Levels[rest%n]
			rest /= n
		}
		p.Runs = append(p.Runs, run)
	}
	return p, nil
}

// scale brings past firings and levels to the mean and the standard deviation
// of the past firings, or of the levels where the setting never varied.
func (p *Plan) scale(settings []Levels) (past, levels [][]float64, err error) {
	if len(settings) == 0 {
		return nil, nil, errors.New("a plan needs settings")
	}
	for _, s := range settings {
		if len(s.Levels) < 2 {
			return nil, nil, fmt.Errorf("%s needs two levels to choose from", s.Name)
		}
		for _, v := range s.Values {
			if math.IsNaN(v) {
				return nil, nil, fmt.Errorf("%s is not known in every firing", s.Name)
			}
		}
		mean, sd := stat.MeanStdDev(s.Levels, nil)
		if !(sd > 0) {
			return nil, nil, fmt.Errorf("the levels of %s are equal", s.Name)
		}
		if len(s.Values) > 1 {
			if m, d := stat.MeanStdDev(s.Values, nil); d > 1e-12*math.Abs(m) {
				mean, sd = m, d
			}
		}
		z := func(x []float64) []float64 {
			out := make([]float64, len(x))
			for i, v := range x {
				out[i] = (v - mean) / sd
			}
			return out
		}
		p.Settings = append(p.Settings, s.Name)
		past, levels = append(past, z(s.Values)), append(levels, z(s.Levels))
	}
	return past, levels, nil
}

// combinations lists all combinations of levels, the last setting fastest.
func combinations(levels [][]float64) ([][]float64, error) {
	out := [][]float64{{}}
	for _, l := range levels {
		var longer [][]float64
		for _, c := range out {
			for _, v := range l {
				longer = append(longer, append(append([]float64{}, c...), v))
			}
		}
		if out = longer; len(out) > maxCandidates {
			return nil, fmt.Errorf("the levels have more than %d combinations; plan fewer settings at once", maxCandidates)
		}
	}
	return out, nil
}

// flatIntercept is the prior precision of the mean: next to nothing, so that a
// plan without past firings has a determinant.
const flatIntercept = 1e-6

// information is the precision of mean and effects, in units of 1/σ², from the
// prior and past firings given setting by setting.
func information(past [][]float64, prior Prior) *mat.SymDense {
	k := len(past)
	m := mat.NewSymDense(k+1, nil)
	m.SetSym(0, 0, flatIntercept)
	for j := range k {
		m.SetSym(j+1, j+1, 1/(prior.Tau*prior.Tau))
	}
	for i := range past[0] {
		run := make([]float64, k)
		for j := range k {
			run[j] = past[j][i]
		}
		addRun(m, run)
	}
	return m
}

func addRun(m *mat.SymDense, run []float64) {
	x := mat.NewVecDense(len(run)+1, append([]float64{1}, run...))
	m.SymRankOne(m, 1, x)
}

// deviations are the standard deviations of the effects in units of σ.
func deviations(m *mat.SymDense) []float64 {
	var chol mat.Cholesky
	var v mat.SymDense
	if !chol.Factorize(m) || chol.InverseTo(&v) != nil {
		return nil
	}
	out := make([]float64, m.SymmetricDim()-1)
	for j := range out {
		out[j] = math.Sqrt(v.At(j+1, j+1))
	}
	return out
}
