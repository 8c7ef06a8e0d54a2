package melt

// termGradient holds, for one melt at one temperature, how ln a of every
// component answers to 1 J/mol of energy in each term of the liquid.
type termGradient struct {
	lna vector
	by  []vector // for each term; zero where the melt lacks a component of it
}

// gradient solves the pair equations at T and differentiates them. With
// P_ij = y_i K_ij y_j and the row sums of P equal to Y, a change dg of one
// pair energy moves u = ln y by
//
//	(diag(Y) + P)·du = −r,   r_i = r_j = P_ij d ln K_ij,   d ln K = −dg/2RT.
func (m *mixture) gradient(terms *liquid, T float64) termGradient {
	out := termGradient{by: make([]vector, len(terms.pairs))}
	m.activities(T, &out.lna)
	half := 1 / (2 * gasConstant * T)
	var slot [numSpecies]int
	for c := range slot {
		slot[c] = -1
	}
	for i := range m.n {
		slot[m.which[i]] = i
	}
	for t := range terms.pairs {
		term := &terms.pairs[t]
		i, j := slot[term.i], slot[term.j]
		value, degree, whole := m.factor(term, &slot)
		if i < 0 || j < 0 || !whole {
			continue
		}
		lnK := -value * half
		du := m.answer(i, j, lnK)
		var d vector
		for p := range m.np {
			e := &m.pairs[p]
			share := 2 * m.state.pair[e.i][e.j]
			change := du[e.i] + du[e.j]
			own := e.i == min(i, j) && e.j == max(i, j)
			if own {
				change += lnK
			}
			for c := range m.n {
				d[c] += share * change * e.slope(c, T)
				if own && degree > 0 {
					d[c] += share * value * (float64(term.power[m.which[c]])/m.y[c] - float64(degree))
				}
			}
		}
		for c := range m.n {
			out.by[t][m.which[c]] = m.b[c] * (2*du[c] + half*d[c])
		}
		if m.associated {
			m.ofComponents(&out.by[t])
		}
	}
	return out
}

// factor returns the product of Y that a term multiplies and its degree; whole
// is false where one of its components is missing.
func (m *mixture) factor(t *pairTerm, slot *[numSpecies]int) (value float64, degree int, whole bool) {
	value = 1
	for c, p := range t.power {
		if p > 0 && slot[c] < 0 {
			return 0, 0, false
		}
		for range p {
			value *= m.y[slot[c]]
		}
		degree += p
	}
	return value, degree, true
}

// answer returns du for a change of ln K of the pair i, j.
func (m *mixture) answer(i, j int, lnK float64) (du vector) {
	s := &m.state
	var a [numSpecies][numSpecies]float64
	for p := range m.n {
		for q := 0; q < p; q++ {
			a[p][q] = s.pair[p][q]
		}
		a[p][p] = s.pair[p][p] + m.y[p]
	}
	var r vector
	r[i], r[j] = -s.pair[i][j]*lnK, -s.pair[i][j]*lnK
	var inverse vector
	factorPositive(&a, m.n, &inverse)
	solveFactored(&a, m.n, &inverse, &r, &du)
	return du
}
