package melt

import "math"

// Alumina in silicate melts sits in tetrahedra, with alkali or half a calcium
// beside it to make up for its charge. The pair equations alone cannot put one
// potassium beside one aluminium, as they count by coordination weight; so the
// melt is restated with KAlO2, NaAlO2 and Ca½AlO2 as species of their own,
// alkalis first. How much forms follows from the composition alone:
//
//	(a − ξ)(b − ξ) = δ·a·b
//
// where a and b are what could be used up of either and δ is small. ξ is
// homogeneous of the first degree in the amounts, so the Gibbs energy stays a
// proper one, and ln a of a component is Σ_s ∂n_s/∂n_i ln a_s over the species.
const numAssociates = int(numSpecies - numComponents)

// associated is what one step of association has done: ξ and its derivatives
// by the amounts of the two that it joins.
type associated struct {
	made     bool
	cation   component
	perUnit  float64 // cations used by one unit
	by, byAl float64
}

var compensators = [numAssociates]struct {
	cation  component
	perUnit float64
}{{k, 1}, {na, 1}, {ca, 0.5}}

// associate restates x, the fractions of the components, as fractions of the
// species.
func (m *mixture) associate(left *[numAssociates]float64, x *vector) {
	m.associated, m.share = false, 1
	for i, c := range compensators {
		s := &m.made[i]
		*s = associated{cation: c.cation, perUnit: c.perUnit}
		if left[i] <= 0 || x[c.cation] <= 0 || x[al] <= 0 {
			continue
		}
		a, b := x[c.cation]/c.perUnit, x[al]
		root := math.Sqrt((a-b)*(a-b) + 4*left[i]*a*b)
		// The product of both roots is (1−δ)ab: no difference of like numbers.
		made := 2 * (1 - left[i]) * a * b / (a + b + root)
		s.made = true
		s.by = 0.5 * (1 - (a-b+2*left[i]*b)/root) / c.perUnit
		s.byAl = 0.5 * (1 - (b-a+2*left[i]*a)/root)
		// What is left of either is the root of δab over the other.
		x[kal+component(i)] = made
		x[c.cation] = max(a-made, smallest) * c.perUnit
		x[al] = max(b-made, smallest)
		m.share -= made * c.perUnit
		m.associated = true
	}
	if !m.associated {
		return
	}
	for i := range x {
		x[i] /= m.share
	}
}

const smallest = 1e-300

// ofComponents turns ln a of the species into those of the components, from
// the last step of association to the first.
func (m *mixture) ofComponents(lna *vector) {
	for i := numAssociates - 1; i >= 0; i-- {
		s := &m.made[i]
		if !s.made {
			continue
		}
		gain := lna[kal+component(i)] - s.perUnit*lna[s.cation] - lna[al]
		lna[s.cation] += gain * s.by
		lna[al] += gain * s.byAl
		lna[kal+component(i)] = 0
	}
}
