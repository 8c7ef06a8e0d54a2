package chem

import "math"

// Covariance returns the covariances of the errors of the parts, in the order
// of Parts, in (wt%)². Parts as a laboratory gives them are taken as
// independent; corrections hang on the part they correct, and parts of a
// normalised composition on each other, because they sum to 100. Parts without
// a number or without uncertainty have zeros. A composition put together anew
// from the parts of another forgets what tied them.
func (c Composition) Covariance() [][]float64 {
	out := make([][]float64, len(c.Parts))
	for i, p := range c.Parts {
		out[i] = make([]float64, len(c.Parts))
		switch {
		case len(c.cov) == len(c.Parts):
			copy(out[i], c.cov[i])
		case p.HasU():
			out[i][i] = p.U * p.U
		}
	}
	return out
}

// pick returns the composition of the parts at the given places, with what
// ties them.
func (c Composition) pick(places []int) Composition {
	out := Composition{}
	if len(c.cov) == len(c.Parts) {
		out.cov = make([][]float64, len(places))
	}
	for k, i := range places {
		out.Parts = append(out.Parts, c.Parts[i])
		if out.cov == nil {
			continue
		}
		out.cov[k] = make([]float64, len(places))
		for l, j := range places {
			out.cov[k][l] = c.cov[i][j]
		}
	}
	return out
}

// tied returns c with the part called `on` made to share in the error of the
// part called `of`, which moves by slope for each wt% of it. Both are
// otherwise independent of the rest.
func (c Composition) tied(of, on string, slope float64) Composition {
	cov := c.Covariance()
	i, j := c.place(of), c.place(on)
	if i < 0 || j < 0 || !c.Parts[j].HasU() {
		return c
	}
	cov[i][j] = slope * cov[j][j]
	cov[j][i] = cov[i][j]
	return Composition{Parts: c.Parts, cov: cov}
}

func (c Composition) place(id string) int {
	for i, p := range c.Parts {
		if p.ID == id {
			return i
		}
	}
	return -1
}

// closed returns the covariance of p = 100 x/T with T the sum of the parts:
//
//	Δp_i = (100/T)·(Δx_i − x_i/T · Σ Δx_j)
//
// For independent x its diagonal is the familiar
// u²(p_i) = (100/T)²·[(1 − x_i/T)² u_i² + (x_i/T)² Σ_{j≠i} u_j²].
func closed(x []float64, v [][]float64, total float64) [][]float64 {
	n := len(x)
	rows := make([]float64, n) // Σ_j v_ij
	var all float64
	for i := range n {
		for j := range n {
			rows[i] += v[i][j]
		}
		all += rows[i]
	}
	out := make([][]float64, n)
	f := 100 / total
	for i := range n {
		out[i] = make([]float64, n)
		for j := range n {
			out[i][j] = f * f * (v[i][j] - x[j]/total*rows[i] - x[i]/total*rows[j] + x[i]/total*x[j]/total*all)
		}
		out[i][i] = math.Max(out[i][i], 0)
	}
	return out
}
