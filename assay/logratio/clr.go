package logratio

import "math"

// Close scales x to the given sum; a new slice.
func Close(x []float64, sum float64) []float64 {
	var t float64
	for _, v := range x {
		t += v
	}
	out := make([]float64, len(x))
	for i, v := range x {
		out[i] = v * sum / t
	}
	return out
}

// Clr returns the centred log-ratios of a composition of parts above zero:
//
//	clr(x)ᵢ = ln xᵢ − (1/D) Σ ln xⱼ
//
// They sum to zero (Aitchison 1986, section 4.6).
func Clr(x []float64) []float64 {
	out := make([]float64, len(x))
	var mean float64
	for i, v := range x {
		out[i] = math.Log(v)
		mean += out[i]
	}
	mean /= float64(len(x))
	for i := range out {
		out[i] -= mean
	}
	return out
}

// Clr returns the centred log-ratios of every sample.
func (m Matrix) Clr() [][]float64 {
	out := make([][]float64, len(m.X))
	for i, row := range m.X {
		out[i] = Clr(row)
	}
	return out
}

// Distance is the distance between two compositions after Aitchison: the
// Euclidean distance of their centred log-ratios. It has no unit; a distance of
// d means that the ratios differ by about the factor exp(d) where one of them
// takes it all.
func Distance(x, y []float64) float64 { return Euclid(Clr(x), Clr(y)) }

// Euclid is the distance of two rows of coordinates.
func Euclid(a, b []float64) float64 {
	var s float64
	for i := range a {
		s += (a[i] - b[i]) * (a[i] - b[i])
	}
	return math.Sqrt(s)
}

// Distances returns the distances between all samples.
func (m Matrix) Distances() [][]float64 {
	z := m.Clr()
	out := make([][]float64, len(z))
	for i := range z {
		out[i] = make([]float64, len(z))
		for j := range i {
			d := Euclid(z[i], z[j])
			out[i][j], out[j][i] = d, d
		}
	}
	return out
}

// Centre is the compositional centre, the closed geometric mean of every part,
// summing to the given sum.
func (m Matrix) Centre(sum float64) []float64 {
	return ClrInverse(Mean(m.Clr()), sum)
}

// ClrInverse returns the composition of the given sum that has these centred
// log-ratios.
func ClrInverse(z []float64, sum float64) []float64 {
	out := make([]float64, len(z))
	for i, v := range z {
		out[i] = math.Exp(v)
	}
	return Close(out, sum)
}

// Mean is the mean of rows of coordinates.
func Mean(z [][]float64) []float64 {
	out := make([]float64, len(z[0]))
	for _, row := range z {
		for j, v := range row {
			out[j] += v
		}
	}
	for j := range out {
		out[j] /= float64(len(z))
	}
	return out
}
