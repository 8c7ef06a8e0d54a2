package balance

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
)

// Unmixing says how a slag is to be unmixed.
type Unmixing struct {
	Oxides []string // tracers, wt% on the basis of MixingBasis
	// Model is the relative standard deviation by which mixing itself fails: a
	// piece of slag is not the mean of its furnace, nor a split the whole of
	// its stock. It is added to the uncertainty of the analyses.
	Model float64
	Draws int // of the Monte Carlo; 400 where 0
	Seed  uint64
}

// UsualModel is the Model assumed where nothing better is known: about the
// scatter between pieces of one slag cake (our assumption).
const UsualModel = 0.05

// Unmixed is a slag as shares of its ends: kg of the oxides of each in a kg of
// the oxides of the slag.
type Unmixed struct {
	Oxides []string
	Shares []MixShare // ends that cannot be told apart stand as one
	Each   []float64  // share of every end, in the order given; of those merged the split means little
	Cov    [][]float64
	// Chi2 measures how far the mixture misses the slag, DoF are the tracers
	// beyond those needed, P the chance of a worse miss if all uncertainties are
	// right. Where Chi2 exceeds DoF the uncertainties are widened by √(Chi2/DoF)
	// (Birge 1932, Physical Review 40:207; from memory).
	Chi2, P float64
	DoF     int
	Fit     []float64 // wt% of each tracer in the mixture
	Slag    []float64 // and in the slag
	// Condition is the ratio of the largest to the smallest singular value of
	// the weighted ends, each scaled to length one: above about 30 some cannot
	// be told apart (Belsley, Kuh & Welsch 1980, from memory). Inflation is, of
	// each end, the factor by which the others blow up the variance of its
	// share; above 10 it cannot stand alone (common practice).
	Condition float64
	Inflation []float64
}

// MixShare is the share of an end, or of several that cannot be told apart.
type MixShare struct {
	Name      string
	Ends      []int // indices into the ends
	Share     quantity.Quantity
	Low, High float64 // 95 % of the draws
}

// Unmix finds the shares x of the ends in a slag by least squares with
// constraints,
//
//	minimise Σ_j (y_j − Σ_k a_jk·x_k)²/s_j²,   x_k ≥ 0,   Σ_k x_k = 1
//	s_j² = u²(y_j) + Σ_k x_k²·u²(a_jk) + (Model·y_j)²
//
// with y the slag and a the ends on the basis of MixingBasis, so that both carry
// their errors (effective variance, iterated). Intervals are by drawing all
// analyses anew (JCGM 101:2008), the constraints kept. It fails where there are
// fewer tracers than needed or no end is known.
func Unmix(slag chem.Composition, ends []End, how Unmixing) (Unmixed, error) {
	if len(ends) < 2 {
		return Unmixed{}, fmt.Errorf("unmixing needs at least two sources, not %d", len(ends))
	}
	if len(how.Oxides)+1 < len(ends) {
		return Unmixed{}, fmt.Errorf("%d tracers cannot tell %d sources apart; at least %d are needed", len(how.Oxides), len(ends), len(ends)-1)
	}
	p, err := newMixture(slag, ends, how)
	if err != nil {
		return Unmixed{}, err
	}
	x, err := p.fit(p.y, p.a)
	if err != nil {
		return Unmixed{}, err
	}
	out := Unmixed{Oxides: how.Oxides, Each: x, Slag: p.y, DoF: len(how.Oxides) + 1 - len(ends), P: math.NaN()}
	out.Fit = p.mixed(p.a, x)
	w := p.weights(x)
	for j := range p.y {
		d := p.y[j] - out.Fit[j]
		out.Chi2 += d * d * w[j]
	}
	wide := 1.0
	if out.DoF > 0 {
		out.P = distuv.ChiSquared{K: float64(out.DoF)}.Survival(out.Chi2)
		wide = math.Max(1, math.Sqrt(out.Chi2/float64(out.DoF)))
	}
	out.Cov = p.covariance(w, wide)
	out.Condition, out.Inflation = p.condition(w), p.inflation(w, out.Cov, wide)
	groups := groupsOf(out.Cov, out.Inflation)
	if k := groups[0][0]; len(groups) == 2 && math.Sqrt(out.Cov[k][k]) > nothing && len(ends) == 2 {
		return Unmixed{}, errSingular
	}
	drawn, err := p.draw(how, w, wide)
	if err != nil {
		return Unmixed{}, err
	}
	for _, g := range groups {
		out.Shares = append(out.Shares, shareOf(g, ends, x, drawn))
	}
	return out, nil
}

// nothing is the standard uncertainty of a share that says nothing of it.
const nothing = 0.5

// shareOf states the share of some ends together.
func shareOf(group []int, ends []End, x []float64, drawn [][]float64) MixShare {
	s := MixShare{Ends: group}
	sum := func(x []float64) float64 {
		total := 0.0
		for _, k := range group {
			total += x[k]
		}
		return total
	}
	for i, k := range group {
		if i > 0 {
			s.Name += " + "
		}
		s.Name += ends[k].Name
	}
	var xs []float64
	for _, d := range drawn {
		xs = append(xs, sum(d))
	}
	slices.Sort(xs)
	s.Low, s.High = stat.Quantile(0.025, stat.Empirical, xs, nil), stat.Quantile(0.975, stat.Empirical, xs, nil)
	s.Share = quantity.WithU(sum(x), stat.StdDev(xs, nil), "1", "analyses and mixing, by Monte Carlo")
	return s
}

// draw unmixes again and again with all analyses drawn anew and closed again.
func (p *mixture) draw(how Unmixing, w []float64, wide float64) ([][]float64, error) {
	n := how.Draws
	if n <= 1 {
		n = defaultDraws
	}
	r := rand.New(rand.NewPCG(how.Seed, 0x6d69780000000000)) // "mix"
	var out [][]float64
	for range n {
		y := p.slag.closed(r, wide, how.Model)
		a := make([][]float64, len(y))
		for j := range a {
			a[j] = make([]float64, len(p.ends))
		}
		for k, e := range p.ends {
			for j, v := range e.closed(r, wide, 0) {
				a[j][k] = v
			}
		}
		x, err := p.solve(y, a, w)
		if err != nil {
			return nil, err
		}
		out = append(out, x)
	}
	return out, nil
}
