package reconcile

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// step moves the search and returns by how much, relative to the size of the
// quantities.
func (l *linear) step() (moved float64) {
	p := l.p
	if l.f == nil {
		return 0
	}
	dx := make([]float64, len(p.read)) // of the read quantities
	if l.g != nil {
		off := mat.NewVecDense(len(p.read), nil) // readings from where the search is
		for k, i := range p.read {
			off.SetVec(k, p.readings[i].Value-p.x[i])
		}
		var rhs, lambda, back mat.VecDense
		rhs.MulVec(l.g, off)
		rhs.AddVec(&rhs, l.h)
		lambda.MulVec(l.w, &rhs)
		back.MulVec(l.g.T(), &lambda)
		for k, i := range p.read {
			u := p.readings[i].U
			dx[k] = off.AtVec(k) - u*u*back.AtVec(k)
		}
	} else {
		for k, i := range p.read {
			dx[k] = p.readings[i].Value - p.x[i]
		}
	}
	du := l.stepUnread(dx)
	for k, i := range p.read {
		p.x[i] += dx[k]
		moved = math.Max(moved, math.Abs(dx[k])/p.scale[i])
	}
	for k, i := range p.unread {
		p.x[i] += du[k] * p.scale[i]
		moved = math.Max(moved, math.Abs(du[k]))
	}
	return moved
}

// stepUnread is the move of the unread quantities, per scale, that goes with a
// move of the read ones.
func (l *linear) stepUnread(dx []float64) []float64 {
	du := make([]float64, len(l.p.unread))
	if l.inv == nil {
		return du
	}
	rhs := mat.VecDenseCopyOf(l.f)
	if l.jr != nil {
		var by mat.VecDense
		by.MulVec(l.jr, mat.NewVecDense(len(dx), dx))
		rhs.AddVec(rhs, &by)
	}
	var out mat.VecDense
	out.MulVec(l.inv, rhs)
	for k := range du {
		du[k] = -out.AtVec(k)
	}
	return du
}

// misfit is the largest misfit of a balance, relative to its terms.
func (l *linear) misfit() float64 {
	worst := 0.0
	if l.f != nil {
		for i := range l.f.Len() {
			worst = math.Max(worst, math.Abs(l.f.AtVec(i)))
		}
	}
	return worst
}
