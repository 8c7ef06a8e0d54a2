package melt

// response holds how ln a of every species of a mixture answers to its
// composition at one temperature: by[i][j] = ∂ ln a_i/∂N_j, the amounts of the
// species summing to 1, in the packed order of the mixture.
type response struct {
	by [numSpecies][numSpecies]float64

	at    vector  // ln a of the species, packed
	lna   vector  // ln a of the components, by component
	other mixture // for the associates of a mixture close by
}

// of differentiates the activities last computed, at T. With
// Y_i = b_i N_i/B, B = Σ b N,
//
//	∂Y_i/∂N_j   = (b_j/B)(δ_ij − Y_i)
//	∂g/∂N_j     = (b_j/B)(∂g/∂Y_j − Σ_l Y_l ∂g/∂Y_l)
//	(diag(Y) + P)·∂u/∂N_j = ∂Y/∂N_j − Σ_k P_ik ∂ln K_ik/∂N_j
//
// and every term of a pair energy, a product of powers of Y, is differentiated
// once more.
func (r *response) of(m *mixture, terms *liquid, lna *vector, T float64) {
	half := 1 / (2 * gasConstant * T)
	n := m.n
	var total float64 // B
	for i := range n {
		total += m.b[i] * m.x[i]
	}
	r.lna = *lna
	var curve [numSpecies][numSpecies]float64 // Σ share·d²g, before the factor b_j/B
	r.curvature(m, terms, T, &curve)
	var share [maxPairs]float64
	for p := range m.np {
		share[p] = 2 * m.state.pair[m.pairs[p].i][m.pairs[p].j]
	}
	r.at = m.species
	var slope [maxPairs]float64
	for j := range n {
		weight := m.b[j] / total
		var right, du vector
		for i := range n {
			right[i] = -weight * m.y[i]
		}
		right[j] += weight
		for p := range m.np {
			e := &m.pairs[p]
			slope[p] = -half * weight * e.slope(j, T) // of ln K
			d := share[p] / 2 * slope[p]
			right[e.i] -= d
			right[e.j] -= d
		}
		solveFactored(&m.state.matrix, n, &m.state.inverse, &right, &du)
		var d vector
		var all float64
		for p := range m.np {
			e := &m.pairs[p]
			change := share[p] * (du[e.i] + du[e.j] + slope[p])
			all += change * (e.sumH + T*e.sumS)
			for _, i := range e.on[:e.nOn] {
				d[i] += change * (e.dh[i] + T*e.ds[i])
			}
		}
		for i := range n {
			v := 2*(du[i]+weight) + half*(d[i]+all+weight*curve[i][j])
			r.by[i][j] = m.b[i]*v - 1
		}
		r.by[j][j] += 1/m.x[j] - 2*m.b[j]*weight/m.y[j]
	}
}

// curvature sums over all terms what the second derivatives of the pair
// energies bring to every component i and amount j.
func (r *response) curvature(m *mixture, terms *liquid, T float64, curve *[numSpecies][numSpecies]float64) {
	var slot [numSpecies]int
	for c := range slot {
		slot[c] = -1
	}
	for i := range m.n {
		slot[m.which[i]] = i
	}
	var row, column vector
	var all float64
	for t := range terms.pairs {
		term := &terms.pairs[t]
		i, j := slot[term.i], slot[term.j]
		if i < 0 || j < 0 || len(term.of) == 0 {
			continue
		}
		value, degree, whole := m.factor(term, &slot)
		if !whole {
			continue
		}
		w := 2 * m.state.pair[i][j] * (term.h + T*term.s) * value
		deg := float64(degree)
		all += w * deg * deg
		for _, c := range term.of {
			a := slot[c]
			p := float64(term.power[c]) / m.y[a]
			row[a] += w * p * (1 - deg)
			column[a] -= w * p * deg
			curve[a][a] -= w * p / m.y[a]
			for _, c := range term.of {
				b := slot[c]
				curve[a][b] += w * p * float64(term.power[c]) / m.y[b]
			}
		}
	}
	for i := range m.n {
		for j := range m.n {
			curve[i][j] += all + row[i] + column[j]
		}
	}
}

// near returns ln a of the components of a mixture that differs by little from
// the one differentiated; x are its fractions of components.
func (r *response) near(m *mixture, terms *liquid, x *vector) vector {
	species := *x
	r.other.associate(&terms.associates, &species)
	var d vector
	for j := range m.n {
		d[j] = species[m.which[j]] - m.x[j]
	}
	lna := r.lna
	for i := range m.n {
		v := r.at[i]
		for j, by := range r.by[i][:m.n] {
			v += by * d[j]
		}
		lna[m.which[i]] = v
	}
	if r.other.associated {
		r.other.ofComponents(&lna)
	}
	return lna
}
