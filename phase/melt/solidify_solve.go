package melt

import "math"

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
// present state, which has just been measured, with row as the last equation,
// and factors it.
func (q *equilibrium) linearise(row *unknowns) bool {
	s := &q.search
	q.response.of(&s.mix, &s.m.terms, &s.lna, q.T)
	base, lna, a := q.grains, s.lna, s.a
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
	for j := range q.n {
		ln := q.ln
		ln[j] += lnStep
		x := q.fractions(&ln)
		s.lna = q.response.near(&s.mix, &s.m.terms, &x)
		s.affinities()
		q.follow(q.T)
		column(j, lnStep)
		for i := range q.n {
			c := q.which[i]
			q.bend[i][j] = (s.lna[c] - lna[c]) / lnStep
		}
		m.a[q.ng+j][j] += math.Exp(q.ln[j]) / q.whole[j]
	}
	s.mix.close = true
	q.at(&q.ln, q.T+tStep)
	s.mix.close = false
	column(q.n+q.ng, tStep/kelvinPerUnit)
	s.lna, s.a = lna, a
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
