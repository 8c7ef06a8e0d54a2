package fragment

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// marquardt brings the weighted sum of squares of the distances to its least
// (Levenberg & Marquardt) by slopes over small steps; numbers before from are
// held.
func marquardt(start, steps []float64, from int, w []float64, distances func([]float64) []float64) []float64 {
	q := slices.Clone(start)
	sumOf := func(ds []float64) float64 {
		sum := 0.0
		for i, d := range ds {
			sum += w[i] * d * d
		}
		return sum
	}
	n := len(q) - from
	base := distances(q)
	best := sumOf(base)
	damp := 1e-3
	for range 200 {
		jt, g := mat.NewSymDense(n, nil), make([]float64, n)
		slopes := make([][]float64, n)
		for k := range n {
			t := slices.Clone(q)
			t[from+k] += steps[from+k]
			slopes[k] = distances(t)
			for i := range base {
				slopes[k][i] = (slopes[k][i] - base[i]) / steps[from+k]
				g[k] -= w[i] * slopes[k][i] * base[i]
			}
		}
		for k := range n {
			for l := k; l < n; l++ {
				sum := 0.0
				for i := range base {
					sum += w[i] * slopes[k][i] * slopes[l][i]
				}
				jt.SetSym(k, l, sum)
			}
		}
		moved := false
		for range 12 {
			d := mat.NewSymDense(n, nil)
			d.CopySym(jt)
			for k := range n {
				d.SetSym(k, k, jt.At(k, k)*(1+damp)+1e-300)
			}
			var ch mat.Cholesky
			var z mat.VecDense
			if !ch.Factorize(d) || ch.SolveVecTo(&z, mat.NewVecDense(n, g)) != nil {
				damp *= 10
				continue
			}
			t := slices.Clone(q)
			for k := range n {
				t[from+k] += z.AtVec(k)
			}
			ds := distances(t)
			if now := sumOf(ds); now <= best {
				moved = best-now > 1e-14*best
				q, base, best, damp = t, ds, now, math.Max(damp/10, 1e-12)
				break
			}
			damp *= 10
		}
		if !moved {
			break
		}
	}
	return q
}
