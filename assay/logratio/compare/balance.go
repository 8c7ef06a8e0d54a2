package compare

import (
	"context"
	"math"

	"smeltbook/assay/logratio"
	"smeltbook/assay/quantity"
	"smeltbook/assay/summary"
)

// BalanceTest is the difference of the groups in one balance.
type BalanceTest struct {
	logratio.Balance
	Mean       [2]float64 // of the balance, by group
	Difference float64    // group 0 less group 1
	Low, High  float64    // 95 % interval after Welch; NaN where there is none
	Factor     float64    // by which the ratio of geometric means is larger in group 0
	P          float64    // by permutation
	Holm, BH   float64    // adjusted over all balances
}

// balances tests each balance of the basis by itself.
func balances(ctx context.Context, in Input, o Options) ([]BalanceTest, error) {
	z, _, err := in.coordinates(o)
	if err != nil {
		return nil, err
	}
	labels, err := NewRelabelling(ctx, in.Group, o.Permutations, o.Seed)
	if err != nil {
		return nil, err
	}
	out := make([]BalanceTest, len(o.Basis.Balances))
	p := make([]float64, len(out))
	for k, b := range o.Basis.Balances {
		one := make([][]float64, len(z))
		var sides [2][]quantity.Quantity
		for i, row := range z {
			one[i] = []float64{row[k]}
			sides[in.Group[i]] = append(sides[in.Group[i]], quantity.New(row[k], "1", ""))
		}
		p[k] = TestLocation(one, labels).P
		d := summary.Between(summary.Of(sides[0]), summary.Of(sides[1]))
		out[k] = BalanceTest{Balance: b, Difference: d.Value, Low: d.Low, High: d.High, P: p[k], Factor: math.Exp(b.Ratio(d.Value))}
		for g, qs := range sides {
			out[k].Mean[g] = summary.Of(qs).Mean.Value()
		}
	}
	holm, bh := Holm(p), BenjaminiHochberg(p)
	for k := range out {
		out[k].Holm, out[k].BH = holm[k], bh[k]
	}
	return out, nil
}
