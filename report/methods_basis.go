package report

import (
	"fmt"
	"slices"
	"strings"

	"smeltbook/assay/chem"
	eq "smeltbook/report/equation"
)

func (b *builder) analysesMethod() method {
	c := b.study.Campaign
	counts := map[string]int{}
	var order []string
	for _, s := range c.Samples {
		for _, a := range s.Assays {
			if counts[a.Method] == 0 {
				order = append(order, a.Method)
			}
			counts[a.Method]++
		}
	}
	var parts []string
	for _, m := range order {
		parts = append(parts, fmt.Sprintf("%d by %s", counts[m], m))
	}
	text := fmt.Sprintf("%d samples, %d of them analysed: %s.", len(c.Samples), c.Analysed(), list(parts))
	text += " Where several methods gave the same element the value of the most trusted one is used"
	if p := c.Config.Recipe.Prefer; len(p) > 0 {
		text += " (as the notebook orders: " + strings.Join(p, ", ") + ")"
	} else {
		text += " (wet chemistry, WD-XRF, other XRF, ICP, AAS, SEM-EDS, handheld XRF, in this order; common practice)"
	}
	return method{head: "Analyses", text: text + ", repeated determinations by one method are averaged; every value stays in the data."}
}

func (b *builder) recipeMethod() method {
	m := method{head: "From analysis to composition", text: sentences("Major elements are stated as oxides with standard atomic weights (@prohaska2022), other elements as the laboratory gave them; what else is done stands in the table of the recipe below, with the sums before and after beside it.",
		b.basisSentence(), "An analysis that sums to less than 95 or more than 105 wt% stops the report, except where the recipe accepts it.")}
	basis := b.study.Campaign.Config.Recipe.Basis
	if basis != chem.Reported && basis != chem.LOIFree {
		m.formulas = append(m.formulas, formula{lines: lines(
			eq.Row(eq.Line("p_i ="), eq.Frac(eq.Line("100 x_i"), eq.Line("T"))),
			eq.Row(eq.Line("u^2 ( p_i ) ="), eq.Power(eq.Paren(eq.Frac(eq.Line("100"), eq.Line("T"))), eq.Line("2")),
				eq.Bracket(eq.Row(eq.Power(eq.Paren(eq.Row(eq.Line("1 −"), eq.Frac(eq.Line("x_i"), eq.Line("T")))), eq.Line("2")), eq.Line("u^2 ( x_i ) +"),
					eq.Power(eq.Paren(eq.Frac(eq.Line("x_i"), eq.Line("T"))), eq.Line("2")), eq.Sum(eq.Line("j ≠ i"), eq.Line("u^2 ( x_j )")))))),
			where: []sign{{"p_i", "is part i of the composition, wt%"}, {"x_i", "the same part before, wt%"}, {"T", "the sum of the parts without the volatile ones, wt%"}, {"u", "standard uncertainties, wt%"}},
			from:  "first order, parts taken as independent (@jcgm100, 5.1.2)"})
		m.text += " The sum is brought to 100. Oxygen taken off for sulphur moves with its sulphur; ratios are formed before normalising, which leaves them as they are."
	}
	return m
}

// uncertaintyMethod says where the standard uncertainties come from, and how they
// go through computations.
func (b *builder) uncertaintyMethod() method {
	text := "Every value has a standard uncertainty: the laboratory's, where repeated determinations scatter more theirs, else one assumed by method."
	counts := b.study.Campaign.Assumptions()
	var parts []string
	for _, note := range sortedKeys(counts) {
		parts = append(parts, fmt.Sprintf("%d values: %s", counts[note], note))
	}
	if len(parts) == 0 {
		text += " None had to be assumed."
	} else {
		text += " Assumed: " + strings.Join(parts, ". ") + ". The relative figures are usual for the method (common practice), not measured here."
	}
	m := method{head: "Uncertainties", text: text}
	if b.usesMelt() {
		m.text += fmt.Sprintf(" What is computed from a composition carries the error of the analysis by Monte Carlo (@jcgm101): %d draws of each composition, seed %d. A model's own error is kept apart and joined in quadrature where one ± is printed.", b.study.Conditions.Draws, b.study.Conditions.Seed)
		m.formulas = append(m.formulas, formula{lines: lines(
			eq.Row(eq.Line("u_a^2 ="), eq.Frac(eq.Line("1"), eq.Line("M − 1")), eq.Sum(eq.Line("r"), eq.Power(eq.Paren(eq.Line("y_r − ȳ")), eq.Line("2")))),
			eq.Line("u^2 = u_a^2 + u_m^2")),
			where: []sign{{"y_r", "is the result of draw r, in its unit"}, {"ȳ", "their mean"}, {"M", fmt.Sprintf("the number of draws, %d", b.study.Conditions.Draws)}, {"u_a", "the standard uncertainty from the analysis"}, {"u_m", "that of the model"}, {"u", "the two together"}},
			from:  "after @jcgm101"})
	}
	return m
}

func (b *builder) limitsMethod() method { return method{head: "Below detection", text: b.limitsText()} }

// usesGroups tells whether groups of samples were described.
func (b *builder) usesGroups() bool {
	return b.used["spread"] || b.used["melting"] || b.used["indices"] || b.used["copper"] || b.used["lining"] || b.used["flow"] || len(b.notebook.Variables()) > 0
}

func (b *builder) groupsMethod() method {
	m := method{head: "Groups", text: "Scatter is the standard deviation between pieces. To the uncertainty of a mean and of a median the error that a model shares over all samples is added in quadrature. Differences of means are given with their standard uncertainty and 95 % interval (@welch1947). Values below detection are never replaced by a number: a mean that holds such values is given as the pair of its bounds, and no difference is formed."}
	if b.usesViscosity() {
		m.text += " Viscosities, which differ by factors, are described and compared by their logarithms."
	}
	m.formulas = []formula{{lines: lines(
		eq.Row(eq.Line("s^2 ="), eq.Frac(eq.Line("1"), eq.Line("n − 1")), eq.Sum(eq.Line("i"), eq.Power(eq.Paren(eq.Line("x_i − x̄")), eq.Line("2"))),
			eq.Line("; u ( x̄ ) ="), eq.Frac(eq.Line("s"), eq.Sqrt(eq.Line("n"))), eq.Line("; u ( 'median' ) ="), eq.Sqrt(eq.Line("π / 2")), eq.Frac(eq.Line("s"), eq.Sqrt(eq.Line("n")))),
		eq.Row(eq.Line("u^2 ( x̄_1 − x̄_2 ) ="), eq.Frac(eq.Line("s_1^2"), eq.Line("n_1")), eq.Line("+"), eq.Frac(eq.Line("s_2^2"), eq.Line("n_2"))),
		eq.Row(eq.Line("ν ="), eq.Frac(eq.Line("u^4 ( x̄_1 − x̄_2 )"), eq.Row(
			eq.Frac(eq.Power(eq.Paren(eq.Line("s_1^2 / n_1")), eq.Line("2")), eq.Line("n_1 − 1")), eq.Line("+"),
			eq.Frac(eq.Power(eq.Paren(eq.Line("s_2^2 / n_2")), eq.Line("2")), eq.Line("n_2 − 1")))))),
		where: []sign{{"x_i", "is the value of piece i, in its unit"}, {"x̄", "the mean"}, {"n", "the number of pieces"}, {"s", "their scatter, no less than what the analyses alone give"}, {"u", "standard uncertainties"}, {"ν", "the degrees of freedom of the interval by Student's t"}},
		from:  "after @welch1947; that of the median holds for many normal values (from memory)"}}
	return m
}

func (b *builder) cautionsMethod() method { return method{head: "Cautions", text: b.cautionsText()} }

func (b *builder) photographsMethod() method {
	return method{head: "Photographs", text: fmt.Sprintf("%s, put upright and made small (%d pixels for the longer side); what the cameras wrote beside the pictures, places among it, is not in this report. Scales are those that the sheets of the photographs state.", counted(len(b.photos.files), "photograph"), thumbSide)}
}

// list joins words: "a, b and c".
func list(words []string) string {
	switch len(words) {
	case 0:
		return "none"
	case 1:
		return words[0]
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// assumptionsText lists what estimates assumed, with how many of them did.
func (b *builder) assumptionsText() string {
	counts := map[string]int{}
	var order []string
	for _, s := range b.study.Estimated() {
		est, _, _ := b.study.Estimate(s.ID)
		for _, a := range est.Assumptions {
			if slices.ContainsFunc([]string{"in balance with copper metal", "oxygen", "working temperature"}, func(w string) bool { return strings.Contains(a, w) }) {
				continue // told under copper, for the conditions of its entry
			}
			if counts[a] == 0 {
				order = append(order, a)
			}
			counts[a]++
		}
	}
	var parts []string
	for _, a := range order {
		parts = append(parts, fmt.Sprintf("%s (%d samples)", formulaText(a), counts[a]))
	}
	if len(parts) == 0 {
		return ""
	}
	return " In this report: " + strings.Join(parts, "; ") + "."
}
