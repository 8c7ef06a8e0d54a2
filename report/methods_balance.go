package report

import (
	"fmt"
	"strings"

	"smeltbook/assay/balance"
	eq "smeltbook/report/equation"
)

func (b *builder) balanceMethod() method {
	m := method{head: "Balance of a firing", text: fmt.Sprintf("Of %d firings: ore and flux by weight less their moisture, the ash of the charcoal burnt, the lining lost, against what was weighed after the firing, each times the mean of its analyses. Weights and analyses are taken as independent, the analysis of one material as the same in all streams of it; the mean of n pieces has the scatter over √n, no less than the laboratory's own. A difference is judged by Student's t with the effective degrees of freedom of Welch and Satterthwaite (@jcgm100, G.4).", b.balances.firings)}
	m.formulas = []formula{{lines: lines(
		eq.Row(eq.Line("Δ ="), eq.Sum(eq.Line("'in'"), eq.Frac(eq.Line("m_i w_i"), eq.Line("100"))), eq.Line("−"), eq.Sum(eq.Line("'out'"), eq.Frac(eq.Line("m_j w_j"), eq.Line("100"))), eq.Line("; t ="), eq.Frac(eq.Line("Δ"), eq.Line("u ( Δ )")))),
		where: []sign{{"Δ", "is what is unaccounted for of an element, kg"}, {"m", "the weight of a stream, kg"}, {"w", "its content, wt%"}, {"u", "the standard uncertainty, kg"}}, from: "balance of mass"}}
	if len(b.balances.tested) > 0 {
		m.text += fmt.Sprintf(" %s are made to balance at once by the least adjustment of weights and analyses (χ² on the elements left over); %s are left out, because some of them leaves with gas or ash or goes unseen into the metal (common practice).",
			list(b.balances.tested), strings.Join(balance.MayLeave(), ", "))
		m.formulas = append(m.formulas, leastSquares("kg and wt%"))
	}
	return m
}

func (b *builder) unmixedMethod() method {
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
	return method{head: "Sources of the slag", text: fmt.Sprintf("Slag and sources without copper, sulphur and volatiles, iron as FeO, summing to 100. The shares of the sources minimise the weighted squares of the misfit, with the errors of slag and sources both (effective variance). Tracers: %s. Where χ² exceeds its degrees of freedom uncertainties are widened by the root of their ratio (@birge1932). Intervals hold 95 %% of %d draws of all analyses, closed anew (@jcgm101), seed %d. Sources whose shares the others inflate more than tenfold and that trade against each other stand as one (condition numbers after @belsley1980, from memory).",
		strings.Join(choices, "; "), b.study.Conditions.Draws, b.study.Conditions.Seed),
		formulas: []formula{{lines: lines(
			eq.Row(eq.Least(eq.Line("x"), eq.Sum(eq.Line("j"), eq.Frac(eq.Power(eq.Paren(eq.Row(eq.Line("y_j −"), eq.Sum(eq.Line("k"), eq.Line("a_jk x_k")))), eq.Line("2")), eq.Line("s_j^2")))), eq.Line("; x_k ≥ 0 ,"), eq.Sum(eq.Line("k"), eq.Line("x_k = 1"))),
			eq.Row(eq.Line("s_j^2 = u^2 ( y_j ) +"), eq.Sum(eq.Line("k"), eq.Line("x_k^2 u^2 ( a_jk )")), eq.Line("+ ( r y_j )^2"))),
			where: []sign{{"y_j", "is oxide j of the slag, wt%"}, {"a_jk", "the same of source k, wt%"}, {"x_k", "the share of the source"}, {"u", "standard uncertainties, wt%"}, {"r", "what mixing itself fails by, " + strings.Join(models, ", ")}},
			from:  "least squares with constraints"}}}
}

func (b *builder) firingMethod() method {
	u := b.firings[0]
	m := method{head: "Course of the firing", text: fmt.Sprintf("Entries that no couple can have made (open circuit, beyond the table of the type, a contact lost between hot readings) are faults and left out; nothing is put in their place. Readings of one time are averaged. Readings up to %g min apart are joined by straight lines, wider gaps stay open. Limits of error are those of new couples of class %d (@iec60584), for type K of class 2 ± 2.5 °C or 0.75 %%, stated to 1200 °C and carried on above. The time above a temperature is that of the readings; its limits take all of them to be off by the whole tolerance one way, and the upper counts gaps beside hot readings in full. A steepest rise is the slope of a straight line through ten minutes. Charcoal burnt is that charged less that left; with the bed kept at one level what is charged from the first charge to the last is what burns between them, the level good to half a charge.", u.judge.Gap, u.judge.Class)}
	if u.air {
		m.text += " Draught before and between the blowing, moisture and the oxygen of the ore are left out of the reckoning of air."
		m.formulas = []formula{{lines: lines(eq.Row(eq.Line("y = 2"), eq.Paren(eq.Row(eq.Line("1 −"), eq.Frac(eq.Line("n_O₂"), eq.Line("n_C")))))),
			where: []sign{{"y", "is the share of carbon that leaves as CO; outside 0 to 1 air or charcoal is wrong"}, {"n_O₂", "the oxygen blown in, mol"}, {"n_C", "the carbon burnt, mol: a kilogram of it takes 4.45 m³ of air (0 °C, 1 atm) to CO and 8.9 to CO₂"}}, from: "stoichiometry of burning"}}
	}
	return m
}
