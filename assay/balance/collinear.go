package balance

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// covariance is that of the shares, bound to add to one but not held above
// zero, widened.
func (p *mixture) covariance(w []float64, wide float64) [][]float64 {
	n := len(p.a[0])
	// Shares that add to one: the first n−1 are free, the last follows.
	free := mat.NewSymDense(n-1, nil)
	size := 0.0
	for i := range n - 1 {
		for j := i; j < n-1; j++ {
			s := 0.0
			for r := range p.a {
				s += w[r] * (p.a[r][i] - p.a[r][n-1]) * (p.a[r][j] - p.a[r][n-1])
			}
			free.SetSym(i, j, s)
		}
		size = math.Max(size, free.At(i, i))
	}
	for i := range n - 1 {
		free.SetSym(i, i, free.At(i, i)+ridge*math.Max(size, 1e-12))
	}
	var inv mat.SymDense
	var chol mat.Cholesky
	if !chol.Factorize(free) || chol.InverseTo(&inv) != nil {
		for i := range n - 1 { // nothing can be told
			free.SetSym(i, i, 1/(ridge*math.Max(size, 1e-12)))
		}
		inv = *free
	}
	out := make([][]float64, n)
	for i := range out {
		out[i] = make([]float64, n)
	}
	for i := range n - 1 {
		for j := range n - 1 {
			v := inv.At(i, j) * wide * wide
			out[i][j] = v
			out[i][n-1] -= v
			out[n-1][j] -= v
			out[n-1][n-1] += v
		}
	}
	return out
}

// condition is the ratio of the singular values of the weighted ends, each
// scaled to length one.
func (p *mixture) condition(w []float64) float64 {
	rows, n := len(p.a), len(p.a[0])
	b := mat.NewDense(max(rows, n), n, nil)
	for k := range n {
		length := 0.0
		for j := range rows {
			length += w[j] * p.a[j][k] * p.a[j][k]
		}
		for j := range rows {
			if length > 0 {
				b.Set(j, k, math.Sqrt(w[j]/length)*p.a[j][k])
			}
		}
	}
	var svd mat.SVD
	if !svd.Factorize(b, mat.SVDNone) {
		return math.Inf(1)
	}
	s := svd.Values(nil)
	if s[n-1] <= 1e-15*s[0] {
		return math.Inf(1)
	}
	return s[0] / s[n-1]
}

// inflation is, of each end, the variance of its share over what it would be
// with that end alone.
func (p *mixture) inflation(w []float64, cov [][]float64, wide float64) []float64 {
	out := make([]float64, len(cov))
	for k := range out {
		alone := 0.0
		for j := range p.a {
			alone += w[j] * p.a[j][k] * p.a[j][k]
		}
		out[k] = cov[k][k] * alone / (wide * wide)
	}
	return out
}

// Limits beyond which two ends count as not to be told apart.
const (
	mostInflation   = 10.0
	mostCorrelation = -0.9
)

// groupsOf puts ends together that cannot be told apart: the shares of both are
// blown up and what one gains the other loses. Their sum is what is known.
func groupsOf(cov [][]float64, inflation []float64) [][]int {
	groups := make([][]int, len(cov))
	for k := range groups {
		groups[k] = []int{k}
	}
	sum := func(a, b []int) float64 {
		s := 0.0
		for _, i := range a {
			for _, j := range b {
				s += cov[i][j]
			}
		}
		return s
	}
	blown := func(g []int) bool {
		return slices.ContainsFunc(g, func(k int) bool { return inflation[k] > mostInflation })
	}
	for {
		best, i, j := mostCorrelation, -1, -1
		for a := range groups {
			for b := a + 1; b < len(groups); b++ {
				va, vb := sum(groups[a], groups[a]), sum(groups[b], groups[b])
				if !blown(groups[a]) || !blown(groups[b]) || !(va > smallest*smallest) || !(vb > smallest*smallest) {
					continue
				}
				if r := sum(groups[a], groups[b]) / math.Sqrt(va*vb); r < best {
					best, i, j = r, a, b
				}
			}
		}
		if i < 0 || len(groups) == 2 {
			return groups
		}
		groups[i] = append(groups[i], groups[j]...)
		slices.Sort(groups[i])
		groups = slices.Delete(groups, j, j+1)
	}
}

// smallest is the standard uncertainty of a share that is good enough for it to
// stand alone whatever it is bound to.
const smallest = 0.05
