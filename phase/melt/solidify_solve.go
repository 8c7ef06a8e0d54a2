package melt

import "math"

// maxGrains is the most solids that can be there beside the liquid, with one
// to spare while one takes the place of another.
const (
	maxGrains   = int(numComponents) + 1
	maxUnknowns = int(numComponents) + maxGrains + 1
)

// unknowns of a freezing melt, in this order: the logarithm of the cations in
// the liquid, the formulae of each grain, the temperature in units of kelvinPerUnit.
type unknowns [maxUnknowns]float64

// matrix is a square system with its factors.
type matrix struct {
	n     int
	a     [maxUnknowns][maxUnknowns]float64
	pivot [maxUnknowns]int
}

// factor turns the matrix into its triangular factors, by Gauss with partial
// pivoting after the rows were scaled; ok is false where it is singular.
func (m *matrix) factor() bool {
	for k := range m.n {
		at, top := k, math.Abs(m.a[k][k])
		for i := k + 1; i < m.n; i++ {
			if v := math.Abs(m.a[i][k]); v > top {
				at, top = i, v
			}
		}
		if !(top > 1e-14) {
			return false
		}
		m.pivot[k] = at
		if at != k {
			m.a[k], m.a[at] = m.a[at], m.a[k]
		}
		for i := k + 1; i < m.n; i++ {
			f := m.a[i][k] / m.a[k][k]
			if f == 0 {
				continue
			}
			m.a[i][k] = f
			row, from := &m.a[i], &m.a[k]
			for j := k + 1; j < m.n; j++ {
				row[j] -= f * from[j]
			}
		}
	}
	return true
}

// solve overwrites r with the solution.
func (m *matrix) solve(r *unknowns) {
	for k := range m.n {
		if at := m.pivot[k]; at != k {
			r[k], r[at] = r[at], r[k]
		}
	}
	for i := range m.n {
		for j := range i {
			r[i] -= m.a[i][j] * r[j]
		}
	}
	for i := m.n - 1; i >= 0; i-- {
		for j := i + 1; j < m.n; j++ {
			r[i] -= m.a[i][j] * r[j]
		}
		r[i] /= m.a[i][i]
	}
}

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

// liquid prepares the search for the liquid of the given ln of cations.
func (q *equilibrium) liquid(ln *vector) {
	var x vector
	var sum float64
	for i := range q.n {
		v := math.Exp(ln[i])
		x[q.which[i]] = v
		sum += v
	}
	for i := range q.n {
		x[q.which[i]] /= sum
	}
	s := &q.search
	s.start(s.m, &x)
	s.mix.state.u, s.mix.state.seen = q.warm, 1
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
	for i := range q.ng {
		q.grains[i].follow(&q.search, T)
	}
}

// measure writes the residuals of all equations but the last at the present
// state and returns the greatest, those of the amounts in units of the whole.
func (q *equilibrium) measure() (worst float64) {
	q.at(&q.ln, q.T)
	q.warm = q.search.mix.state.u
	for g := range q.ng {
		q.residual[g] = q.grains[g].excess
		worst = math.Max(worst, math.Abs(q.residual[g]))
	}
	for i := range q.n {
		r := math.Exp(q.ln[i]) - q.whole[i]
		for g := range q.ng {
			r += q.grains[g].amount * q.grains[g].cations[q.which[i]]
		}
		q.residual[q.ng+i] = r / q.whole[i]
		worst = math.Max(worst, math.Abs(q.residual[q.ng+i]))
	}
	if math.IsNaN(worst) {
		return math.Inf(1)
	}
	return worst
}

const (
	lnStep = 1e-5 // of the derivatives by the amounts in the liquid
	tStep  = 1e-2 // K, of those by the temperature
)

// linearise fills the matrix with the derivatives of all equations at the
// present state, with row as the last equation, and factors it.
func (q *equilibrium) linearise(row *unknowns) bool {
	q.at(&q.ln, q.T)
	base, lna := q.grains, q.search.lna
	m := &q.matrix
	m.n = q.size()
	column := func(j int, step float64) {
		for g := range q.ng {
			m.a[g][j] = (q.grains[g].excess - base[g].excess) / step
		}
		for i := range q.n {
			var d float64
			c := q.which[i]
			for g := range q.ng {
				d += base[g].amount * (q.grains[g].cations[c] - base[g].cations[c])
			}
			m.a[q.ng+i][j] = d / step / q.whole[i]
		}
		q.grains = base
	}
	q.at(&q.ln, q.T+tStep)
	column(q.n+q.ng, tStep/kelvinPerUnit)
	for j := range q.n {
		ln := q.ln
		ln[j] += lnStep
		q.at(&ln, q.T)
		column(j, lnStep)
		for i := range q.n {
			c := q.which[i]
			q.bend[i][j] = (q.search.lna[c] - lna[c]) / lnStep
		}
		m.a[q.ng+j][j] += math.Exp(q.ln[j]) / q.whole[j]
	}
	for g := range q.ng {
		for e := range q.ng {
			m.a[e][q.n+g] = 0
		}
		for i := range q.n {
			m.a[q.ng+i][q.n+g] = base[g].cations[q.which[i]] / q.whole[i]
		}
	}
	copy(m.a[m.n-1][:m.n], row[:m.n])
	return m.factor()
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

const (
	solved          = 1e-11 // greatest residual of a state that counts as solved
	solvedEnough    = 1e-9  // where rounding allows no better
	correctorRounds = 12
	longestCorrect  = 0.7 // of the ln of cations in one round
)

// correct brings the state back to the line, in the plane of row through the
// state at hand, with the factors already there.
func (q *equilibrium) correct(row *unknowns) bool {
	goal := q.state()
	before := math.Inf(1)
	for round := range correctorRounds {
		worst := q.measure()
		if worst < solved || worst < solvedEnough && worst > before/4 {
			return true
		}
		if worst > 1e3 || round > 2 && worst > before*0.9 {
			return false
		}
		if round > 0 && worst > before*0.1 && worst > 1e-8 && !q.linearise(row) {
			return false
		}
		before = worst
		q.newton(row, &goal)
		if q.T < referenceLow || q.T > referenceHigh {
			return false
		}
	}
	return q.measure() < solvedEnough
}

// newton moves the state by one limited step.
func (q *equilibrium) newton(row, goal *unknowns) {
	z, n := q.state(), q.size()
	step := q.residual
	step[n-1] = 0
	for j := range n {
		step[n-1] += row[j] * (z[j] - goal[j])
	}
	q.matrix.solve(&step)
	longest := math.Abs(step[n-1])
	for i := range q.n {
		longest = math.Max(longest, math.Abs(step[i]))
	}
	scale := math.Min(1, longestCorrect/longest)
	for j := range n {
		z[j] -= scale * step[j]
	}
	q.set(&z)
}
