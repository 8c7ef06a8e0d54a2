package report

import (
	"fmt"

	"smeltbook/assay/balance"
	eq "smeltbook/report/equation"
)

// richUsed is an entry of dressing that asked how an ore would smelt; nil where
// none did.
func (b *builder) richUsed() *dressingUsed {
	for i := range b.dressings {
		if b.dressings[i].rich != nil {
			return &b.dressings[i]
		}
	}
	return nil
}

// leastSquares is the adjustment of readings under balances, of dressing and of
// firings.
func leastSquares(what string) formula {
	return formula{lines: lines(eq.Row(eq.Least(eq.Line("x"), eq.Sum(eq.Line("i"), eq.Power(eq.Paren(eq.Frac(eq.Line("x_i − m_i"), eq.Line("u_i"))), eq.Line("2")))), eq.Line("'_so_that_'"), eq.Line("f_k ( x ) = 0"))),
		where: []sign{{"m_i", "are the readings, " + what}, {"u_i", "their standard uncertainties"}, {"x_i", "the adjusted values"}, {"f_k", "the balances of mass and of each component"}},
		from:  "after @knepper1980 and @crowe1986 (from memory)"}
}

func (b *builder) dressingMethod() method {
	used := b.dressings[0]
	m := method{head: "Dressing", text: "Weights and assays of each circuit are adjusted by weighted least squares until mass and components balance round every stage (successive linearisation, unmeasured quantities projected out), the whole set judged by χ² and single readings by their standardised adjustment (@mah1982), at 5 % over all readings after Šidák. What one stage made has the grade of what a later one was fed with; it has its weight too where the two agree. Figures carry first-order uncertainties from the reconciled values with their covariance (@jcgm100, 5.2). Recovery by assays alone is the two-product formula."}
	m.text += fmt.Sprintf(" Copper mineral: %s.", used.mineral.Name)
	if used.added {
		m.text += " Errors of splitting are added to the uncertainties of the copper assays."
	}
	if used.sizes {
		m.text += " The sizes of products share the product's reconciled copper as their own weights and assays do."
	}
	m.formulas = []formula{leastSquares("kg and wt%"),
		{lines: lines(eq.Row(eq.Line("Y ="), eq.Frac(eq.Line("f − t"), eq.Line("c − t")), eq.Line("; R ="), eq.Frac(eq.Line("c ( f − t )"), eq.Line("f ( c − t )")), eq.Line("; E = Y"), eq.Frac(eq.Line("m ( c − f )"), eq.Line("( m − f ) f")))),
			where: []sign{{"Y", "is the yield by assays alone"}, {"R", "the recovery by assays alone"}, {"E", "the separation efficiency"}, {"f , c , t", "the copper of feed, concentrate and tailings, wt%"}, {"m", fmt.Sprintf("that of %s, %.3g wt%%", used.mineral.Name, used.mineral.Copper)}},
			from:  "two-product formula; efficiency after @schulz1970"},
		{lines: lines(eq.Row(eq.Line("s^2 ="), eq.Frac(eq.Line("f g l m d^3"), eq.Line("M")), eq.Line("; m ="), eq.Frac(eq.Line("1 − a"), eq.Line("a")), eq.Line("( ( 1 − a ) ρ + a γ ) ; l = min"), eq.Paren(eq.Row(eq.Sqrt(eq.Line("L / d")), eq.Line(", 1"))))),
			where: []sign{{"s", "is the relative standard deviation that splitting gives the grade"}, {"f", fmt.Sprintf("the shape, %g", used.sampling.Shape)}, {"g", fmt.Sprintf("the range of sizes, %g", used.sampling.Range)}, {"l", "the liberation"}, {"m", "the mineral factor, g/cm³"}, {"a", "the share of the mineral"}, {"ρ , γ", fmt.Sprintf("the densities of mineral and gangue, %g and %g g/cm³", used.mineral.Density, used.sampling.Gangue)}, {"L", fmt.Sprintf("the size below which grains are free, %g mm", used.sampling.Liberation)}, {"d", "the top size, cm"}, {"M", "the mass split out, g"}},
			from:  "after @gy1979, as taught"}}
	return m
}

// chargeMethod is the stoichiometry by which a charge is foretold.
func (b *builder) chargeMethod() method {
	how := balance.Usual()
	m := method{head: "Charge and its products", text: fmt.Sprintf("What a charge should give is stoichiometry: what ignition drives off and the metals that leave with the gas are gone; sulphur beyond that of the slag binds copper as Cu₂S, then iron as FeS; the slag takes the copper it holds, the metal the rest; other iron goes to the slag as FeO. It holds for a charge that melts through and parts. Its uncertainty is by Monte Carlo (@jcgm101), %d draws, seed %d.", b.study.Conditions.Draws, b.study.Conditions.Seed)}
	if u := b.richUsed(); u != nil {
		m.text += fmt.Sprintf(" Yield against grade is the same with ore, flux, ash and wall; between grades the share of %s changes and the gangue does not. Heat of slag from fayalite, of reactions and copper from handbook values (@robie1995; from memory), ± 10 %%.", u.mineral.Name)
	}
	what := []sign{{"m_k", "is the weight of material k charged, kg"}, {"w_jk", "its content of j, wt%"}, {"S", "the slag, kg: all oxides, iron as FeO, and the copper and sulphur it holds"}, {"c", "the copper of the slag"}}
	if b.balances.forecast {
		what[3].means += ", " + how.CopperInSlag.WithUnit() + " (" + how.CopperInSlag.UNote + "), its sulphur " + how.SlagSulphur.WithUnit()
	} else {
		what[3].means += ", wt%, as the entry states it"
	}
	m.formulas = []formula{{lines: lines(
		eq.Row(eq.Line("S ="), eq.Sum(eq.Line("k"), eq.Row(eq.Line("m_k"), eq.Sum(eq.Line("'oxides_j'"), eq.Frac(eq.Line("w_jk"), eq.Line("100"))))), eq.Line("+"), eq.Frac(eq.Line("c S"), eq.Line("100")), eq.Line("+ …")),
		eq.Row(eq.Line("'metal' ="), eq.Sum(eq.Line("k"), eq.Row(eq.Line("m_k"), eq.Frac(eq.Line("w_Cu,k"), eq.Line("100")))), eq.Line("−"), eq.Frac(eq.Line("c S"), eq.Line("100")), eq.Line("− 'copper_of_the_matte' + 'iron_reduced'"))),
		where: what, from: "balance of mass"}}
	return m
}
