package wetlab

import "math"

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

// Propagate returns f of the inputs and its standard uncertainty, after the
// spreadsheet method of Kragten (1994, Analyst 119:2161; EURACHEM/CITAC QUAM,
// appendix E): every input is moved by its standard uncertainty, and the
// differences are added as squares. Inputs are taken as independent.
func Propagate(f func(x []float64) float64, in []Input) (y, u float64, terms []Term) {
	x := make([]float64, len(in))
	for i := range in {
		x[i] = in[i].Value
	}
	y = f(x)
	for i := range in {
		x[i] = in[i].Value + in[i].U
		d := f(x) - y
		x[i] = in[i].Value
		terms = append(terms, Term{in[i].Name, d})
		u = math.Hypot(u, d)
	}
	return y, u, terms
}
