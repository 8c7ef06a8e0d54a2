package report

import (
	"fmt"
	"strings"

	"smeltbook/phase/copper"
	eq "smeltbook/report/equation"
)

func (b *builder) oxygenMethod() method {
	var at []string
	for _, c := range b.redoxAt {
		at = append(at, fmt.Sprintf("%.0f °C, copper metal %s, iron metal %s", c.tc, c.copper, c.iron))
	}
	for _, t := range b.temperatures(oxygenKeys...) {
		at = append(at, t+", copper metal present, iron metal absent")
	}
	m := method{head: "Oxygen potential", text: fmt.Sprintf("At %s. Each observation bounds log fO₂ from one or both sides and the window is what all leave: gas over charcoal cannot be more reducing than in balance with carbon (data of @mcbride1993); copper metal bounds from above at copper–cuprite; absent iron metal from below at iron–wüstite with FeO of an activity from half its mole fraction to 1 (our assumption); the copper found from above, because no more than that can have been dissolved under copper metal; ferric iron, from titrated FeO and total iron within twice their uncertainty, from both sides, and further up by what copper metal and sulphide may have feigned of FeO where the slag holds more than 0.5 wt%% of either. Ferric iron is the less sure witness, for cooling and weathering change it and the balance is an extrapolation to such slags: where it contradicts the rest it is told and not used.", strings.Join(at, "; "))}
	m.formulas = []formula{
		{lines: lines(
			eq.Row(eq.Line("log f_O₂ ="), eq.Frac(eq.Line("μ ( T )"), eq.Line("R T ln 10"))),
			eq.Line("μ = −551159 + 269.404 T − 16.9484 T ln T ; 'iron_and_wüstite,_above_1184_K'"),
			eq.Line("μ = −347705 + 246.096 T − 12.9053 T ln T ; 'copper_and_cuprite,_both_solid'")),
			where: []sign{{"f_O₂", "is the oxygen fugacity, bar"}, {"μ", "the chemical potential of O₂, J/mol; heats of fusion of copper, 13.14 kJ/mol, and Cu₂O, 64.8 kJ/mol (from memory), are added above the melting points"}, {"T", "the temperature, K"}, {"R", "8.3145 J/(mol K)"}},
			from:  "after @oneill1993"},
		{lines: lines(
			eq.Row(eq.Line("ln"), eq.Frac(eq.Line("X_Fe₂O₃"), eq.Line("X_FeO")), eq.Line("= 0.196 ln f_O₂ +"), eq.Frac(eq.Line("11492"), eq.Line("T")), eq.Line("− 6.675 +"), eq.Sum(eq.Line("i"), eq.Line("d_i X_i"))),
			eq.Row(eq.Line("− 3.36"), eq.Bracket(eq.Row(eq.Line("1 −"), eq.Frac(eq.Line("1673"), eq.Line("T")), eq.Line("− ln"), eq.Frac(eq.Line("T"), eq.Line("1673")))))),
			where: []sign{{"X_i", "are mole fractions, all iron as FeO"}, {"d_i", "−2.243 for Al₂O₃, −1.828 for FeO, 3.201 for CaO, 5.854 for Na₂O and 6.215 for K₂O; the terms of pressure are those of 1 bar"}},
			from:  "after @kress1991"}}
	if len(b.redoxAt) > 0 {
		m.text += " The diagram draws the lines of @oneill1993, @oneill1987 and @frost1991."
	}
	return m
}

func (b *builder) dissolvedMethod() method {
	c := copper.Fayalitic()
	var at []string
	for _, x := range b.copperAt {
		at = append(at, x.text())
	}
	text := "Copper that a slag dissolves beside copper metal follows the quarter-power law"
	if len(at) > 0 {
		text += ", at " + strings.Join(at, "; ")
	}
	if t := b.temperatures(formKeys...); len(t) > 0 && len(at) == 0 {
		text += fmt.Sprintf(", at %s and log pO₂ from %s to %s", list(t), signed(b.study.Conditions.LogPO2[0]), signed(b.study.Conditions.LogPO2[1]))
	}
	text += ". The dissolved part is never larger than the total."
	return method{head: "Dissolved copper", text: text, formulas: []formula{{lines: lines(
		eq.Row(eq.Line("w = c a_Cu"), eq.Power(eq.Paren(eq.Frac(eq.Line("p_O₂"), eq.Line("p_O₂^*"))), eq.Line("1 / 4")))),
		where: []sign{{"w", "is the copper dissolved, wt%"}, {"c", fmt.Sprintf("the capacity of iron silicate slags, %g to %g wt%%: the upper end at silica saturation (@toguri1969; @altman1972; from memory), the lower for silica-poor slag (@nagamori1974; from memory, less sure)", c.Lo, c.Hi)}, {"a_Cu", "the activity of copper, 1 beside copper metal"}, {"p_O₂", "the oxygen pressure, bar"}, {"p_O₂^*", "that over liquid copper and liquid Cu₂O, from @oneill1993 with the heats of fusion added"}},
		from:  "dissolution as CuO₀.₅, measured on silica-saturated fayalite slags"}}}
}

func (b *builder) formsMethod() method {
	m := method{head: "Forms and loss of copper"}
	var text []string
	if b.usesForms() {
		text = append(text, "Dissolved, sulphide-bound, metallic and unreduced or weathered copper sum to the total; sulphur binds at most what Cu₂S would hold; copper soluble in dilute acid is all of the unreduced and weathered and some of the dissolved (common practice). Each interval is the tightest that the measurements leave.")
		m.formulas = append(m.formulas, formula{lines: lines(
			eq.Row(eq.Line("w_d + w_s + w_m + w_u = w ; w_s ≤"), eq.Frac(eq.Line("2 M_Cu"), eq.Line("M_S")), eq.Line("w_S ; w_u ≤ w_a ≤ w_d + w_u"))),
			where: []sign{{"w", "is all copper, wt%"}, {"w_d", "the dissolved"}, {"w_s", "the copper bound to sulphur"}, {"w_m", "the metal"}, {"w_u", "the unreduced or weathered"}, {"w_S", "the sulphur, wt%"}, {"w_a", "the copper soluble in acid, where it was determined"}, {"M", "molar masses, g/mol"}}, from: "balance of mass"})
		if b.forms.split {
			m.formulas = append(m.formulas, formula{lines: lines(eq.Row(eq.Line("w_m ="), eq.Frac(eq.Line("100 φ ρ_Cu"), eq.Line("φ ρ_Cu + ( 1 − φ ) ρ_s")))),
				where: []sign{{"φ", "is the share of prills in the area of sections, where they were counted"}, {"ρ_Cu , ρ_s", "the densities of copper and solid slag, g/cm³"}}, from: "area share as volume share"})
		}
	}
	if b.forms.firings {
		text = append(text, "Copper lost in a firing is the weight of its slag times the mean copper of its pieces; the copper charged is the weight of ore times the mean copper of the samples of that stock.")
		m.formulas = append(m.formulas, formula{lines: lines(eq.Row(eq.Line("'share_lost' ="), eq.Frac(eq.Line("m_s w_s"), eq.Line("m_o w_o")))),
			where: []sign{{"m_s , m_o", "are the weights of slag and ore, kg"}, {"w_s , w_o", "their copper, wt%"}}, from: "balance of mass, terms taken as independent"})
	}
	if b.forms.heap {
		text = append(text, "Slag for a kilogram of copper is counted back by oxides of ore and slag: from below by those that all went to the slag, from above by those that only the ore brought.")
		m.formulas = append(m.formulas, formula{lines: lines(eq.Row(eq.Line("s ="), eq.Frac(eq.Line("t_o"), eq.Line("t_s")), eq.Line("; S ="), eq.Frac(eq.Line("s"), eq.Line("( w_o − s w_s ) / 100")))),
			where: []sign{{"s", "is the slag from a kilogram of ore, kg"}, {"t_o , t_s", "the oxide in ore and slag, wt%"}, {"w_o , w_s", "their copper, wt%"}, {"S", "the slag for a kilogram of copper, kg"}}, from: "balance of mass"})
	}
	if b.forms.levers {
		text = append(text, "What would have saved copper: entrained metal settles as from a stirred bath, dissolved copper follows the quarter-power law; the slopes are those at the conditions stated.")
		m.formulas = append(m.formulas, formula{lines: lines(eq.Row(eq.Frac(eq.Line("∂ w_m"), eq.Line("∂ t")), eq.Line("= − w_m"), eq.Frac(eq.Line("v"), eq.Line("h")), eq.Line("; "), eq.Frac(eq.Line("∂ w_d"), eq.Line("∂ log p_O₂")), eq.Line("="), eq.Frac(eq.Line("ln 10"), eq.Line("4")), eq.Line("w_d"))),
			where: []sign{{"w_m", "is the entrained metal, wt%"}, {"t", "the time, s"}, {"v", "the speed of drops, m/s"}, {"h", "the depth of slag, m"}, {"w_d", "the dissolved copper, wt%"}}, from: "stirred bath; quarter-power law"})
	}
	m.text = strings.Join(text, " ")
	return m
}
