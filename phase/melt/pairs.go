package melt

import "math"

// pairState keeps the solution of the pair equations, and the one before, so
// that the next temperature starts close to its answer.
type pairState struct {
	u               vector  // ln y at the present temperature
	before, earlier vector  // and at the two before
	t0, t1, t2      float64 // 1/T of the three
	seen            int     // how many temperatures have been solved
	kernel, pair    [numSpecies][numSpecies]float64
	residual, delta vector
	matrix          [numSpecies][numSpecies]float64 // lower triangle; its factors after a Newton step
	inverse         vector                          // of their diagonal
}

const (
	pairTolerance  = 1e-6 // on the last step in ln y; the error left is about its square
	maxNewton      = 60
	scalingRounds  = 4
	longestStep    = 2.0
	widestParabola = 20.0 // weights beyond which extrapolation does harm; steady steps give 7
)

// solvePairs finds y > 0 with y_i Σ_j K_ij y_j = Y_i at T, where
// K_ij = exp(−g_ij/2RT). The equations are the gradient of a convex function
// of u = ln y, so there is one solution; Newton's Hessian
//
//	J = diag(row sums of P) + P,   P_ij = y_i K_ij y_j
//
// is positive definite.
func (m *mixture) solvePairs(T float64) {
	s := &m.state
	half := 1 / (2 * gasConstant * T)
	for i := range m.n {
		s.kernel[i][i] = 1
	}
	for p := range m.np {
		e := &m.pairs[p]
		kij := math.Exp(-(e.h + e.s*T) * half)
		s.kernel[e.i][e.j], s.kernel[e.j][e.i] = kij, kij
	}
	if m.close {
		m.chordStep()
		m.pairFractions()
		return
	}
	m.guess(1 / T)
	for range maxNewton {
		if m.newtonStep() < pairTolerance {
			break
		}
	}
	m.pairFractions()
	s.seen++
}

// chordStep moves u by a step with the factors of the last Newton step. For a
// mixture that differs from the one of that step by a small part d, what is left
// is of the order of d².
func (m *mixture) chordStep() {
	s := &m.state
	m.pairFractions()
	for i := range m.n {
		s.residual[i] = m.y[i]
		for _, p := range s.pair[i][:m.n] {
			s.residual[i] -= p
		}
	}
	solveFactored(&s.matrix, m.n, &s.inverse, &s.residual, &s.delta)
	for i := range m.n {
		s.u[i] += s.delta[i]
	}
}

// guess sets u for a new temperature: by a parabola in 1/T through the last
// three where they are spread like steps of a walk, otherwise from the last
// one, or from nothing by rounds of y ← √(y·Y/(K·y)).
func (m *mixture) guess(invT float64) {
	s := &m.state
	if s.seen >= 3 {
		a, b, c := parabola(s.t0, s.t1, s.t2, invT)
		if math.Abs(a)+math.Abs(b)+math.Abs(c) <= widestParabola {
			for i := range m.n {
				next := a*s.u[i] + b*s.before[i] + c*s.earlier[i]
				s.earlier[i], s.before[i], s.u[i] = s.before[i], s.u[i], next
			}
			s.t0, s.t1, s.t2 = invT, s.t0, s.t1
			return
		}
	}
	s.earlier, s.before = s.before, s.u
	s.t0, s.t1, s.t2 = invT, s.t0, s.t1
	if s.seen > 0 {
		return
	}
	for i := range m.n {
		s.u[i] = 0.5 * m.ly[i]
	}
	for range scalingRounds {
		var y vector
		for i := range m.n {
			y[i] = math.Exp(s.u[i])
		}
		for i := range m.n {
			var sum float64
			for j := range m.n {
				sum += s.kernel[i][j] * y[j]
			}
			s.u[i] = 0.5 * (s.u[i] + m.ly[i] - math.Log(sum))
		}
	}
}

// parabola returns the weights of values at t0, t1 and t2 in the parabola
// through them, taken at t. They are NaN where two of them coincide.
func parabola(t0, t1, t2, t float64) (a, b, c float64) {
	a = (t - t1) * (t - t2) / ((t0 - t1) * (t0 - t2))
	b = (t - t0) * (t - t2) / ((t1 - t0) * (t1 - t2))
	c = (t - t0) * (t - t1) / ((t2 - t0) * (t2 - t1))
	return a, b, c
}

// pairFractions sets pair[i][j] = y_i K_ij y_j for the present u.
func (m *mixture) pairFractions() {
	s := &m.state
	var y vector
	for i := range m.n {
		y[i] = math.Exp(s.u[i])
	}
	for i := range m.n {
		for j := 0; j <= i; j++ {
			p := y[i] * s.kernel[i][j] * y[j]
			s.pair[i][j], s.pair[j][i] = p, p
		}
	}
}

// newtonStep moves u by one limited Newton step and returns its length.
func (m *mixture) newtonStep() float64 {
	s := &m.state
	m.pairFractions()
	a := &s.matrix
	for i := range m.n {
		var sum float64
		for j := range m.n {
			sum += s.pair[i][j]
		}
		s.residual[i] = m.y[i] - sum
		for j := 0; j < i; j++ {
			a[i][j] = s.pair[i][j]
		}
		a[i][i] = s.pair[i][i] + sum
	}
	factorPositive(a, m.n, &s.inverse)
	solveFactored(a, m.n, &s.inverse, &s.residual, &s.delta)
	var longest float64
	for i := range m.n {
		longest = max(longest, math.Abs(s.delta[i]))
	}
	scale := 1.0
	if longest > longestStep {
		scale = longestStep / longest
	}
	for i := range m.n {
		s.u[i] += scale * s.delta[i]
	}
	return longest
}

// factorPositive replaces a positive definite matrix, given by its lower
// triangle, by the factors L·D·Lᵀ: L below the diagonal, and the inverse of D.
func factorPositive(a *[numSpecies][numSpecies]float64, n int, inverse *vector) {
	var row vector // of L·D
	for i := range n {
		own := a[i][:i+1]
		for j := range i {
			v := own[j]
			done := row[:j]
			for q, l := range a[j][:j] {
				v -= done[q] * l
			}
			row[j] = v
			own[j] = v * inverse[j]
		}
		d := own[i]
		for q, l := range own[:i] {
			d -= row[q] * l
		}
		inverse[i] = 1 / d
	}
}

// solveFactored solves L·D·Lᵀ·x = r.
func solveFactored(a *[numSpecies][numSpecies]float64, n int, inverse, r, x *vector) {
	for i := range n {
		v := r[i]
		for q, l := range a[i][:i] {
			v -= l * x[q]
		}
		x[i] = v
	}
	for i := range n {
		x[i] *= inverse[i]
	}
	for i := n - 1; i > 0; i-- {
		for q, l := range a[i][:i] {
			x[q] -= l * x[i]
		}
	}
}
