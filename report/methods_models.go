package report

import (
	"fmt"
	"slices"
	"strings"

	"smeltbook/phase/copper"
	"smeltbook/phase/flow"
	"smeltbook/phase/redox"
)

// modelMethods says what was done for flow, oxygen, copper and lining: pairs of
// a head and a text, for what was used.
func (b *builder) modelMethods() [][2]string {
	var out [][2]string
	if len(b.flowAt) > 0 {
		out = append(out, [2]string{"Viscosity", b.flowText()})
	}
	if len(b.redoxAt) > 0 {
		out = append(out, [2]string{"Oxygen potential", b.redoxText()})
	}
	if len(b.copperAt) > 0 {
		out = append(out, [2]string{"Copper", b.copperText()})
	}
	if text := b.formsText(); text != "" {
		out = append(out, [2]string{"Forms and loss of copper", text})
	}
	if len(b.linings) > 0 {
		out = append(out, [2]string{"Furnace wall", b.liningText()})
	}
	if len(b.dressings) > 0 {
		out = append(out, [2]string{"Dressing", b.dressingMethods()})
	}
	if b.balances.firings > 0 {
		out = append(out, [2]string{"Balance of a firing", b.balanceText()})
	}
	if len(b.unmixed) > 0 {
		out = append(out, [2]string{"Sources of the slag", b.unmixedText()})
	}
	if len(b.firings) > 0 {
		out = append(out, [2]string{"Course of the firing", b.firingText()})
	}
	if len(b.fragments) > 0 {
		out = append(out, [2]string{"Furnace from fragments", b.fragmentsText()})
	}
	if len(b.effects) > 0 {
		out = append(out, [2]string{"Effects", b.effectsMethod()})
	}
	if len(b.likenesses) > 0 {
		out = append(out, [2]string{"Likeness", b.likenessText()})
	}
	return out
}

func (b *builder) flowText() string {
	var at, sources []string
	for _, c := range b.flowAt {
		model := "the model chosen by the iron of the slag"
		if c.model != nil {
			model = c.model.Name()
		}
		at = append(at, fmt.Sprintf("%.0f °C with %s, settling through %g mm in %g minutes", c.tc, model, c.depth, c.time))
	}
	for _, m := range flow.Models() {
		sources = append(sources, m.Source())
	}
	text := fmt.Sprintf("At %s. From 25 wt%% FeO Utigard & Warczok 1995 is taken, which was fitted to iron-rich smelting slags, up to 15 wt%% Urbain 1981, between them Urbain 1987 (the order below 25 wt%% is our convention). Models: %s. A computed viscosity holds within a factor of %g at best.",
		strings.Join(at, "; "), strings.Join(sources, "; "), flow.Band)
	if b.study.CountsCrystals() {
		s := flow.Roscoe()
		text += fmt.Sprintf(" Crystals stiffen the slag after Einstein and Roscoe, (1 − %g f)^(−%g): %s.", s.A, s.N, s.Source)
	} else {
		text += " It is that of the liquid alone: crystals below the liquidus are left aside and make a slag stiffer."
	}
	return text + " Density after Mills & Keene 1987, and after Lange & Carmichael as a second opinion, each ± 4 %; that and the viscosity of liquid copper after Assael et al. 2010. Drops sink between the law of Stokes (rigid; Schiller & Naumann at Reynolds numbers above 0.1) and that of Hadamard and Rybczyński (mobile surface)."
}

func (b *builder) redoxText() string {
	var at []string
	for _, c := range b.redoxAt {
		at = append(at, fmt.Sprintf("%.0f °C, copper metal %s, iron metal %s", c.tc, c.copper, c.iron))
	}
	var lines []string
	for _, x := range diagramLines() {
		s := x.Label + ", " + x.Source
		if !slices.Contains(lines, s) {
			lines = append(lines, s)
		}
	}
	capacity := copper.Fayalitic()
	return fmt.Sprintf("At %s. Each observation bounds log fO₂ from one or both sides and the window is what all leave: gas over charcoal cannot be more reducing than in balance with carbon; copper metal bounds from above at copper–cuprite; absent iron metal from below at iron–wüstite with FeO of an activity from half its mole fraction to 1 (our assumption); the copper found from above, because no more than that can have been dissolved under copper metal (capacity %g to %g wt%%); ferric iron, from titrated FeO and total iron within twice their uncertainty, from both sides (%s), and further up by what copper metal and sulphide may have feigned of FeO where the slag holds more than 0.5 wt%% of either. Ferric iron is the less sure witness, for cooling and weathering change it and the balance is an extrapolation to such slags: where it contradicts the rest it is told and not used. Lines: %s.",
		strings.Join(at, "; "), capacity.Lo, capacity.Hi, redox.KressCarmichael, formulaText(strings.Join(lines, "; ")))
}

func (b *builder) formsText() string {
	var parts []string
	if b.forms.split {
		parts = append(parts, "Forms of copper: dissolved, sulphide-bound, metallic and unreduced or weathered copper sum to the total; sulphur binds at most what Cu₂S would hold; copper soluble in dilute acid is all of the unreduced and weathered and some of the dissolved (common practice); prills are reckoned from their area and the densities of copper and slag. Each interval is the tightest that the measurements leave")
	}
	if b.forms.firings {
		parts = append(parts, "Copper lost in a firing is the weight of its slag times the mean copper of its pieces; the copper charged is the weight of ore times the mean copper of the samples of that stock")
	}
	if b.forms.heap {
		parts = append(parts, "Slag for a kilogram of copper: with s kilograms of slag from a kilogram of ore, s/((Cu of ore − s·Cu of slag)/100), s bounded by the oxides named")
	}
	if b.forms.levers {
		parts = append(parts, "What would have saved copper: entrained metal settles as from a stirred bath, dissolved copper follows the quarter-power law; the slopes are those at the conditions stated")
	}
	if len(parts) == 0 {
		return ""
	}
	return strings.Join(parts, ". ") + "."
}

func (b *builder) liningText() string {
	var at []string
	clay := false
	for _, l := range b.linings {
		at = append(at, fmt.Sprintf("fired in %s gas, calcareous above %g wt%% CaO", l.atmosphere, l.limit))
		clay = clay || l.clay
	}
	text := fmt.Sprintf("Indices from the analyses as reported, all iron as FeO: fluxes are the sum of CaO, MgO, FeO, MnO, Na₂O, K₂O and BaO (common practice); Schuen's temperature for fireclays and Bischof's quotient are from memory. Stages of vitrification after Maniatis & Tite 1981 (Journal of Archaeological Science 8:59), the table from memory: %s.", strings.Join(at, "; "))
	if clay {
		text += " Share of clay in slag by each tracer, (slag − rest)/(clay − rest), the analyses taken as independent and the ends at twice the standard uncertainty; the rest is the charge of the firing by weight where the field sheet and the laboratory have ore and flux, else the ore alone, without copper and volatiles."
	}
	return text
}
