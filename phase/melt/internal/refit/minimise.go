package refit

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

const (
	iterations  = 40  // of each round
	robustFrom  = 4.0 // widths beyond which a residual counts by its root
	enoughGain  = 1e-5
	maxDamping  = 1e8
	firstDamper = 1e-2
	leastShare  = 0.3 // of the prior, below which no heat of fusion may fall
)

// normal is the sum of squares with its normal equations.
type normal struct {
	cost float64
	jtj  *mat.SymDense
	jtr  *mat.VecDense
}

// add takes in a residual r with its derivative scale·by.
func (n *normal) add(r, scale float64, by []float64) {
	// Beyond robustFrom, ρ² grows in proportion to |r| and no longer to r².
	if a := math.Abs(r); a > robustFrom {
		rho := math.Sqrt(robustFrom * (2*a - robustFrom))
		scale *= robustFrom / rho
		r = math.Copysign(rho, r)
	}
	n.cost += r * r
	var at []int
	for i, d := range by {
		if d != 0 {
			at = append(at, i)
			n.jtr.SetVec(i, n.jtr.AtVec(i)+r*scale*d)
		}
	}
	for k, i := range at {
		for _, j := range at[k:] {
			n.jtj.SetSym(i, j, n.jtj.At(i, j)+scale*scale*by[i]*by[j])
		}
	}
}

// descend lowers the sum of squares from x on by damped Gauss–Newton steps
// (Levenberg 1944; Marquardt 1963).
func (f *problem) descend(x []float64) ([]float64, error) {
	damper := firstDamper
	n, err := f.evaluate(x, true)
	if err != nil {
		return nil, err
	}
	for range iterations {
		moved := false
		for damper < maxDamping {
			next, ok := f.step(x, n, damper)
			if ok {
				trial, err := f.evaluate(next, false)
				if err != nil {
					return nil, err
				}
				if trial.cost < n.cost {
					gain := n.cost - trial.cost
					x, moved = next, gain > enoughGain*(1+n.cost)
					damper = max(damper/5, 1e-9)
					break
				}
			}
			damper *= 4
		}
		if !moved {
			break
		}
		if n, err = f.evaluate(x, true); err != nil {
			return nil, err
		}
	}
	return x, nil
}

// step returns x after one damped step; the damping is in units of the priors.
func (f *problem) step(x []float64, n *normal, damper float64) ([]float64, bool) {
	a := mat.NewSymDense(len(x), nil)
	a.CopySym(n.jtj)
	for i, p := range f.priors {
		a.SetSym(i, i, a.At(i, i)+damper/(p.sigma*p.sigma))
	}
	var c mat.Cholesky
	if !c.Factorize(a) {
		return nil, false
	}
	var d mat.VecDense
	if err := c.SolveVecTo(&d, n.jtr); err != nil {
		return nil, false
	}
	next := make([]float64, len(x))
	for i := range x {
		next[i] = x[i] - d.AtVec(i)
		if f.probe.Positive(i) {
			next[i] = max(next[i], leastShare*f.priors[i].centre)
		}
	}
	return next, true
}
