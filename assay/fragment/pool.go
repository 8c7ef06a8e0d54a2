package fragment

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// Pooled is what several fragments of one furnace say together.
type Pooled struct {
	Limits   Limits
	N        int
	Scatter  float64 // of curvature between fragments over their reading errors, 1/mm
	ScatterD float64 // the same as a diameter, mm
	Q, P     float64 // Cochran's test that there is none
}

// Pool joins fragments with a scatter between them that they show themselves
// (DerSimonian & Laird 1986), limits after Hartung & Knapp 2001 and never
// narrower than with the reading errors alone. The scatter is a hand-made
// wall's own unevenness and cannot be told from an oval plan. ok is false
// without fragments.
func Pool(cs []Curvature) (p Pooled, ok bool) {
	var sw, sw2, swk float64
	for _, c := range cs {
		if !(c.U > 0) || math.IsNaN(c.K) {
			return p, false
		}
		w := 1 / (c.U * c.U)
		sw, sw2, swk = sw+w, sw2+w*w, swk+w*c.K
	}
	n := len(cs)
	if n == 0 {
		return p, false
	}
	mean := swk / sw
	p.N = n
	k := k95
	if n > 1 {
		for _, c := range cs {
			p.Q += (c.K - mean) * (c.K - mean) / (c.U * c.U)
		}
		df := float64(n - 1)
		p.P = distuv.ChiSquared{K: df}.Survival(p.Q)
		p.Scatter = math.Sqrt(math.Max(0, (p.Q-df)/(sw-sw2/sw)))
	}
	sw, swk = 0, 0
	for _, c := range cs {
		w := 1 / (c.U*c.U + p.Scatter*p.Scatter)
		sw, swk = sw+w, swk+w*c.K
	}
	mean = swk / sw
	u := 1 / math.Sqrt(sw)
	if n > 1 && p.Scatter > 0 {
		rest := 0.0
		for _, c := range cs {
			rest += (c.K - mean) * (c.K - mean) / (c.U*c.U + p.Scatter*p.Scatter)
		}
		k = distuv.StudentsT{Nu: float64(n - 1), Sigma: 1}.Quantile(0.975)
		u = math.Max(u, math.Sqrt(rest/float64(n-1)/sw))
	}
	p.Limits = Curvature{mean, u}.Limits(k)
	if mean > 0 {
		p.ScatterD = 2 / mean / mean * p.Scatter
	}
	return p, true
}

func medianOf(xs []float64) float64 {
	xs = slices.Sorted(slices.Values(xs))
	n := len(xs)
	return (xs[(n-1)/2] + xs[n/2]) / 2
}
