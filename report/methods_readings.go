package report

import (
	"fmt"
	"slices"

	"smeltbook/assay"
	"smeltbook/assay/wetlab"
	"smeltbook/phase/slag"
	eq "smeltbook/report/equation"
	"smeltbook/report/page"
)

// hasReadings tells whether results were worked out from readings.
func (b *builder) hasReadings() bool {
	return slices.ContainsFunc(b.study.Campaign.Readings, func(s wetlab.Sheet) bool { return len(s.Results) > 0 })
}

// readingsMethod tells how readings of the bench became results, and which
// uncertainties of readings were assumed.
func (b *builder) readingsMethod() method {
	n := 0
	var assumed []string
	for _, s := range b.study.Campaign.Readings {
		n += len(s.Results)
		for _, r := range s.Results {
			for _, a := range r.AssumedBy {
				if !slices.Contains(assumed, a) {
					assumed = append(assumed, a)
				}
			}
		}
	}
	text := fmt.Sprintf("%d results were worked out from readings by the formulas of the table below. Uncertainties are propagated from the readings after @kragten1994; replicates are combined after @iso5725.", n)
	if len(assumed) > 0 {
		text += " Where the sheet states no uncertainty of a reading, that of " + list(assumed) + " was taken, and a usual repeatability of the method (common practice); the data list them."
	}
	return method{head: "Determinations from readings", text: text, formulas: []formula{{lines: lines(
		eq.Row(eq.Line("u^2 ( y ) ="), eq.Sum(eq.Line("i"), eq.Power(eq.Bracket(eq.Line("f ( … , q_i + u_i , … ) − f ( q )")), eq.Line("2"))))),
		where: []sign{{"y", "is the result, wt%, by the formula f"}, {"q_i", "its readings, in the units of the sheet"}, {"u_i", "their standard uncertainties"}},
		from:  "after @kragten1994"}}}
}

// readingsTable lists the formulas by which readings became results; nil where
// there were none.
func (b *builder) readingsTable() *page.Table {
	c := b.study.Campaign
	counts := map[*wetlab.Method]int{}
	for _, s := range c.Readings {
		for _, r := range s.Results {
			counts[r.Method]++
		}
	}
	t := &page.Table{Caption: "Determinations worked out from readings. m mass of the sample in g, V volume and V₀ blank in mL, c concentration in mol/L, D dilution; results in wt%.",
		Columns: []page.Column{{Head: "method"}, {Head: "n", Numeric: true}, {Head: "formula"}, {Head: "source"}, {Head: "nearest standard"}}}
	for _, m := range c.WetMethods() {
		scope := textCell("–")
		if s := m.Scope; s != nil {
			scope = page.Cell{Text: s.Standard, Sub: fmt.Sprintf("%.3g to %.3g wt%% %s", s.Lo, s.Hi, formulaText(s.Of))}
		}
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{textCell(m.ID), textCell(fmt.Sprint(counts[m])),
			{Text: formulaText(m.Formula), Sub: formulaText(m.Name)}, textCell(formulaText(m.Source)), scope}})
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return b.table(t)
}

// ferricText says which slags have their iron told apart, for they stand beside
// others that have not.
func (b *builder) ferricText() string {
	if b.study.Campaign.Config.Recipe.AllFerrous {
		return " The notebook leaves titrated iron aside, so all iron is ferrous in the melt."
	}
	apart := 0
	for _, s := range b.study.Estimated() {
		if est, _, _ := b.study.Estimate(s.ID); s.Kind == assay.Slag && est.Melt.Wt[slag.Fe2O3] > 0 {
			apart++
		}
	}
	if apart == 0 {
		return ""
	}
	text := fmt.Sprintf(" In %d of %d slags ferric iron is total iron less titrated FeO, or as stated", apart, len(b.study.Estimated()))
	if apart < len(b.study.Estimated()) {
		text += "; the others count all iron as ferrous, so the two kinds are not on one footing; the notebook's recipe treats all alike with ferric: none"
	}
	return text + ". Ferric iron of cold slag also records cooling and weathering."
}
