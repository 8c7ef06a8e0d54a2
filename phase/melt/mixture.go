package melt

import (
	"math"
	"slices"
)

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
	close bool // to the mixture solved last: one step with its factors is enough

	species vector // ln a of the species, packed, as last computed

	associated bool
	share      float64 // species per cation
	made       [numAssociates]associated
}

// pairEnergy holds g = h + s·T of a pair at the composition of the mixture.
// dh and ds hold ∂g/∂Y_i of the few components i on which it depends, sumH and
// sumS what the activity of every component needs besides: −Σ_l Y_l ∂g/∂Y_l.
type pairEnergy struct {
	i, j       int
	h, s       float64
	dh, ds     vector
	sumH, sumS float64
	on         [numSpecies]int // the components
	nOn        int
}

// slope returns ∂g/∂Y_i − Σ_l Y_l ∂g/∂Y_l at T.
func (e *pairEnergy) slope(i int, T float64) float64 {
	return e.dh[i] + e.sumH + T*(e.ds[i]+e.sumS)
}

// renew makes room for another pair.
func (e *pairEnergy) renew(i, j int) {
	for _, c := range e.on[:e.nOn] {
		e.dh[c], e.ds[c] = 0, 0
	}
	e.i, e.j, e.nOn = i, j, 0
	e.h, e.s, e.sumH, e.sumS = 0, 0, 0, 0
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
			m.pairs[m.np].renew(i, j)
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
	for _, c := range t.of {
		if slot[c] < 0 {
			return
		}
		for range t.power[c] {
			value *= m.y[slot[c]]
		}
		degree += t.power[c]
	}
	e.h += t.h * value
	e.s += t.s * value
	// Y_l·∂g/∂Y_l of a power is its exponent times the term, so the sum over l
	// is the degree times the term, the same for every component.
	e.sumH -= float64(degree) * t.h * value
	e.sumS -= float64(degree) * t.s * value
	for _, c := range t.of {
		i := slot[c]
		if e.dh[i] == 0 && e.ds[i] == 0 && !slices.Contains(e.on[:e.nOn], i) {
			e.on[e.nOn] = i
			e.nOn++
		}
		d := float64(t.power[c]) * value / m.y[i]
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
	var all float64
	for p := range m.np {
		e := &m.pairs[p]
		share := 2 * m.state.pair[e.i][e.j]
		all += share * (e.sumH + T*e.sumS)
		for _, i := range e.on[:e.nOn] {
			d[i] += share * (e.dh[i] + T*e.ds[i])
		}
	}
	for i := range m.n {
		m.species[i] = m.lx[i] + m.b[i]*(2*(m.state.u[i]-m.ly[i])+half*(d[i]+all))
		lna[m.which[i]] = m.species[i]
	}
	if m.associated {
		m.ofComponents(lna)
	}
}
