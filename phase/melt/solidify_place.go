package melt

import "math"

// place is a state of the equilibrium from which a step can be tried again.
type place struct {
	z      unknowns
	grains [maxGrains]grain
	n, ng  int
	warm   vector
}

func (f *freezing) place() place {
	return place{f.q.state(), f.q.grains, f.q.n, f.q.ng, f.q.warm}
}

// T returns the temperature in K.
func (p *place) T() float64 { return p.z[p.n+p.ng] * kelvinPerUnit }

// liquid returns the cations in the liquid, of the whole.
func (p *place) liquid() (sum float64) {
	for i := range p.n {
		sum += math.Exp(p.z[i])
	}
	return sum
}
