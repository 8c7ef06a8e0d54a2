package report

import (
	"slices"
	"strings"

	eq "smeltbook/report/equation"
	"smeltbook/report/study"
)

func (b *builder) meltMethod() method {
	return method{head: "Melt basis", text: "For the melt models copper in any form counts as Cu₂O, total iron as FeO unless ferrous iron was determined beside it; sulphur, halogens, water and ignition loss are left out, and the rest sums to 100 wt%." + b.ferricText() + b.assumptionsText()}
}

// liquidusMethod gives the liquid's activities and the condition of saturation as
// package melt solves it.
func (b *builder) liquidusMethod() method {
	return method{head: "Liquidus", text: "Computed with smeltbook's own assessment: a quasichemical liquid on one lattice of cations in the formalism of @pelton1986 and its solids, fitted to published points that the file phase/melt/FIT.md lists with their misfit, most of them from @bowen1932, @bowen1933, @rankin1915, @greig1927, @schairer1952 and @osborn1960. The parameters stand in phase/melt/parameters.csv. The melt is taken to be in contact with iron metal, so that a slag with magnetite starts to crystallise higher, unless ferrous and ferric iron were both determined. The model's own standard error comes from cross-validation, by the oxides that are there. The liquidus is the highest temperature at which the melt is saturated with a mineral.",
		formulas: []formula{
			{lines: lines(
				eq.Row(eq.Line("Y_i ="), eq.Frac(eq.Line("b_i X_i"), eq.Sum(eq.Line("j"), eq.Line("b_j X_j"))), eq.Line("; y_i"), eq.Sum(eq.Line("j"), eq.Line("K_ij y_j = Y_i")), eq.Line("; K_ij ="), eq.Line("exp"), eq.Paren(eq.Row(eq.Line("−"), eq.Frac(eq.Line("g_ij"), eq.Line("2 R T"))))),
				eq.Row(eq.Line("X_ii = y_i^2 ; X_ij = 2 K_ij y_i y_j ; D_i ="), eq.Sum(eq.Line("j , k"), eq.Row(eq.Line("X_jk"), eq.Frac(eq.Line("∂ g_jk"), eq.Line("∂ Y_i"))))),
				eq.Row(eq.Line("ln a_i = ln X_i + b_i ln"), eq.Paren(eq.Frac(eq.Line("X_ii"), eq.Line("Y_i^2"))), eq.Line("+"), eq.Frac(eq.Line("b_i"), eq.Line("2 R T")), eq.Paren(eq.Row(eq.Line("D_i −"), eq.Sum(eq.Line("l"), eq.Line("Y_l D_l")))))),
				where: []sign{{"X_i", "is the cation fraction of component i of the liquid"}, {"b_i", "its coordination weight, 0.6887·z/2 for a cation of charge z"}, {"Y_i", "its equivalent fraction"}, {"X_ij", "the fraction of pairs of cations i and j"}, {"g_ij", "the energy of a pair, J/mol, a polynomial of the Y"}, {"a_i", "the activity of the component"}, {"R", "the gas constant, 8.3145 J/(mol K)"}, {"T", "the temperature, K"}},
				from:  "after @pelton1986"},
			{lines: lines(
				eq.Row(eq.Line("A_e ( T ) ="), eq.Sum(eq.Line("i"), eq.Row(eq.Line("f_i"), eq.Bracket(eq.Row(eq.Line("ln a_i − ln a_i^e"))))), eq.Line("+"), eq.Frac(eq.Line("ΔH_e"), eq.Line("R")), eq.Paren(eq.Row(eq.Frac(eq.Line("1"), eq.Line("T")), eq.Line("−"), eq.Frac(eq.Line("1"), eq.Line("T_e"))))),
				eq.Row(eq.Line("+"), eq.Frac(eq.Line("ΔC_e"), eq.Line("R")), eq.Paren(eq.Row(eq.Line("1 −"), eq.Frac(eq.Line("T_e"), eq.Line("T")), eq.Line("+ ln"), eq.Frac(eq.Line("T_e"), eq.Line("T"))))),
				eq.Row(eq.Line("S_s ( T ) = ln"), eq.Sum(eq.Line("e ∈ s"), eq.Line("exp A_e")), eq.Line("; "), eq.Greatest(eq.Line("s"), eq.Line("S_s ( T_L ) = 0")))),
				where: []sign{{"A_e", "is the affinity of end member e of a solid"}, {"f_i", "the number of cations i in its formula"}, {"a_i^e", "the activity in a melt of its own composition"}, {"ΔH_e", "its effective heat of fusion, J/mol"}, {"T_e", "its melting point, K"}, {"ΔC_e", "its heat capacity of fusion, J/(mol K), where the model has one"}, {"S_s", "the supersaturation of solid s, here of an ideal solution of its members; those of olivine and wüstite have a term for calcium more"}, {"T_L", "the liquidus, K"}},
				from:  "smeltbook's own assessment"},
		}}
}

func (b *builder) freezingMethod() method {
	m := method{head: "Solidification", text: "The course of freezing is that of equilibrium in a closed system (lever rule), down to the solidus, to 1 wt% of liquid or to 900 °C; crystals that grow on fast cooling and glass are outside the model. Amounts and temperature of each step are solved for together by Newton's method."}
	m.formulas = []formula{{lines: lines(
		eq.Row(eq.Line("X_i = L x_i +"), eq.Sum(eq.Line("e"), eq.Line("n_e f_ie")), eq.Line("; S_s = 0 'for_every_solid_that_is_there' ; S_s ≤ 0 'else'"))),
		where: []sign{{"X_i", "is the amount of cation i in the whole, mol"}, {"L", "the amount of liquid, mol of cations"}, {"x_i", "its cation fractions"}, {"n_e", "the amount of end member e, mol"}, {"f_ie", "the cations i in its formula"}, {"S_s", "the supersaturation, as for the liquidus"}},
		from:  "condition of equilibrium in a closed system"}}
	return m
}

func (b *builder) trianglesMethod() method {
	return method{head: "Triangles", text: "Drawn: " + strings.Join(b.sections, "; ") + ". The map is computed on a grid of 1 wt% and drawn by linear interpolation; fields below 0.3 % of the triangle are left out."}
}

// indexFormulas are the indices that are more than a ratio of what they name.
func indexFormulas() map[string]formula {
	wt := "in wt% of the melt basis, all iron as FeO"
	degree := eq.Row(eq.Line("S ="), eq.Frac(eq.Sum(eq.Line("'acid'"), eq.Line("n_O x")), eq.Sum(eq.Line("'basic'"), eq.Line("n_O x"))))
	degrees := func(alumina string) formula {
		return formula{lines: lines(degree), where: []sign{{"S", "is the silicate degree"}, {"x", "the mole fraction of an oxide"}, {"n_O", "the oxygen atoms in its formula; acid are SiO₂, TiO₂, ZrO₂, P₂O₅ and B₂O₃, and alumina is " + alumina}}, from: "common practice of smelting texts"}
	}
	optical := eq.Row(eq.Line("Λ ="), eq.Frac(eq.Sum(eq.Line("i"), eq.Line("n_i x_i Λ_i")), eq.Sum(eq.Line("i"), eq.Line("n_i x_i"))))
	opticalSigns := func(x string) []sign {
		return []sign{{"Λ", "is the optical basicity"}, {"Λ_i", "that of the pure oxide"}, {"x_i", x}, {"n_i", "the oxygen atoms in its formula"}}
	}
	return map[string]formula{
		"bachmann_index": {lines: lines(eq.Row(eq.Line("k_v ="), eq.Frac(eq.Line("CaO + MgO + FeO + MnO + Na₂O + K₂O + BaO"), eq.Line("SiO₂ + Al₂O₃")))),
			where: []sign{{"k_v", "is the viscosity index, oxides " + wt}}, from: "after @bachmann1982"},
		"silicate_degree":              degrees("left out"),
		"silicate_degree_alumina_acid": degrees("acid"),
		"silicate_degree_alumina_base": degrees("basic"),
		"nbo_t": {lines: lines(eq.Row(eq.Frac(eq.Line("NBO"), eq.Line("T")), eq.Line("="), eq.Frac(eq.Line("2 'O' − 4 T"), eq.Line("T")), eq.Line("; T = Si + Al + Ti + Zr + 'P' + f Fe^3+"))),
			where: []sign{{"'O'", "is all oxygen, atoms"}, {"T", "the atoms in tetrahedra"}, {"f", "the share of ferric iron in tetrahedra, 0 up to 30 % ferric and 1 from 50 % on (our convention between them)"}}, from: "after @mysen1982 and @mills1993"},
		"optical_basicity": {lines: lines(optical), where: opticalSigns("its mole fraction"), from: "after @duffy1976 with the values of @mills1993"},
		"optical_basicity_corrected": {lines: lines(optical), where: opticalSigns("what is left of its mole fraction when each mole of Al₂O₃ has taken up one of K₂O, Na₂O, CaO or the next basic oxide (order after CaO our convention)"),
			from: "after @mills1993"},
	}
}

func (b *builder) indicesMethod() method {
	formulas := indexFormulas()
	var plain []string
	m := method{head: "Indices"}
	used := b.usesIndices()
	for _, v := range study.Indices() {
		if !slices.Contains(used, v.Key) {
			continue
		}
		if f, ok := formulas[v.Key]; ok {
			m.formulas = append(m.formulas, f)
		} else {
			plain = append(plain, formulaText(v.Label))
		}
	}
	if len(plain) > 0 {
		m.text = "On the melt basis, by weight where not said otherwise: " + strings.Join(plain, "; ") + " (common practice). "
	}
	m.text += "Uncertainties are those of the analysis, by drawing compositions; an index is a definition and has no error of its own."
	return m
}

func (b *builder) matchedMethod() method {
	return method{head: "Matched pieces", text: b.matchedText()}
}
