package reconcile

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// result states what the search found, with the covariance of the adjusted and
// the estimated quantities:
//
//	read      V − V·Gᵀ·(G·V·Gᵀ)⁺·G·V
//	unread    ju⁺·jr·(that)·jrᵀ·ju⁺ᵀ
func (l *linear) result(iterations int) Result {
	p := l.p
	n := len(p.readings)
	r := Result{Value: make([]float64, n), U: make([]float64, n), Determined: make([]bool, n), DoF: l.rank, P: math.NaN(), Iterations: iterations}
	nr := len(p.read)
	adjusted := mat.NewDense(max(nr, 1), max(nr, 1), nil) // covariance of the adjusted readings
	change := mat.NewDense(max(nr, 1), max(nr, 1), nil)   // of the adjustments
	var gain mat.Dense
	if l.g != nil {
		gain.Mul(l.w, l.g)
		var gwg mat.Dense
		gwg.Mul(l.g.T(), &gain)
		for a, i := range p.read {
			for b, j := range p.read {
				ui, uj := p.readings[i].U, p.readings[j].U
				change.Set(a, b, ui*ui*gwg.At(a, b)*uj*uj)
			}
		}
	}
	for a, i := range p.read {
		for b := range p.read {
			v := -change.At(a, b)
			if a == b {
				v += p.readings[i].U * p.readings[i].U
			}
			adjusted.Set(a, b, v)
		}
	}
	r.Cov = mat.NewSymDense(max(n, 1), nil)
	l.spread(r.Cov, adjusted)
	for i := range n {
		r.Value[i], r.Determined[i] = p.x[i], true
		r.U[i] = math.Sqrt(math.Max(r.Cov.At(i, i), 0))
	}
	for k, i := range p.unread {
		if !l.fixed[k] {
			r.Value[i], r.U[i], r.Determined[i] = math.NaN(), math.NaN(), false
		}
	}
	for _, i := range p.read {
		if u := p.readings[i].U; u > 0 {
			d := (p.x[i] - p.readings[i].Value) / u
			r.Chi2 += d * d
		}
	}
	if r.DoF > 0 {
		r.P = distuv.ChiSquared{K: float64(r.DoF)}.Survival(r.Chi2)
	}
	r.Tests = l.tests(change)
	return r
}

// spread fills in the covariance of all quantities from that of the adjusted
// readings. Rows of undetermined quantities are NaN.
func (l *linear) spread(cov *mat.SymDense, adjusted *mat.Dense) {
	p := l.p
	for a, i := range p.read {
		for b, j := range p.read {
			cov.SetSym(i, j, adjusted.At(a, b))
		}
	}
	if l.inv == nil {
		return
	}
	nu := len(p.unread)
	s := mat.NewDense(nu, max(len(p.read), 1), nil) // derivatives of the unread by the read
	if l.jr != nil {
		s.Mul(l.inv, l.jr)
	}
	for k, i := range p.unread {
		for c := range p.read {
			s.Set(k, c, -s.At(k, c)*p.scale[i])
		}
	}
	var sc, scs mat.Dense
	sc.Mul(s, adjusted)
	scs.Mul(&sc, s.T())
	for k, i := range p.unread {
		for c, j := range p.read {
			cov.SetSym(i, j, orNaN(l.fixed[k], sc.At(k, c)))
		}
		for k2, i2 := range p.unread {
			cov.SetSym(i, i2, orNaN(l.fixed[k] && l.fixed[k2], scs.At(k, k2)))
		}
	}
}

func orNaN(ok bool, x float64) float64 {
	if !ok {
		return math.NaN()
	}
	return x
}
