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
