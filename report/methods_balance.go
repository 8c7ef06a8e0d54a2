package report

import (
	"fmt"
	"strings"

	"smeltbook/assay/balance"
)

func (b *builder) balanceText() string {
	text := fmt.Sprintf("Of %d firings: ore and flux by weight less their moisture, the ash of the charcoal burnt, the lining lost, against what was weighed after the firing, each times the mean of its analyses. Weights and analyses are taken as independent, the analysis of one material as the same in all streams of it; the mean of n pieces has the scatter over √n, no less than the laboratory's own. A difference is judged by Student's t with the effective degrees of freedom of Welch and Satterthwaite (JCGM 100:2008, G.4).", b.balances.firings)
	if len(b.balances.tested) > 0 {
		text += fmt.Sprintf(" %s are made to balance at once by the least adjustment of weights and analyses (least squares with constraints; χ² on the elements left over); %s are left out, because some of them leaves with gas or ash or goes unseen into the metal (common practice).",
			list(b.balances.tested), strings.Join(balance.MayLeave(), ", "))
	}
	if b.balances.forecast {
		how := balance.Usual()
		text += fmt.Sprintf(" The forecast is stoichiometry: sulphur beyond %s of the slag binds copper as Cu₂S, then iron as FeS; the slag takes %s Cu (%s), the metal the rest; other iron goes to the slag as FeO. Its uncertainty is by Monte Carlo (JCGM 101:2008), %d draws, seed %d.",
			how.SlagSulphur.WithUnit(), how.CopperInSlag.WithUnit(), how.CopperInSlag.UNote, b.study.Conditions.Draws, b.study.Conditions.Seed)
	}
	return text
}

func (b *builder) unmixedText() string {
	var choices []string
	seen := map[string]bool{}
	models := []string{}
	for _, u := range b.unmixed {
		models = append(models, fmt.Sprintf("%g %%", 100*u.model))
		for _, c := range u.choices {
			if !seen[c.Name] {
				seen[c.Name] = true
				choices = append(choices, c.Name+" ("+c.Why+")")
			}
		}
	}
	return fmt.Sprintf("Slag and sources without copper, sulphur and volatiles, iron as FeO, summing to 100. Shares are at least zero and add to one; they minimise the weighted squares of the misfit, with the errors of slag and sources both (effective variance) and %s of each oxide for mixing itself. Tracers: %s. Where χ² exceeds its degrees of freedom uncertainties are widened by the root of their ratio (Birge 1932). Intervals hold 95 %% of %d draws of all analyses, closed anew, seed %d. Sources whose shares the others inflate more than tenfold and that trade against each other stand as one (condition numbers after Belsley, Kuh & Welsch 1980, from memory).",
		strings.Join(models, ", "), strings.Join(choices, "; "), b.study.Conditions.Draws, b.study.Conditions.Seed)
}
