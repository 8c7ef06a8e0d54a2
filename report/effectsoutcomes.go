package report

import (
	"fmt"
	"math"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/logratio"
	"smeltbook/assay/logratio/effects"
	"smeltbook/assay/source"
	"smeltbook/report/notebook"
	"smeltbook/report/study"
)

// yieldKey names the outcome that comes from the weights of the firing.
const yieldKey = "copper yield"

// outcomeOf is an outcome with the balance behind it, if there is one: then
// values are logarithms of the ratio.
type outcomeOf struct {
	effects.Outcome
	balance bool
}

// outcomes reads the results that the entry asks for, firing by firing: the
// mean of the pieces of each, or what its weights give.
func (b *builder) outcomes(e *notebook.Entry, g assay.Group, runs []assay.Run, keys []string) ([]outcomeOf, bool) {
	basis, pieces, why := b.pieceBalances(g)
	if len(keys) == 0 {
		keys = b.usualOutcomes(basis, runs)
	}
	var out []outcomeOf
	for _, key := range keys {
		if strings.EqualFold(key, yieldKey) {
			y := effects.Outcome{Name: yieldKey, Unit: "%", Repeat: math.NaN()}
			for _, r := range runs {
				y.Values = append(y.Values, b.copperYield(r))
			}
			out = append(out, outcomeOf{Outcome: y})
			continue
		}
		if k := balanceNamed(basis, key); k >= 0 {
			y := meansOfFirings(g, runs, func(s *assay.Sample) float64 {
				if z, ok := pieces[s.ID]; ok {
					return basis.Balances[k].Ratio(z[k])
				}
				return math.NaN()
			})
			y.Name = basis.Balances[k].Name
			out = append(out, outcomeOf{y, true})
			continue
		}
		v, err := b.variable(key)
		if err != nil {
			names := append([]string{yieldKey}, b.study.Keys()...)
			for _, x := range basis.Balances {
				names = append(names, x.Name)
			}
			b.fail(e, "UNKNOWN_VARIABLE", "outcomes: there is no result %q%s%s", key, source.DidYouMean(key, names), why)
			return nil, false
		}
		y := meansOfFirings(g, runs, func(s *assay.Sample) float64 { return v.Of(s).Or(math.NaN()) })
		y.Name, y.Unit = v.Label, axisUnit(v.Unit)
		out = append(out, outcomeOf{Outcome: y})
	}
	return out, true
}

func (b *builder) usualOutcomes(basis logratio.Basis, runs []assay.Run) []string {
	var out []string
	for _, name := range []string{"silica against bases", "lime against iron", "wall against ore"} {
		if balanceNamed(basis, name) >= 0 {
			out = append(out, name)
		}
	}
	out = append(out, study.Liquidus)
	for _, r := range runs {
		if !math.IsNaN(b.copperYield(r)) {
			return append(out, yieldKey)
		}
	}
	return out
}

func balanceNamed(basis logratio.Basis, name string) int {
	for k, x := range basis.Balances {
		if strings.EqualFold(x.Name, name) {
			return k
		}
	}
	return -1
}

// pieceBalances works the balances of the pieces that have all parts; why says
// what is wrong where there are none.
func (b *builder) pieceBalances(g assay.Group) (basis logratio.Basis, pieces map[string][]float64, why string) {
	stated := b.notebook.Likeness
	parts := stated.Parts
	if len(parts) == 0 {
		parts = b.study.SharedParts(g.Samples, g.Samples)
	}
	if len(parts) < 2 {
		return basis, nil, fmt.Sprintf(" (%s has no two parts that all pieces share, so there are no balances)", g.Name)
	}
	basis, err := likenessBasis(parts, stated.Balances)
	if err != nil {
		return logratio.Basis{}, nil, fmt.Sprintf(" (no balances: %v)", err)
	}
	var values [][]logratio.Value
	var ids []string
	for _, s := range g.Samples {
		row, lacking, err := b.study.LogRow(s, parts)
		if err != nil {
			return logratio.Basis{}, nil, fmt.Sprintf(" (no balances: %s)", strings.TrimPrefix(err.Error(), ": "))
		}
		if len(lacking) == 0 {
			values, ids = append(values, row), append(ids, s.ID)
		}
	}
	table, err := logratio.NewTable(parts, ids, values)
	if err != nil {
		return logratio.Basis{}, nil, fmt.Sprintf(" (no balances: %v)", err)
	}
	m, err := table.Complete(logratio.Simple)
	if err != nil {
		return logratio.Basis{}, nil, fmt.Sprintf(" (no balances: %v)", err)
	}
	z, err := basis.Coordinates(m)
	if err != nil {
		return logratio.Basis{}, nil, fmt.Sprintf(" (no balances: %v)", err)
	}
	pieces = map[string][]float64{}
	for i, id := range ids {
		pieces[id] = z[i]
	}
	return basis, pieces, ""
}

// meansOfFirings averages a number over the pieces of each firing. Repeat is the
// scatter between pieces of one firing, pooled: like firings will hardly agree
// better than that.
func meansOfFirings(g assay.Group, runs []assay.Run, of func(*assay.Sample) float64) effects.Outcome {
	y := effects.Outcome{Repeat: math.NaN()}
	var squares, free float64
	for _, r := range runs {
		var xs []float64
		for _, s := range g.Samples {
			if x := of(s); s.Run == r.ID && !math.IsNaN(x) {
				xs = append(xs, x)
			}
		}
		if len(xs) == 0 {
			y.Values = append(y.Values, math.NaN())
			continue
		}
		var mean float64
		for _, x := range xs {
			mean += x / float64(len(xs))
		}
		for _, x := range xs {
			squares += (x - mean) * (x - mean)
		}
		free += float64(len(xs) - 1)
		y.Values = append(y.Values, mean)
	}
	if free > 0 && squares > 0 {
		y.Repeat = math.Sqrt(squares / free)
	}
	return y
}
