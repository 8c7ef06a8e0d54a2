package report

import (
	"fmt"
	"strings"

	"smeltbook/assay/logratio/compare"
	"smeltbook/assay/logratio/effects"
	"smeltbook/assay/logratio/likeness"
)

func (b *builder) likenessText() string {
	var at []string
	for _, u := range b.likenesses {
		text := fmt.Sprintf("%s within %s scatters", formulaText(strings.Join(u.parts, ", ")), short(u.margin))
		if u.replaced > 0 {
			text += fmt.Sprintf(", %d values below detection replaced (%s)", u.replaced, u.replacement)
		}
		at = append(at, text)
	}
	return fmt.Sprintf("Groups are compared on logarithms of ratios (Aitchison 1986, The Statistical Analysis of Compositional Data), so that it does not matter to what the parts sum: %s. Location: distance-based test (Anderson 2001, Austral Ecology 26:32) over all relabellings up to 200 000, else %d at random. Spread: distances to the spatial median of each group, residuals dealt out anew (Anderson 2006, Biometrics 62:245). Likeness: the upper 95 %% bound of the distance of centres, the largest over directions of the shift that a studentised permutation test does not refute, against the margin in units of the scatter of the second group; not to find a difference is not taken for likeness. Nearest firings: %d draws of the analyses and of the pieces of each firing. Tail probabilities rank a replica among the excavated pieces without any shape of the cloud taken for granted (Vovk, Gammerman & Shafer 2005). Replacement of values below detection after Martín-Fernández et al. 2003 (Mathematical Geology 35:253); all draws by seed %d.",
		strings.Join(at, "; "), compare.DefaultPermutations, likeness.DefaultDraws, b.study.Conditions.Seed)
}

func (b *builder) effectsMethod() string {
	var at []string
	for _, u := range b.effects {
		at = append(at, fmt.Sprintf("%d firings, settings %s; prior of an effect normal about zero with %s scatters between like firings for one standard deviation of the setting", u.firings, formulaText(strings.Join(u.settings, ", ")), short(u.prior.Tau)))
	}
	return fmt.Sprintf("Linear model of each result by all settings with a conjugate normal prior (ridge), intercept flat: %s. The scatter between like firings has a prior worth %g firings at the pooled scatter between pieces of one firing, where results are means of pieces; else a flat one. Intervals are from Student's t. The plan of firings is Bayesian D-optimal (Chaloner & Verdinelli 1995, Statistical Science 10:273) by exchange of single firings; its order is random by seed %d. Copper yield is ingot and prills as weighed, all counted as copper, over the copper of the ore charged.",
		strings.Join(at, "; "), effects.DefaultPrior.DF, b.study.Conditions.Seed)
}
