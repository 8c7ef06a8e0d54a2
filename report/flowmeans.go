package report

import (
	"fmt"
	"math"

	"smeltbook/assay"
	"smeltbook/assay/quantity"
	"smeltbook/phase/flow"
	"smeltbook/report/study"
)

// flowVariable is the viscosity of a flow entry: that of the study, or by the
// model which the entry asks for, whose error alone it then carries.
func (b *builder) flowVariable(cond flowConditions, melts map[string]flowing) (study.Variable, error) {
	v, err := b.study.Variable(fmt.Sprintf("viscosity@%g", cond.tc))
	if err != nil || cond.model == nil {
		return v, err
	}
	v.Of = func(s *assay.Sample) quantity.Quantity {
		f := melts[s.ID]
		if f.why != "" {
			return quantity.None(quantity.Missing, math.NaN(), v.Unit)
		}
		return quantity.WithU(f.at.Eta, f.at.Eta*math.Log(flow.Band), v.Unit, f.slag.Model.Name())
	}
	v.Model = func(samples []*assay.Sample) float64 {
		sum, n := 0.0, 0.0
		for _, s := range samples {
			if q := v.Of(s); q.Known() {
				sum += q.U
				n++
			}
		}
		return sum / max(n, 1)
	}
	return v, nil
}

// factorGutter states, of a variable whose values differ by factors, the mean of
// each page and the ratio of the two in a few short lines. The error of the model
// counts once in a mean; in the ratio the uncertainty has two ends.
func factorGutter(v study.Variable, groups pair) []string {
	logs := v.Logs()
	lines := []string{"means"}
	for _, g := range groups {
		a := logs.Summary(g.Samples)
		if a.N == 0 {
			continue
		}
		q := groupQuantity("mean", logs, a, g.Samples)
		lines = append(lines, fmt.Sprintf("%s %s %s", g.Name, short(math.Exp(q.Value)), v.Unit), asFactor(q.U))
	}
	d := logs.Difference(groups[0].Samples, groups[1].Samples)
	if math.IsNaN(d.Value) {
		return append(lines, "no ratio:", d.Why)
	}
	return append(lines, groups[0].Name+" / "+groups[1].Name, "× "+short(math.Exp(d.Value)), factorEnds(d.U, modelApart(logs, groups[0].Samples, groups[1].Samples)))
}
