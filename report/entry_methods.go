package report

import (
	"context"

	"smeltbook/report/notebook"
	"smeltbook/report/page"
)

// methodsEntry writes what was done and assumed, and nothing that was not
// used.
func methodsEntry(_ context.Context, b *builder, e *notebook.Entry, out *page.Entry) error {
	var o struct{}
	if !b.options(e, &o) {
		return nil
	}
	for _, m := range b.methods() {
		out.Parts = append(out.Parts, b.methodParts(m)...)
	}
	out.Parts = append(out.Parts, b.recipeTable())
	for _, more := range []*page.Table{b.sumsTable(), b.metalTable(), b.readingsTable()} {
		if more != nil {
			out.Parts = append(out.Parts, more)
		}
	}
	out.Margin = append(out.Margin, "Written from what this report used", "Works stand in the list of references")
	return nil
}

// topic writes one topic of the methods where it was used.
type topic struct {
	used  bool
	write func() method
}

// methods are the topics that were used, in the order of the work.
func (b *builder) methods() []method {
	var out []method
	for _, t := range []topic{
		{true, b.analysesMethod},
		{true, b.qualityMethod},
		{b.hasReadings(), b.readingsMethod},
		{len(b.corrections()) > 0, b.correctedMethod},
		{true, b.recipeMethod},
		{true, b.uncertaintyMethod},
		{b.usesLiquidus() && b.limitsText() != "", b.limitsMethod},
		{b.usesGroups(), b.groupsMethod},
		{b.usesMelt(), b.meltMethod},
		{b.usesLiquidus(), b.liquidusMethod},
		{b.usesFreezing(), b.freezingMethod},
		{len(b.sections) > 0, b.trianglesMethod},
		{len(b.usesIndices()) > 0, b.indicesMethod},
		{len(b.matched) > 0, b.matchedMethod},
		{b.usesViscosity(), b.viscosityMethod},
		{b.usesDensity(), b.densityMethod},
		{b.usesSettling(), b.settlingMethod},
		{b.usesOxygen(), b.oxygenMethod},
		{b.usesDissolved(), b.dissolvedMethod},
		{b.usesForms() || b.forms.firings || b.forms.heap || b.forms.levers, b.formsMethod},
		{b.usesWall(), b.wallMethod},
		{len(b.dressings) > 0, b.dressingMethod},
		{b.balances.firings > 0, b.balanceMethod},
		{b.balances.forecast || b.richUsed() != nil, b.chargeMethod},
		{len(b.unmixed) > 0, b.unmixedMethod},
		{len(b.firings) > 0, b.firingMethod},
		{len(b.fragments) > 0, b.fragmentsMethod},
		{len(b.effects) > 0, b.effectsMethod},
		{len(b.likenesses) > 0, b.likenessMethod},
		{len(b.photos.files) > 0, b.photographsMethod},
		{true, b.cautionsMethod},
	} {
		if t.used {
			out = append(out, t.write())
		}
	}
	return out
}
