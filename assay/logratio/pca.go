package logratio

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Components are principal components of the centred log-ratios.
type Components struct {
	Variances []float64   // eigenvalues (n − 1), largest first
	Shares    []float64   // of the total variance
	Loadings  [][]float64 // a row a component, a column a part; unit length
	Scores    [][]float64 // a row a sample, a column a component
	Centre    []float64   // centred log-ratios of the centre
}

// Principal returns the components of centred log-ratios that carry variance:
// at most one fewer than parts or samples. The sign of each is fixed: its
// loading of largest size, the first of equals, is above zero. In a biplot
// arrows are the loadings; the link between the tips of two arrows stands for
// the logarithm of the ratio of the two parts (Aitchison & Greenacre 2002,
// Applied Statistics 51:375).
func (m Matrix) Principal() (Components, error) {
	n, d := len(m.X), len(m.Parts)
	if n < 3 {
		return Components{}, &TooFew{Method: "a picture of principal components", Have: n, Need: 3, Parts: d - 1}
	}
	z := m.Clr()
	c := Components{Centre: Mean(z)}
	x := mat.NewDense(n, d, nil)
	for i, row := range z {
		for j, v := range row {
			x.Set(i, j, v-c.Centre[j])
		}
	}
	var svd mat.SVD
	if !svd.Factorize(x, mat.SVDThin) {
		return Components{}, fmt.Errorf("principal components: the decomposition did not converge")
	}
	total := TotalVariance(z)
	if !(total > 0) {
		return Components{}, fmt.Errorf("principal components: all samples are equal")
	}
	values := svd.Values(nil)
	var v mat.Dense
	svd.VTo(&v)
	k := min(n-1, d-1)
	c.Scores = make([][]float64, n)
	for a := range k {
		loading := mat.Col(nil, a, &v)
		fixSign(loading)
		c.Loadings = append(c.Loadings, loading)
		variance := values[a] * values[a] / float64(n-1)
		c.Variances = append(c.Variances, variance)
		c.Shares = append(c.Shares, variance/total)
	}
	for i := range n {
		for _, l := range c.Loadings {
			var s float64
			for j, w := range l {
				s += w * x.At(i, j)
			}
			c.Scores[i] = append(c.Scores[i], s)
		}
	}
	return c, nil
}

// fixSign turns v so that its entry of largest size is above zero; entries that
// differ by rounding count as equal.
func fixSign(v []float64) {
	var most float64
	for _, x := range v {
		most = math.Max(most, math.Abs(x))
	}
	for _, x := range v {
		if math.Abs(x) > most*(1-1e-9) {
			if x < 0 {
				for j := range v {
					v[j] = -v[j]
				}
			}
			return
		}
	}
}
