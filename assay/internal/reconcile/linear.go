package reconcile

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// problem is the state of the search.
type problem struct {
	readings []Reading
	balances []Balance
	x        []float64 // where the search is
	read     []int     // indices of what was read or is known
	unread   []int
	scale    []float64 // typical size of each quantity, for ranks and steps
}

func newProblem(readings []Reading, balances []Balance) *problem {
	p := &problem{readings: readings, balances: balances, x: make([]float64, len(readings)), scale: make([]float64, len(readings))}
	largest := 0.0
	for i, r := range readings {
		p.x[i] = r.Value
		largest = math.Max(largest, math.Abs(r.Value))
		if r.Read() {
			p.read = append(p.read, i)
		} else {
			p.unread = append(p.unread, i)
		}
	}
	for i, r := range readings {
		p.scale[i] = math.Abs(r.Value)
		if r.Read() {
			p.scale[i] = math.Max(p.scale[i], r.U)
		}
		if p.scale[i] == 0 {
			p.scale[i] = math.Max(1e-3*largest, 1e-12)
		}
	}
	return p
}

// linear is the problem linearised where the search is. Every balance is
// divided by the size of its terms, so that ranks do not hang on units.
type linear struct {
	p      *problem
	f      *mat.VecDense // misfits
	jr, ju *mat.Dense    // derivatives by the read and the unread quantities, the latter per scale; nil without any
	g      *mat.Dense    // derivatives by the read quantities with the unread ones projected out; nil without redundancy
	h      *mat.VecDense // misfits likewise
	w      *mat.Dense    // pseudo-inverse of G V Gᵀ
	rank   int           // of G V Gᵀ
	inv    *mat.Dense    // pseudo-inverse of ju
	fixed  []bool        // by place in unread: determined by the balances
}

func (p *problem) linearise() (*linear, error) {
	m := len(p.balances)
	l := &linear{p: p, fixed: make([]bool, len(p.unread))}
	if m == 0 {
		return l, nil
	}
	all := mat.NewDense(m, len(p.readings), nil)
	l.f = mat.NewVecDense(m, nil)
	for i, b := range p.balances {
		size := p.row(b, all.RawRowView(i))
		for _, t := range b.Terms {
			l.f.SetVec(i, l.f.AtVec(i)+p.term(t, -1))
		}
		if size > 0 {
			l.f.SetVec(i, l.f.AtVec(i)/size)
			for j := range p.readings {
				all.Set(i, j, all.At(i, j)/size)
			}
		}
	}
	l.jr = columns(all, p.read, nil)
	l.ju = columns(all, p.unread, p.scale)
	return l, l.project()
}

// row fills in the derivatives of a balance and returns the size of its
// largest term.
func (p *problem) row(b Balance, into []float64) (size float64) {
	for _, t := range b.Terms {
		s := math.Abs(t.Factor)
		for k, i := range t.Of {
			into[i] += p.term(t, k)
			s *= math.Max(math.Abs(p.x[i]), p.scale[i])
		}
		size = math.Max(size, s)
	}
	return size
}

// term is the product of a term without its k-th factor.
func (p *problem) term(t Term, k int) float64 {
	v := t.Factor
	for j, i := range t.Of {
		if j != k {
			v *= p.x[i]
		}
	}
	return v
}

func columns(a *mat.Dense, which []int, scale []float64) *mat.Dense {
	if len(which) == 0 {
		return nil
	}
	rows, _ := a.Dims()
	out := mat.NewDense(rows, len(which), nil)
	for k, j := range which {
		s := 1.0
		if scale != nil {
			s = scale[j]
		}
		for i := range rows {
			out.Set(i, k, a.At(i, j)*s)
		}
	}
	return out
}

// project takes the unread quantities out: with P spanning the balances that
// no unread quantity can mend, G = Pᵀ·jr and h = Pᵀ·f.
func (l *linear) project() error {
	m := l.f.Len()
	left := identity(m)
	if l.ju != nil {
		var svd mat.SVD
		if !svd.Factorize(l.ju, mat.SVDFull) {
			return ErrNoSolution
		}
		var u, v mat.Dense
		svd.UTo(&u)
		svd.VTo(&v)
		r := rankOf(svd.Values(nil))
		l.inv = pseudoInverse(&svd, r)
		for k := range l.fixed {
			free := 0.0
			for j := r; j < len(l.fixed); j++ {
				free += v.At(k, j) * v.At(k, j)
			}
			l.fixed[k] = free < rankTolerance
		}
		left = nil
		if r < m {
			left = mat.DenseCopyOf(u.Slice(0, m, r, m))
		}
	}
	if left == nil || l.jr == nil {
		return nil
	}
	var g mat.Dense
	g.Mul(left.T(), l.jr)
	_, k := left.Dims()
	l.h = mat.NewVecDense(k, nil)
	l.h.MulVec(left.T(), l.f)
	l.g = &g

	var gv mat.Dense // G·V^½
	gv.CloneFrom(&g)
	for j, i := range l.p.read {
		for r := range k {
			gv.Set(r, j, g.At(r, j)*l.p.readings[i].U)
		}
	}
	var svd mat.SVD
	if !svd.Factorize(&gv, mat.SVDThin) {
		return ErrNoSolution
	}
	// (G V Gᵀ)⁺ from the singular values of G·V^½, which keeps their accuracy.
	l.rank = rankOf(svd.Values(nil))
	inv := pseudoInverse(&svd, l.rank)
	l.w = mat.NewDense(k, k, nil)
	l.w.Mul(inv.T(), inv)
	return nil
}

func identity(n int) *mat.Dense {
	d := mat.NewDense(n, n, nil)
	for i := range n {
		d.Set(i, i, 1)
	}
	return d
}

func rankOf(values []float64) int {
	r := 0
	for _, v := range values {
		if v > rankTolerance*values[0] && v > 0 {
			r++
		}
	}
	return r
}

// pseudoInverse is V·S⁺·Uᵀ with the first r singular values.
func pseudoInverse(svd *mat.SVD, r int) *mat.Dense {
	var u, v mat.Dense
	svd.UTo(&u)
	svd.VTo(&v)
	values := svd.Values(nil)
	m, _ := u.Dims()
	n, _ := v.Dims()
	out := mat.NewDense(n, m, nil)
	for i := range n {
		for j := range m {
			s := 0.0
			for k := range r {
				s += v.At(i, k) * u.At(j, k) / values[k]
			}
			out.Set(i, j, s)
		}
	}
	return out
}
