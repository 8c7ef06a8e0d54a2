package melt

import "math"

const (
	gasConstant = 8.314462618 // J/mol/K
	celsius     = 273.15      // K at 0 °C
)

const maxPairs = int(numSpecies * (numSpecies - 1) / 2)

// mixture is a liquid of fixed composition, prepared so that little is left
// to do at each temperature. The components present are packed to 0 … n−1.
type mixture struct {
	n     int
	which [numSpecies]component
	x, lx vector // mole fraction of one-cation units and its logarithm
	b     vector // coordination weight
	y, ly vector // equivalent fraction b·x/Σb·x and its logarithm
	pairs [maxPairs]pairEnergy
	np    int
	state pairState

	associated bool
	share      float64 // species per cation
	made       [numAssociates]associated
}

// pairEnergy holds g = h + s·T of a pair at the composition of the mixture.
// dh and ds hold, for each component i, the derivatives that its activity
// needs: ∂g/∂Y_i − Σ_l Y_l ∂g/∂Y_l.
type pairEnergy struct {
	i, j   int
	h, s   float64
	dh, ds vector
	varies bool // dh or ds is not all zero
}

// liquid holds the energies of the pairs and the associates.
type liquid struct {
	pairs      []pairTerm
	associates [numAssociates]float64 // left apart of each; 0 where it does not form
}

// prepare fills m for the mole fractions x of the components.
func (m *mixture) prepare(terms liquid, x *vector) {
	m.n, m.np = 0, 0
	species := *x
	m.associate(&terms.associates, &species)
	x = &species
	m.state.seen = 0
	var slot [numSpecies]int
	var total float64
	for c := component(0); c < numSpecies; c++ {
		slot[c] = -1
		if x[c] <= 0 {
			continue
		}
		i := m.n
		slot[c], m.which[i] = i, c
		m.x[i], m.lx[i] = x[c], math.Log(x[c])
		m.b[i] = weightPerPair * charge[c] / 2
		total += m.b[i] * x[c]
		m.n++
	}
	for i := range m.n {
		m.y[i] = m.b[i] * m.x[i] / total
		m.ly[i] = math.Log(m.y[i])
	}
	var at [numSpecies][numSpecies]*pairEnergy
	for i := range m.n {
		for j := i + 1; j < m.n; j++ {
			m.pairs[m.np] = pairEnergy{i: i, j: j}
			at[i][j], at[j][i] = &m.pairs[m.np], &m.pairs[m.np]
			m.np++
		}
	}
	for t := range terms.pairs {
		if term := &terms.pairs[t]; slot[term.i] >= 0 && slot[term.j] >= 0 {
			m.addTerm(at[slot[term.i]][slot[term.j]], term, &slot)
		}
	}
}

// addTerm adds a term and its derivatives to the energy of its pair.
func (m *mixture) addTerm(e *pairEnergy, t *pairTerm, slot *[numSpecies]int) {
	value, degree := 1.0, 0
	for c, p := range t.power {
		if p == 0 {
			continue
		}
		if slot[c] < 0 {
			return
		}
		for range p {
			value *= m.y[slot[c]]
		}
		degree += p
	}
	e.h += t.h * value
	e.s += t.s * value
	if degree == 0 {
		return
	}
	e.varies = true
	// Y_l·∂g/∂Y_l of a power is its exponent times the term, so the sum over l
	// is the degree times the term, the same for every component.
	for i := range m.n {
		d := -float64(degree) * value
		if p := t.power[m.which[i]]; p > 0 {
			d += float64(p) * value / m.y[i]
		}
		e.dh[i] += t.h * d
		e.ds[i] += t.s * d
	}
}

// activities writes to lna, for every component present, the logarithm of the
// activity of its one-cation unit at T (K), the pure liquid unit being the
// reference. Absent components are left alone.
//
//	ln a_i = ln X_i + b_i ln(X_ii/Y_i²) + b_i/(2RT)·(D_i − Σ_l Y_l D_l)
//	D_i    = Σ_{j<k} X_jk ∂g_jk/∂Y_i
func (m *mixture) activities(T float64, lna *vector) {
	half := 1 / (2 * gasConstant * T)
	m.solvePairs(T)
	var d vector
	for p := range m.np {
		e := &m.pairs[p]
		if !e.varies {
			continue
		}
		share := 2 * m.state.pair[e.i][e.j]
		for i := range m.n {
			d[i] += share * (e.dh[i] + T*e.ds[i])
		}
	}
	for i := range m.n {
		lna[m.which[i]] = m.lx[i] + m.b[i]*(2*(m.state.u[i]-m.ly[i])+half*d[i])
	}
	if m.associated {
		m.ofComponents(lna)
	}
}
