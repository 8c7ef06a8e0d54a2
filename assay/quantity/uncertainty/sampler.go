package uncertainty

import (
	"fmt"
	"math"
	"math/rand/v2"
)

// Sampler draws the inputs of one trial after another. It is not to be shared
// between goroutines.
type Sampler struct {
	in   []Input
	root [][]float64 // lower triangular, root·rootᵀ = correlation; nil when independent
	z    []float64
}

// NewSampler returns one for inputs and their correlations, nil for none. It
// fails on impossible inputs, on correlations that contradict each other, and on
// correlated inputs that are not normal.
func NewSampler(in []Input, c Correlation) (*Sampler, error) {
	if err := check(in, c); err != nil {
		return nil, err
	}
	d := &Sampler{in: in, z: make([]float64, len(in))}
	if c == nil {
		return d, nil
	}
	for i := range c {
		for j := range c[i] {
			if i != j && c[i][j] != 0 && in[i].Shape != Normal {
				return nil, fmt.Errorf("input %q is correlated and not normal; correlated inputs are drawn from a joint normal distribution only", in[i].Name)
			}
		}
	}
	var err error
	d.root, err = cholesky(c)
	return d, err
}

// Draw puts the inputs of one trial into x, in their order.
func (d *Sampler) Draw(r *rand.Rand, x []float64) {
	for i, in := range d.in {
		switch in.Shape {
		case Rectangular:
			d.z[i] = math.Sqrt(3) * (2*r.Float64() - 1)
		case Triangular:
			d.z[i] = math.Sqrt(6) * (r.Float64() + r.Float64() - 1)
		default:
			d.z[i] = r.NormFloat64()
		}
	}
	for i, in := range d.in {
		z := d.z[i]
		if d.root != nil {
			z = 0
			for j := 0; j <= i; j++ {
				z += d.root[i][j] * d.z[j]
			}
		}
		x[i] = in.Value + in.U*z
	}
}

// cholesky returns the lower triangular root of a matrix of correlations. A
// pivot that is zero within rounding stands for an input that the others fix.
func cholesky(c Correlation) ([][]float64, error) {
	const rounding = 1e-10
	l := make([][]float64, len(c))
	for i := range c {
		l[i] = make([]float64, len(c))
		for j := 0; j <= i; j++ {
			s := c[i][j]
			for k := range j {
				s -= l[i][k] * l[j][k]
			}
			switch {
			case i == j && s < -rounding, i != j && l[j][j] == 0 && math.Abs(s) > math.Sqrt(rounding):
				return nil, fmt.Errorf("the correlations contradict each other: no set of numbers can have them")
			case i == j && s > rounding:
				l[i][i] = math.Sqrt(s)
			case i != j && l[j][j] > 0:
				l[i][j] = s / l[j][j]
			}
		}
	}
	return l, nil
}
