package plan

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"

	"smeltbook/assay/balance"
	"smeltbook/phase/charge"
)

// Fluxing is how much flux is really needed: a factor on all fluxes of the
// plan, by which the target would just be reached in each draw.
type Fluxing struct {
	Known     bool    // the fluxes decide about the target
	SD        float64 // of the factor
	Low, High float64 // ends of 95 % of the draws
	Nine      float64 // factor with which nine draws in ten have flux enough
	Never     float64 // share of the draws in which no amount of it suffices
}

// mostFactor is by how much the fluxes are multiplied at most.
const mostFactor = 3.0

// factor is by how much all fluxes of a mixture have to be multiplied until the
// target is just met in a trial; ok is false where that cannot be. Where it is
// met with less than the plan has, the least that will do is told.
func (p *planner) factor(trials *balance.Trials, i int, kg []float64) (f float64, ok bool) {
	miss := func(f float64) float64 {
		x := slices.Clone(kg)
		for k := range p.Fluxes {
			x[len(p.Ores)+k] *= f
		}
		y, err := trials.Give(i, x)
		if err != nil {
			return math.Inf(1)
		}
		return charge.Judge(p.model, wtOf(y), p.Target).Worst
	}
	lo, hi := 1.0, 1.0
	if miss(1) <= 1e-9 {
		for lo > 0 && miss(lo) <= 1e-9 {
			if hi = lo; lo < 0.1 {
				return 0, true
			}
			lo *= 0.85
		}
	} else {
		for miss(hi) > 1e-9 {
			if lo = hi; hi >= mostFactor {
				return math.NaN(), false
			}
			hi *= 1.1
		}
	}
	for range 12 {
		if mid := (lo + hi) / 2; miss(mid) > 1e-9 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi, true
}

func (p *planner) fluxing(factors []float64, never, n int) {
	flux := 0.0
	for k := range p.Fluxes {
		flux += p.kg[len(p.Ores)+k]
	}
	if flux == 0 || len(factors) < 2 || n == 0 {
		return
	}
	slices.Sort(factors)
	at := func(q float64) float64 { return stat.Quantile(q, stat.LinInterp, factors, nil) }
	p.Fluxing = Fluxing{Known: true, SD: deviation(factors), Low: at(0.025), High: at(0.975), Nine: math.NaN(), Never: float64(never) / float64(n)}
	if q := 0.9 * float64(n) / float64(len(factors)); q <= 1 {
		p.Fluxing.Nine = at(q)
	}
}
