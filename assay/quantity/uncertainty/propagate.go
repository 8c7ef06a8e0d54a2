package uncertainty

import (
	"fmt"
	"math"
)

// Budget is a result with the share that each input has in its uncertainty.
type Budget struct {
	Value float64
	U     float64   // combined standard uncertainty
	Terms []float64 // what one standard uncertainty of each input does to the result, with its sign
}

// Propagate is the spreadsheet method of Kragten (1994, Analyst 119:2161): the
// term of an input is f(x + u) − f(x) with that input alone moved, and
//
//	u² = Σᵢ Σⱼ termᵢ · termⱼ · r(i, j)
//
// which is the law of propagation (JCGM 100:2008, 5.2.2, equation 16) with the
// slopes taken over one standard uncertainty. It holds where the result is
// nearly straight over that step; MonteCarlo holds everywhere. It fails on
// impossible inputs and where f has no finite value at one of the steps.
func Propagate(in []Input, c Correlation, f Function) (Budget, error) {
	if err := check(in, c); err != nil {
		return Budget{}, err
	}
	x := make([]float64, len(in))
	for i := range in {
		x[i] = in[i].Value
	}
	b := Budget{Value: f(x), Terms: make([]float64, len(in))}
	if math.IsNaN(b.Value) || math.IsInf(b.Value, 0) {
		return Budget{}, fmt.Errorf("the result has no finite value")
	}
	for i := range in {
		if in[i].U == 0 {
			continue
		}
		x[i] = in[i].Value + in[i].U
		b.Terms[i] = f(x) - b.Value
		x[i] = in[i].Value
		if math.IsNaN(b.Terms[i]) || math.IsInf(b.Terms[i], 0) {
			return Budget{}, fmt.Errorf("the result has no finite value with %q one standard uncertainty higher", in[i].Name)
		}
	}
	var u2 float64
	for i := range in {
		u2 += b.Terms[i] * b.Terms[i]
		for j := 0; c != nil && j < i; j++ {
			u2 += 2 * b.Terms[i] * b.Terms[j] * c[i][j]
		}
	}
	b.U = math.Sqrt(max(u2, 0))
	return b, nil
}
