package logratio

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"
)

// TotalVariance is the sum of the variances (n − 1) of the centred log-ratios,
// which is that of the coordinates in any orthonormal basis; NaN below two
// samples. Its root is the scatter: the root mean square distance of the
// samples from their centre.
func TotalVariance(z [][]float64) float64 {
	if len(z) < 2 {
		return math.NaN()
	}
	mean := Mean(z)
	var s float64
	for _, row := range z {
		for j, v := range row {
			s += (v - mean[j]) * (v - mean[j])
		}
	}
	return s / float64(len(z)-1)
}

// Variation returns the matrix of the variances (n − 1) of ln(xᵢ/xⱼ)
// (Aitchison 1986, section 4.4). A small entry says that two parts go
// together.
func (m Matrix) Variation() [][]float64 {
	out := make([][]float64, len(m.Parts))
	for i := range out {
		out[i] = make([]float64, len(m.Parts))
	}
	ratios := make([]float64, len(m.X))
	for i := range m.Parts {
		for j := range i {
			for k, row := range m.X {
				ratios[k] = math.Log(row[i] / row[j])
			}
			v := stat.Variance(ratios, nil)
			out[i][j], out[j][i] = v, v
		}
	}
	return out
}

// dense makes a matrix of rows.
func dense(z [][]float64) *mat.Dense {
	out := mat.NewDense(len(z), len(z[0]), nil)
	for i, row := range z {
		out.SetRow(i, row)
	}
	return out
}

// Covariance returns the covariance (n − 1) of rows of coordinates.
func Covariance(z [][]float64) *mat.SymDense {
	var c mat.SymDense
	stat.CovarianceMatrix(&c, dense(z), nil)
	return &c
}

// Mahalanobis returns the squared distance of every row from a centre in units
// of a covariance. ok is false where the covariance cannot be inverted.
func Mahalanobis(z [][]float64, centre []float64, cov mat.Symmetric) (d2 []float64, ok bool) {
	var chol mat.Cholesky
	if !chol.Factorize(cov) || chol.Cond() > 1e12 {
		return nil, false
	}
	// With cov = LLᵀ the distance is that of L⁻¹(x − centre) from nothing.
	p := len(centre)
	var l mat.TriDense
	chol.LTo(&l)
	lower := l.RawTriangular()
	d2 = make([]float64, len(z))
	solved := make([]float64, p)
	for i, row := range z {
		for j := range p {
			line := lower.Data[j*lower.Stride : j*lower.Stride+j+1]
			v := row[j] - centre[j]
			for k, w := range solved[:j] {
				v -= line[k] * w
			}
			v /= line[j]
			solved[j] = v
			d2[i] += v * v
		}
	}
	return d2, true
}
