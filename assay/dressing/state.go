package dressing

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"smeltbook/assay/quantity"
)

// state is a set of values for the weights and assays of a circuit with their
// covariance: as read, or reconciled.
type state struct {
	v   *variables
	x   []float64 // NaN where not known
	cov mat.Symmetric
	// balanced tells that the values are the reconciled ones.
	balanced bool
}

// asRead is the state of the readings themselves.
func asRead(c Circuit) state {
	v := newVariables(c)
	s := state{v: v, x: make([]float64, len(v.readings))}
	cov := mat.NewSymDense(len(v.readings), nil)
	for i, r := range v.readings {
		s.x[i] = math.NaN()
		if r.Read() {
			s.x[i] = r.Value
			cov.SetSym(i, i, r.U*r.U)
		}
	}
	s.cov = cov
	return s
}

// function is a figure of the values: get returns a mass or a grade.
type function func(get func(variable) float64) float64

// evaluate returns a figure with its standard uncertainty to first order, from
// the covariance of all values. note says where the uncertainty comes from.
// The figure is Missing where a value it needs is not known.
func (s state) evaluate(f function, unit, note string) quantity.Quantity {
	used := map[int]bool{}
	var order []int
	shift, by := -1, 0.0
	get := func(x variable) float64 {
		i := s.v.index[x]
		if !used[i] {
			used[i] = true
			order = append(order, i)
		}
		if i == shift {
			return s.x[i] + by
		}
		return s.x[i]
	}
	value := f(get)
	if math.IsNaN(value) || math.IsInf(value, 0) {
		return quantity.None(quantity.Missing, math.NaN(), unit)
	}
	needed := append([]int{}, order...)
	slope := make([]float64, len(needed))
	for k, i := range needed {
		u := math.Sqrt(math.Max(s.cov.At(i, i), 0))
		if u == 0 {
			continue
		}
		h := 1e-3 * u // small beside the error, so that the slope is that of the tangent
		shift, by = i, h
		up := f(get)
		by = -h
		slope[k] = (up - f(get)) / (2 * h)
	}
	u2 := 0.0
	for a, i := range needed {
		for b, j := range needed {
			u2 += slope[a] * slope[b] * s.cov.At(i, j)
		}
	}
	q := quantity.WithU(value, math.Sqrt(math.Max(u2, 0)), unit, note)
	for _, i := range needed {
		q.From = append(q.From, s.v.read(s.v.order[i]).From...)
	}
	return q
}

// metal is the copper in a product of a stage, in kg times wt%.
func (s state) metal(stage, product int) float64 {
	return s.x[s.v.index[variable{stage, product + 1, whole}]] * s.x[s.v.index[variable{stage, product + 1, Copper}]]
}
