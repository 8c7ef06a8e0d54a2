// Package effects asks what moved a result from firing to firing, when there
// are few firings and several settings changed between them.
//
// Few firings cannot tell many settings apart. A linear model with a prior
// gives every effect an interval all the same: where the firings say nothing
// the interval is that of the prior, and where two settings went up and down
// together their effects are shared out between them, which is told by name.
// No such model shows a cause: what nobody wrote down may have moved with a
// setting.
package effects

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat"
)

// Setting is what was set or measured in every firing, such as the air rate.
type Setting struct {
	Name, Unit string
	Values     []float64 // by firing; NaN where it is not known
}

// Outcome is what came of it, such as a balance of the slag.
type Outcome struct {
	Name, Unit string
	Values     []float64 // by firing; NaN where it is not known
	// Repeat is the scatter to be expected between firings of equal settings, a
	// guess from the error of the analyses and the pieces, in Unit; NaN when
	// nothing is known.
	Repeat float64
}

// Prior is what is believed before the firings are looked at:
//
//	effect of one standard deviation of a setting | σ ~ N(0, (Tau·σ)²)
//	σ² ~ DF·Repeat²/χ²(DF),  Repeat that of the outcome
//
// σ is the scatter between firings of equal settings. Without Repeat the prior
// of σ is flat in its logarithm.
type Prior struct {
	Tau float64
	DF  float64
}

// DefaultPrior says that one standard deviation of a setting moves a result
// about as much as two like firings differ by chance, and holds the guess of
// that scatter for worth two firings.
var DefaultPrior = Prior{Tau: 1, DF: 2}

// Effect is the effect of one setting on one outcome.
type Effect struct {
	Setting    string
	PerSD      float64 // change of the outcome for one standard deviation of the setting
	Low, High  float64 // 95 % credible interval of PerSD
	PerUnit    float64 // the same for one unit of the setting
	Scale      float64 // of Student's t behind PerSD
	Up         float64 // probability that the effect is above zero
	Firm       bool    // zero is outside the interval with the prior, with half and with twice its Tau
	Resolution float64 // share of the effect that the firings told: 1 all, 0 nothing but the prior
	Aliases    []Alias // settings whose effect is mixed into this one
}

// Alias is a setting that went with another: Share of its effect shows in the
// other's.
type Alias struct {
	Setting string
	Share   float64
}

// aliasShare is the least share that is told.
const aliasShare = 0.2

// Fit is the model of one outcome.
type Fit struct {
	Outcome  Outcome
	Prior    Prior
	Firings  []int // that went in, by place
	Effects  []Effect
	Constant []string // settings that did not vary, or are not known in a firing, with the reason
	Sigma    float64  // scatter between like firings
	DF       float64  // degrees of freedom of the intervals
	SD       []float64
	Mean     []float64 // of the settings, for reading PerSD
}

// FitOutcome fits one outcome by settings. It leaves out firings without a
// result, and settings that did not vary or are not known in every firing
// left.
func FitOutcome(settings []Setting, y Outcome, prior Prior) (Fit, error) {
	if !(prior.Tau > 0) || prior.DF < 0 {
		return Fit{}, errors.New("the prior needs a spread above zero and degrees of freedom of zero or more")
	}
	f := Fit{Outcome: y, Prior: prior}
	for i, v := range y.Values {
		if !math.IsNaN(v) {
			f.Firings = append(f.Firings, i)
		}
	}
	if len(f.Firings) < 3 {
		return Fit{}, fmt.Errorf("%s is known for %d firings; effects need three or more", y.Name, len(f.Firings))
	}
	x, used := f.standardised(settings)
	if len(used) == 0 {
		return Fit{}, fmt.Errorf("no setting varied between the firings with %s", y.Name)
	}
	d := make([]float64, len(f.Firings))
	for k, i := range f.Firings {
		d[k] = y.Values[i]
	}
	mean := stat.Mean(d, nil)
	for k := range d {
		d[k] -= mean
	}
	p, err := solve(x, d, prior, y.Repeat)
	if err != nil {
		return Fit{}, fmt.Errorf("%s: %w", y.Name, err)
	}
	f.Sigma, f.DF = p.sigma, p.df
	firm := func(j int) bool {
		for _, factor := range []float64{0.5, 1, 2} {
			q, err := solve(x, d, Prior{Tau: prior.Tau * factor, DF: prior.DF}, y.Repeat)
			if err != nil {
				return false
			}
			if lo, hi := q.interval(j); lo <= 0 && hi >= 0 {
				return false
			}
		}
		return true
	}
	for j, s := range used {
		e := Effect{Setting: s.Name, PerSD: p.mean[j], Scale: p.scale(j), Up: p.above(j), PerUnit: p.mean[j] / f.SD[j], Resolution: p.resolution.At(j, j), Firm: firm(j)}
		e.Low, e.High = p.interval(j)
		for k, other := range used {
			if share := p.resolution.At(j, k); k != j && math.Abs(share) >= aliasShare {
				e.Aliases = append(e.Aliases, Alias{other.Name, share})
			}
		}
		f.Effects = append(f.Effects, e)
	}
	return f, nil
}

// standardised returns the settings that vary, mean 0 and standard deviation 1
// over the firings used, a column each.
func (f *Fit) standardised(settings []Setting) (x [][]float64, used []Setting) {
	for _, s := range settings {
		column := make([]float64, len(f.Firings))
		known := true
		for k, i := range f.Firings {
			column[k] = s.Values[i]
			known = known && !math.IsNaN(s.Values[i])
		}
		if !known {
			f.Constant = append(f.Constant, s.Name+": not known in every firing")
			continue
		}
		mean, sd := stat.MeanStdDev(column, nil)
		if !(sd > 1e-12*math.Abs(mean)) {
			f.Constant = append(f.Constant, s.Name+": the same in every firing")
			continue
		}
		for k := range column {
			column[k] = (column[k] - mean) / sd
		}
		x, used = append(x, column), append(used, s)
		f.Mean, f.SD = append(f.Mean, mean), append(f.SD, sd)
	}
	return x, used
}
