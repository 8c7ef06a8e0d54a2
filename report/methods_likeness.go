package report

import (
	"fmt"
	"strings"

	"smeltbook/assay/logratio"
	"smeltbook/assay/logratio/compare"
	"smeltbook/assay/logratio/effects"
	"smeltbook/assay/logratio/likeness"
	eq "smeltbook/report/equation"
)

func (b *builder) likenessMethod() method {
	var at []string
	replaced := false
	em := false
	for _, u := range b.likenesses {
		text := fmt.Sprintf("%s within %s scatters", formulaText(strings.Join(u.parts, ", ")), short(u.margin))
		if u.replaced > 0 {
			text += fmt.Sprintf(", %d values below detection replaced (%s)", u.replaced, u.replacement)
			replaced = true
			em = em || u.replacement == logratio.EM
		}
		at = append(at, text)
	}
	m := method{head: "Likeness", text: fmt.Sprintf("Groups are compared on logarithms of ratios (@aitchison1986), so that it does not matter to what the parts sum: %s. Location: distance-based test (@anderson2001) over all relabellings up to 200 000, else %d at random; Hotelling's test (@hotelling1931) beside it where there are samples enough. Spread: distances to the spatial median of each group, residuals dealt out anew (@anderson2006; @oneill2000). Single balances are adjusted for their number after @holm1979 and @benjamini1995. Likeness: the upper 95 %% bound of the distance of centres, the largest over directions of the shift that a studentised permutation test (@janssen1997) does not refute, against the margin in units of the scatter of the second group; not to find a difference is not taken for likeness. Nearest firings: %d draws of the analyses and of the pieces of each firing. Tail probabilities rank a replica among the excavated pieces without any shape of the cloud taken for granted (@vovk2005). Samples apart from their group: distances from its tightest three quarters (@rousseeuw1984; @rousseeuw1999), beyond what the farthest of %d simulated clean groups of as many samples and parts passes in one case of twenty; between the sizes simulated, from 30 samples on, the cut is interpolated by its ratio to that of very many (@croux1999). With fewer than two samples a ratio plain distances and the beta distribution (@gnanadesikan1972). All draws by seed %d.",
		strings.Join(at, "; "), compare.DefaultPermutations, likeness.DefaultDraws, logratio.CutClouds, b.study.Conditions.Seed)}
	m.formulas = []formula{
		{lines: lines(
			eq.Row(eq.Line("z_j = ln x_j −"), eq.Frac(eq.Line("1"), eq.Line("D")), eq.Sum(eq.Line("k"), eq.Line("ln x_k"))),
			eq.Row(eq.Line("d ( a , b ) ="), eq.Sqrt(eq.Sum(eq.Line("j"), eq.Power(eq.Paren(eq.Line("z_aj − z_bj")), eq.Line("2")))), eq.Line("; Δ ="), eq.Frac(eq.Line("d ( z̄_1 , z̄_2 )"), eq.Line("s_2")), eq.Line("; s_2^2 ="), eq.Frac(eq.Line("1"), eq.Line("n_2 − 1")), eq.Sum(eq.Line("i"), eq.Line("d^2 ( z_i , z̄_2 )")))),
			where: []sign{{"z_j", "is the centred logarithm of part j"}, {"x_j", "the part, wt%"}, {"D", "the number of parts"}, {"d", "the distance of two compositions"}, {"z̄_g", "the centre of group g"}, {"s_2", "the scatter of the second group"}, {"Δ", "the distance of the centres in such scatters"}},
			from:  "after @aitchison1986"},
		{lines: lines(eq.Row(eq.Line("F ="), eq.Frac(eq.Line("Q_b"), eq.Line("Q_w / ( n − 2 )")), eq.Line("; p ="), eq.Frac(eq.Line("'relabellings_with'  Q_b^* ≥ Q_b"), eq.Line("'all_relabellings'")))),
			where: []sign{{"Q_b", "is the sum of squared distances between the groups"}, {"Q_w", "that within them"}, {"n", "the number of samples"}, {"p", "the probability; relabelled at random, the present labels count as one more"}},
			from:  "after @anderson2001"}}
	if replaced && !em {
		m.formulas = append(m.formulas, formula{lines: lines(eq.Row(eq.Line("r_j = δ_j 'below_detection' ; r_j = x_j"), eq.Paren(eq.Row(eq.Line("1 −"), eq.Frac(eq.Sum(eq.Line("k"), eq.Line("δ_k")), eq.Sum(eq.Line("k"), eq.Line("x_k"))))), eq.Line("'else'"))),
			where: []sign{{"r_j", "is the part after replacement, wt%"}, {"δ_j", "the share of the limit that the replacement names, wt%"}}, from: "after @martinfernandez2003"})
	}
	return m
}

func (b *builder) effectsMethod() method {
	var at []string
	for _, u := range b.effects {
		at = append(at, fmt.Sprintf("%d firings, settings %s; prior of an effect normal about zero with %s scatters between like firings for one standard deviation of the setting", u.firings, formulaText(strings.Join(u.settings, ", ")), short(u.prior.Tau)))
	}
	return method{head: "Effects", text: fmt.Sprintf("Linear model of each result by all settings with a conjugate normal prior (ridge; @gelman2013, from memory), intercept flat: %s. The scatter between like firings has a prior worth %g firings at the pooled scatter between pieces of one firing, where results are means of pieces; else a flat one. The plan of firings is Bayesian D-optimal (@chaloner1995) by exchange of single firings; its order is random by seed %d. Copper yield is ingot and prills as weighed, all counted as copper, over the copper of the ore charged.",
		strings.Join(at, "; "), effects.DefaultPrior.DF, b.study.Conditions.Seed),
		formulas: []formula{{lines: lines(
			eq.Row(eq.Line("V ="), eq.Power(eq.Paren(eq.Row(eq.Line("X^'T' X +"), eq.Frac(eq.Line("I"), eq.Line("τ^2")))), eq.Line("−1")), eq.Line("; m = V X^'T' y ; ν = ν_0 + n − 1")),
			eq.Row(eq.Line("σ^2 ="), eq.Frac(eq.Line("ν_0 s_0^2 + y^'T' y − m^'T' X^'T' y"), eq.Line("ν")), eq.Line("; β_k ∼ m_k + σ"), eq.Sqrt(eq.Line("V_kk")), eq.Line("t_ν"))),
			where: []sign{{"X", "are the settings, each with mean 0 and standard deviation 1"}, {"y", "the results less their mean"}, {"n", "the number of firings"}, {"τ", "the prior's width"}, {"ν_0 , s_0", "the prior of the scatter"}, {"β_k", "the effect of setting k"}, {"t_ν", "Student's t"}},
			from:  "after @gelman2013"}}}
}
