package wetlab

import (
	"math"

	"smeltbook/assay/quantity/uncertainty"
)

// Input is a quantity that a result depends on.
type Input struct {
	Name  string
	Value float64
	U     float64 // standard uncertainty
}

// Term is what the uncertainty of one input does to the result, with sign and
// in the unit of the result.
type Term struct {
	Name string
	Dy   float64
}

// Propagate returns f of the inputs and its standard uncertainty by
// uncertainty.Propagate, with the inputs taken as independent. Where f has no
// finite value at a step the uncertainty and all terms are NaN.
func Propagate(f func(x []float64) float64, in []Input) (y, u float64, terms []Term) {
	x := make([]float64, len(in))
	list := make([]uncertainty.Input, len(in))
	for i, v := range in {
		x[i] = v.Value
		list[i] = uncertainty.Input{Name: v.Name, Value: v.Value, U: v.U}
	}
	b, err := uncertainty.Propagate(list, nil, f)
	if err != nil {
		for _, v := range in {
			terms = append(terms, Term{v.Name, math.NaN()})
		}
		return f(x), math.NaN(), terms
	}
	for i, d := range b.Terms {
		terms = append(terms, Term{in[i].Name, d})
	}
	return b.Value, b.U, terms
}
