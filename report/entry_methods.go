package report

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"smeltbook/assay/chem"
	"smeltbook/phase/copper"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
	"smeltbook/report/study"
)

// methodsEntry writes what was done and assumed, and nothing that was not
// used.
func methodsEntry(_ context.Context, b *builder, e *notebook.Entry, out *page.Entry) error {
	var o struct{}
	if !b.options(e, &o) {
		return nil
	}
	t := &page.Text{}
	add := func(head, text string) {
		t.Paragraphs = append(t.Paragraphs, []page.Run{{Text: head + ". ", Style: page.Strong}, {Text: text}})
	}
	add("Analyses", b.analysesText())
	if text := b.readingsText(); text != "" {
		add("Determinations from readings", text)
	}
	add("From analysis to composition", b.recipeText())
	add("Uncertainties", b.uncertaintyText())
	if text := b.limitsText(); text != "" {
		add("Below detection", text)
	}
	if b.used["spread"] || len(b.notebook.Calls()) > 0 || b.used["melting"] || b.used["indices"] || b.used["copper"] || b.used["lining"] {
		add("Groups", "Scatter is the standard deviation between pieces (n − 1). The uncertainty of a mean is s/√n and that of a median √(π/2)·s/√n; to both the error that a model shares over all samples is added in quadrature. Differences of means are given with their standard uncertainty and 95 % interval after Welch (1947, Biometrika 34:28). Viscosities, which differ by factors, are described and compared by their logarithms. Values below detection are never replaced by a number: a mean that holds such values is given as the pair of its bounds, and no difference is formed.")
	}
	if b.usesEstimates() {
		add("Melt basis", "For the melt models copper in any form counts as Cu₂O, total iron as FeO unless ferrous iron was determined beside it; sulphur, halogens, water and ignition loss are left out, and the rest sums to 100 wt%."+b.ferricText()+b.assumptionsText())
	}
	if b.used["melting"] || b.used["ternary"] || b.used["spread"] {
		add("Liquidus", fmt.Sprintf("Computed with smeltbook's own assessment: a quasichemical liquid on one lattice of cations (formalism of Pelton & Blander 1986, Metallurgical Transactions B 17:805–815) and its solids, fitted to published points that the file phase/melt/FIT.md lists with their misfit, most of them from Bowen & Schairer 1932, Bowen, Schairer & Posnjak 1933, Rankin & Wright 1915, Greig 1927, Schairer & Yagi 1952 and Osborn & Muan 1960; the melt is taken to be in contact with iron metal, so that a slag with magnetite starts to crystallise higher, unless ferrous and ferric iron were both determined. The model's own standard error comes from cross-validation, by the oxides that are there. The error of the analysis is carried through by Monte Carlo (JCGM 101:2008): %d draws of each composition, seed %d. The course of freezing is that of equilibrium (lever rule); crystals that grow on fast cooling and glass are outside the model.",
			b.study.Conditions.Draws, b.study.Conditions.Seed))
	}
	if len(b.sections) > 0 {
		add("Triangles", "Drawn: "+strings.Join(b.sections, "; ")+". The map is computed on a grid of 1 wt% and drawn by linear interpolation; fields below 0.3 % of the triangle are left out.")
	}
	if b.used["indices"] || b.used["spread"] {
		add("Indices", b.indicesText())
	}
	if text := b.matchedText(); text != "" {
		add("Matched pieces", text)
	}
	if len(b.photos.files) > 0 {
		add("Photographs", fmt.Sprintf("%s, put upright and made small (%d pixels for the longer side); what the cameras wrote beside the pictures, places among it, is not in this report. Scales are those that the sheets of the photographs state.", counted(len(b.photos.files), "photograph"), thumbSide))
	}
	for _, p := range append(b.modelMethods(), b.qualityMethods()...) {
		add(p[0], p[1])
	}
	add("Cautions", b.cautionsText())
	out.Parts = append(out.Parts, t, b.recipeTable())
	for _, more := range []*page.Table{b.sumsTable(), b.metalTable(), b.readingsTable()} {
		if more != nil {
			out.Parts = append(out.Parts, more)
		}
	}
	out.Margin = append(out.Margin, "Written from what this report used", "Atomic weights: "+chem.WeightsSource)
	return nil
}

func (b *builder) usesEstimates() bool {
	return slices.ContainsFunc([]string{"spread", "ternary", "melting", "indices", "flow", "redox", "copper"}, func(k string) bool { return b.used[k] })
}

func (b *builder) analysesText() string {
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
	return text + ", repeated determinations by one method are averaged; every value stays in the data."
}

func (b *builder) recipeText() string {
	text := "Major elements are stated as oxides with standard atomic weights, other elements as the laboratory gave them; what else is done stands in the table of the recipe below, with the sums before and after beside it. " + b.basisSentence()
	return text + " An analysis that sums to less than 95 or more than 105 wt% stops the report, except where the recipe accepts it."
}

// uncertaintyText says where the standard uncertainties come from.
func (b *builder) uncertaintyText() string {
	text := "Every value has a standard uncertainty: the laboratory's, where repeated determinations scatter more theirs, else one assumed by method. Those of a basis follow from the parts taken as independent, u²(p) = (100/T)²·[(1 − x/T)²u² + (x/T)²Σu²] with T the sum before normalising, oxygen taken off for sulphur moving with its sulphur; ratios are formed before normalising, which leaves them as they are."
	counts := b.study.Campaign.Assumptions()
	var parts []string
	for _, note := range sortedKeys(counts) {
		parts = append(parts, fmt.Sprintf("%d values: %s", counts[note], note))
	}
	if len(parts) == 0 {
		return text + " None had to be assumed."
	}
	return text + " Assumed: " + strings.Join(parts, ". ") + ". The relative figures are usual for the method (common practice), not measured here."
}

// assumptionsText lists what estimates assumed, with how many of them did.
func (b *builder) assumptionsText() string {
	counts := map[string]int{}
	var order []string
	for _, s := range b.study.Estimated() {
		est, _, _ := b.study.Estimate(s.ID)
		for _, a := range est.Assumptions {
			if strings.Contains(a, "in balance with copper metal") || strings.Contains(a, "oxygen") || strings.Contains(a, "working temperature") {
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

func (b *builder) indicesText() string {
	labels := map[string][]string{} // by source
	var order []string
	for _, v := range study.Indices() {
		if labels[v.Source] == nil {
			order = append(order, v.Source)
		}
		labels[v.Source] = append(labels[v.Source], formulaText(v.Label))
	}
	var parts []string
	for _, source := range order {
		parts = append(parts, capital(strings.Join(labels[source], "; "))+": "+source)
	}
	return strings.Join(parts, ". ") + ". Uncertainties by drawing compositions, as for the liquidus."
}

func (b *builder) copperText() string {
	var at []string
	for _, c := range b.copperAt {
		at = append(at, c.text())
	}
	capacity := copper.Fayalitic()
	return fmt.Sprintf("Copper that a slag dissolves beside copper metal, w = c·a(Cu)·(pO₂/pO₂*)^¼ with a(Cu) = 1, at %s; pO₂* is that of liquid copper with liquid Cu₂O after O'Neill & Pownceby 1993 (Contributions to Mineralogy and Petrology 114:296) with the heats of fusion added. Capacity c from %g to %g wt%%: %s. The dissolved part is never larger than the total; the rest is entrained metal, sulphide, unreduced ore or a product of weathering, which this analysis cannot tell apart.",
		strings.Join(at, "; "), capacity.Lo, capacity.Hi, capacity.Source)
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
