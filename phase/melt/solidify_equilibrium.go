package melt

import "math"

// equilibrium is a liquid with its solids, all made of one fixed whole. The
// equations are S = 0 for every grain and
//
//	cations in the liquid + Σ amount × cations of the grain = cations of the whole
//
// for every component: one fewer than there are unknowns, so that the states
// form a line, along which the melt freezes.
type equilibrium struct {
	search search
	n      int                      // components
	which  [numComponents]component // of the whole
	whole  vector                   // cations of each, packed; their sum is 1
	grains [maxGrains]grain
	ng     int

	ln   vector // ln of the cations in the liquid, packed
	T    float64
	warm vector // where the pair equations start

	matrix   matrix
	residual unknowns
	response response
	bend     [numComponents][numComponents]float64 // ∂ ln a_i/∂ ln n_j of the liquid last linearised
}

const kelvinPerUnit = 100.0

func (q *equilibrium) size() int { return q.n + q.ng + 1 }

// begin sets the whole; x are its cation fractions.
func (q *equilibrium) begin(m *Model, x *vector) {
	q.search.start(m, x)
	q.n, q.ng = 0, 0
	for c := component(0); c < numComponents; c++ {
		if x[c] > 0 {
			q.which[q.n], q.whole[q.n], q.ln[q.n] = c, x[c], math.Log(x[c])
			q.n++
		}
	}
	q.search.mix.activities(hottest, &q.search.lna)
	q.warm = q.search.mix.state.u
}

// fractions returns the cation fractions of the liquid of the given ln of
// cations.
func (q *equilibrium) fractions(ln *vector) (x vector) {
	var sum float64
	for i := range q.n {
		v := math.Exp(ln[i])
		x[q.which[i]] = v
		sum += v
	}
	for i := range q.n {
		x[q.which[i]] /= sum
	}
	return x
}

// liquid prepares the liquid of the given ln of cations. It has the components
// of the whole, so that of the search nothing else changes.
func (q *equilibrium) liquid(ln *vector) {
	x := q.fractions(ln)
	m := &q.search.mix
	m.prepare(q.search.m.terms, &x)
	m.state.u, m.state.seen = q.warm, 1
}

// liquidCations returns the cations in the liquid, of the whole.
func (q *equilibrium) liquidCations() (sum float64) {
	for i := range q.n {
		sum += math.Exp(q.ln[i])
	}
	return sum
}

// at evaluates the liquid and all grains at T.
func (q *equilibrium) at(ln *vector, T float64) {
	q.liquid(ln)
	q.search.at(T)
	q.follow(T)
}

// follow brings the grains to equilibrium with the liquid at hand.
func (q *equilibrium) follow(T float64) {
	for i := range q.ng {
		q.grains[i].follow(&q.search, T)
	}
}

// state collects the unknowns.
func (q *equilibrium) state() (z unknowns) {
	for i := range q.n {
		z[i] = q.ln[i]
	}
	for g := range q.ng {
		z[q.n+g] = q.grains[g].amount
	}
	z[q.n+q.ng] = q.T / kelvinPerUnit
	return z
}

// set takes the unknowns over.
func (q *equilibrium) set(z *unknowns) {
	for i := range q.n {
		q.ln[i] = z[i]
	}
	for g := range q.ng {
		q.grains[g].amount = z[q.n+g]
	}
	q.T = z[q.n+q.ng] * kelvinPerUnit
}

// splits reports whether the liquid last linearised gains by splitting in two
// that hardly differ: whether the second derivatives of its Gibbs energy are
// not positive. Its own direction, along which the energy is straight, is
// filled up.
func (q *equilibrium) splits() bool {
	var root vector
	var sum float64
	for i := range q.n {
		root[i] = math.Exp(q.ln[i] / 2)
		sum += root[i] * root[i]
	}
	var a [numComponents][numComponents]float64
	for i := range q.n {
		for j := range i + 1 {
			a[i][j] = (q.bend[i][j]*root[i]/root[j]+q.bend[j][i]*root[j]/root[i])/2 + root[i]*root[j]/sum
			for k := range j {
				a[i][j] -= a[i][k] * a[j][k]
			}
			if i == j {
				if a[i][i] <= 0 {
					return true
				}
				a[i][i] = math.Sqrt(a[i][i])
			} else {
				a[i][j] /= a[j][j]
			}
		}
	}
	return false
}
