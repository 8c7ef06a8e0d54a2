package report

import (
	"fmt"
	"slices"
	"strings"

	"smeltbook/phase/flow"
	eq "smeltbook/report/equation"
)

// viscosityFormulas are the models of viscosity by their keys.
func viscosityFormulas() map[string]formula {
	eta := sign{"η", "is the viscosity, Pa·s"}
	kelvin := sign{"T", "the temperature, K"}
	arrhenius := func(then ...eq.Math) []eq.Math {
		return append(lines(eq.Row(eq.Line("η = A T exp"), eq.Paren(eq.Frac(eq.Line("B"), eq.Line("T"))))), then...)
	}
	groups := []sign{{"g", "the mole fraction of glass formers (SiO₂, P₂O₅)"}, {"α", "the modifying oxides over modifying and amphoteric ones, mole fractions"}}
	return map[string]formula{
		"utigard_warczok_1995": {lines: lines(
			eq.Row(eq.Line("log η = −0.49 − 5.1"), eq.Sqrt(eq.Line("V")), eq.Line("+"), eq.Frac(eq.Row(eq.Line("−3660 + 12080"), eq.Sqrt(eq.Line("V"))), eq.Line("T"))),
			eq.Row(eq.Line("V ="), eq.Frac(eq.Line("a"), eq.Line("b")), eq.Line("; a = SiO₂ + 1.5 Cr₂O₃ + 1.2 ZrO₂ + 1.8 Al₂O₃")),
			eq.Line("b = 1.2 FeO + 0.5 ( Fe₂O₃ + PbO ) + 0.8 MgO + 0.7 CaO"),
			eq.Line("+ 2.3 ( Na₂O + K₂O ) + 0.7 Cu₂O")),
			where: []sign{eta, {"V", "a ratio of acid to basic oxides, a and b in wt%, 0.3 to 1.2; MnO and ZnO count as FeO (our convention)"}, kelvin}, from: "after @utigard1995"},
		"urbain_1981": {lines: arrhenius(
			eq.Row(eq.Line("−ln A = 0.2693 B / 1000 + 13.9751 ; B = 1000"), eq.Sum(eq.Line("j = 0…3"), eq.Line("( c_0j + c_1j α + c_2j α^2 ) g^j")))),
			where: append([]sign{eta, kelvin}, append(groups, sign{"c_kj", "coefficients of the model"})...), from: "after @urbain1981"},
		"urbain_1987": {lines: arrhenius(
			eq.Row(eq.Line("−ln A = 0.29 B / 1000 + 11.57 + ln 10 ; B ="), eq.Frac(eq.Sum(eq.Line("k"), eq.Line("x_k B_k")), eq.Sum(eq.Line("k"), eq.Line("x_k")))),
			eq.Row(eq.Line("B_k = 1000"), eq.Sum(eq.Line("j = 0…3"), eq.Line("( a_j + b_kj α + c_kj α^2 ) g^j")))),
			where: append([]sign{eta, kelvin}, append(groups, sign{"x_k", "the mole fractions of the modifiers like CaO, MgO and MnO; iron counts with MnO"}, sign{"a_j", "and the others coefficients of the model"})...), from: "after @urbain1987"},
		"riboud_1981": {lines: arrhenius(
			eq.Line("ln A = −19.81 + 1.73 C + 7.02 N − 35.76 L"),
			eq.Line("B = 31140 − 23896 C − 39159 N + 68833 L")),
			where: []sign{eta, kelvin, {"C", "the mole fraction of CaO and its kin"}, {"N", "that of the alkalis"}, {"L", "that of Al₂O₃, all iron as FeO"}}, from: "after @riboud1981"},
		"mills_sridhar_1999": {lines: lines(
			eq.Row(eq.Line("η = A exp"), eq.Paren(eq.Frac(eq.Line("B"), eq.Line("T")))),
			eq.Line("ln A = −232.69 Λ^2 + 357.32 Λ − 144.17"),
			eq.Line("ln ( B / 1000 ) = −1.77 + 2.88 / Λ")),
			where: []sign{eta, kelvin, {"Λ", "the optical basicity with the charge of alumina balanced (@mills1993)"}}, from: "after @mills1999"},
		"giordano_2008": {lines: lines(
			eq.Row(eq.Line("log η = −4.55 +"), eq.Frac(eq.Line("B"), eq.Line("T − C")))),
			where: []sign{eta, kelvin, {"B , C", "are linear in mol% and products of them, all iron as FeO"}}, from: "after @giordano2008, for comparison alone"},
	}
}

// viscosityModels are the models whose values stand in the report: all where the
// entry of flow compares them, else those that the slags' iron chooses.
func (b *builder) viscosityModels() []flow.Model {
	if len(b.flowAt) > 0 {
		return flow.Models()
	}
	var out []flow.Model
	for _, m := range flow.Models() {
		for _, s := range b.study.Estimated() {
			e, _, _ := b.study.Estimate(s.ID)
			if flow.Choose(e.Melt.Wt).Model.Key() == m.Key() {
				out = append(out, m)
				break
			}
		}
	}
	return out
}

func (b *builder) viscosityMethod() method {
	var at []string
	for _, c := range b.flowAt {
		model := "the model chosen by the iron of the slag"
		if c.model != nil {
			model = c.model.Name()
		}
		at = append(at, fmt.Sprintf("%.0f °C with %s", c.tc, model))
	}
	for _, t := range b.temperatures("viscosity") {
		if !slices.ContainsFunc(at, func(x string) bool { return strings.HasPrefix(x, t) }) {
			at = append(at, t+" with the model chosen by the iron of the slag")
		}
	}
	text := "Viscosities"
	if len(at) > 0 {
		text += " at " + strings.Join(at, "; ")
	}
	text += fmt.Sprintf(". From 25 wt%% FeO @utigard1995 is taken, which was fitted to iron-rich smelting slags, up to 15 wt%% @urbain1981, between them @urbain1987 (the order below 25 wt%% is our convention). A computed viscosity holds within a factor of %g at best.", flow.Band)
	m := method{head: "Viscosity"}
	formulas := viscosityFormulas()
	for _, model := range b.viscosityModels() {
		m.formulas = append(m.formulas, formulas[model.Key()])
	}
	if b.usesCrystals() {
		s := flow.Roscoe()
		text += " Crystals stiffen the slag after Einstein and Roscoe."
		m.formulas = append(m.formulas, formula{lines: lines(eq.Row(eq.Line("η = η_l"), eq.Power(eq.Paren(eq.Line("1 − A f")), eq.Line("−N")))),
			where: []sign{{"η_l", "is the viscosity of the liquid that is left, Pa·s"}, {"f", "the volume share of crystals"}, {"A", fmt.Sprintf("%g", s.A)}, {"N", fmt.Sprintf("%g, for equal spheres", s.N)}}, from: "after @roscoe1952"})
	} else {
		text += " It is that of the liquid alone: crystals below the liquidus are left aside and make a slag stiffer."
	}
	m.text = text
	return m
}

func (b *builder) densityMethod() method {
	m := method{head: "Density", text: "Density of the liquid after @mills1987, ± 4 %."}
	if len(b.flowAt) > 0 {
		m.text = "Density of the liquid after @mills1987, and after @lange1987 as a second opinion, each ± 4 %."
	}
	m.formulas = []formula{{lines: lines(eq.Row(eq.Line("ρ ="), eq.Frac(eq.Sum(eq.Line("i"), eq.Line("x_i M_i")), eq.Sum(eq.Line("i"), eq.Line("x_i V_i"))), eq.Line("; V_i = V_i^0 ( 1 + 0.0001 ( T − 1773 ) )"))),
		where: []sign{{"ρ", "is the density, g/cm³"}, {"x_i", "the mole fraction of oxide i"}, {"M_i", "its molar mass, g/mol"}, {"V_i^0", "its partial molar volume at 1773 K, cm³/mol; those of SiO₂ and Al₂O₃ change with their content"}, {"T", "the temperature, K"}}, from: "after @mills1987"}}
	return m
}

func (b *builder) settlingMethod() method {
	var at []string
	for _, c := range b.flowAt {
		at = append(at, fmt.Sprintf("through %g mm in %g minutes", c.depth, c.time))
	}
	text := "Copper drops sink between the law of Stokes (rigid; after @schiller1933 at Reynolds numbers above 0.1) and that of Hadamard and Rybczyński (mobile surface)"
	if len(at) > 0 {
		text += ", " + strings.Join(at, "; ")
	}
	text += ". Density and viscosity of liquid copper after @assael2010."
	return method{head: "Settling", text: text, formulas: []formula{{lines: lines(
		eq.Row(eq.Line("v_S ="), eq.Frac(eq.Line("g d^2 ( ρ_m − ρ_s )"), eq.Line("18 η")), eq.Line("; v_H = v_S"), eq.Frac(eq.Line("3 ( η + η_m )"), eq.Line("2 η + 3 η_m"))),
		eq.Line("v ( 1 + 0.15 Re^0.687 ) = v_S ; Re = ρ_s v d / η")),
		where: []sign{{"v_S", "is the speed of a rigid drop, m/s"}, {"v_H", "that of a mobile one"}, {"g", "9.80665 m/s²"}, {"d", "the diameter, m"}, {"ρ_m , ρ_s", "the densities of metal and slag, kg/m³"}, {"η , η_m", "the viscosities of slag and metal, Pa·s"}},
		from:  "textbook fluid mechanics; the second line after @schiller1933"}}}
}
