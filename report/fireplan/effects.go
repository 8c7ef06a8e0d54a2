package fireplan

import (
	"cmp"
	"slices"

	"smeltbook/phase/furnace"
)

// Effects joins the ranking of the parameters with what they are, the one that
// does most to the temperature before the pipe first.
func (p *Plan) Effects() []EffectShare {
	var out []EffectShare
	for i, x := range furnace.Parameters(p.Furnace) {
		e := p.Ranking[i]
		out = append(out, EffectShare{x.Key, x.Label, x.Value, x.U, x.Unit, x.Source, e.First, e.Total})
	}
	slices.SortStableFunc(out, func(a, b EffectShare) int { return cmp.Compare(b.Total, a.Total) })
	return out
}
