package report

import (
	"fmt"
	"slices"
	"strings"

	"smeltbook/assay"
	"smeltbook/phase/slag"
)

// readingsText tells by which formulas readings of the bench became results,
// and which uncertainties of readings were assumed; empty where there were no
// readings.
func (b *builder) readingsText() string {
	c := b.study.Campaign
	counts := map[string]int{}
	var assumed []string
	for _, s := range c.Readings {
		for _, r := range s.Results {
			counts[r.Method.ID]++
			for _, a := range r.AssumedBy {
				if !slices.Contains(assumed, a) {
					assumed = append(assumed, a)
				}
			}
		}
	}
	var parts []string
	for _, m := range c.WetMethods() {
		lines := "determinations"
		if counts[m.ID] == 1 {
			lines = "determination"
		}
		text := fmt.Sprintf("%s, %d %s: %s (%s)", m.Name, counts[m.ID], lines, formulaText(m.Formula), m.Source)
		if m.Scope != nil {
			text += fmt.Sprintf("; nearest standard %s, %.3g to %.3g wt%% %s", m.Scope.Standard, m.Scope.Lo, m.Scope.Hi, m.Scope.Of)
		}
		parts = append(parts, capital(text))
	}
	if len(parts) == 0 {
		return ""
	}
	text := strings.Join(parts, ". ") + ". Uncertainties are propagated from the readings after Kragten (1994, Analyst 119:2161); replicates are combined after ISO 5725-6."
	if len(assumed) > 0 {
		text += " Where the sheet states no uncertainty of a reading, that of " + list(assumed) + " was taken, and a usual repeatability of the method (common practice); the data list them."
	}
	return text
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
	text := fmt.Sprintf(" In %d of %d slags ferric iron is total iron less titrated FeO, or stated", apart, len(b.study.Estimated()))
	if apart < len(b.study.Estimated()) {
		text += "; the others count all iron as ferrous, so the two kinds are not on one footing (`ferric: none` under `recipe:` in the notebook treats all alike)"
	}
	return text + ". Ferric iron of cold slag also records cooling and weathering."
}
