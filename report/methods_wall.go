package report

import (
	"fmt"
	"strings"

	eq "smeltbook/report/equation"
)

func (b *builder) wallMethod() method {
	m := method{head: "Furnace wall", text: "Indices from the analyses as reported, all iron as FeO: fluxes are the sum of CaO, MgO, FeO, MnO, Na₂O, K₂O and BaO (common practice)."}
	if len(b.linings) > 0 || b.asks("schuen_c") {
		m.formulas = append(m.formulas, formula{lines: lines(eq.Row(eq.Line("t ="), eq.Frac(eq.Line("360 + A − R"), eq.Line("0.228")))),
			where: []sign{{"t", "is the temperature at which a cone of fireclay deforms, °C"}, {"A , R", "are Al₂O₃ and the fluxes with TiO₂, wt%, both for Al₂O₃ + SiO₂ = 100"}}, from: "Schuen's formula, from memory"})
	}
	if len(b.linings) > 0 || b.asks("bischof_quotient") {
		m.formulas = append(m.formulas, formula{lines: lines(eq.Row(eq.Line("Q ="), eq.Frac(eq.Line("O_A^2"), eq.Line("O_R O_S")))),
			where: []sign{{"Q", "is the refractory quotient"}, {"O_A , O_R , O_S", "the oxygen in Al₂O₃, in the fluxes and in SiO₂, mol"}}, from: "Bischof's quotient, from memory"})
	}
	var at []string
	clay := false
	for _, l := range b.linings {
		at = append(at, fmt.Sprintf("fired in %s gas, calcareous above %g wt%% CaO", l.atmosphere, l.limit))
		clay = clay || l.clay
	}
	if len(at) > 0 {
		m.text += " Stages of vitrification after @maniatis1981, the table from memory: " + strings.Join(at, "; ") + "."
	}
	if clay {
		m.text += " The clay in a slag is reckoned by each tracer, the analyses taken as independent and the ends at twice the standard uncertainty; the rest is the charge of the firing by weight where the field sheet and the laboratory have ore and flux, else the ore alone, without copper and volatiles."
		m.formulas = append(m.formulas, formula{lines: lines(eq.Row(eq.Line("x ="), eq.Frac(eq.Line("t_s − t_r"), eq.Line("t_c − t_r")))),
			where: []sign{{"x", "is the share of clay in the slag"}, {"t_s , t_r , t_c", "the tracer, Al₂O₃ or TiO₂, in slag, rest and clay, wt% on one basis"}}, from: "balance of mass with two sources"})
	}
	return m
}

func (b *builder) fragmentsMethod() method {
	u := b.fragments[0]
	m := method{head: "Furnace from fragments", text: "Diameters by chord and sagitta, by rim template, or by a circle of least distances to points of the edge (algebraic start after @kasa1976, points far off weighted down after @huber1964). All are pooled as curvatures, whose errors are nearly normal, with a scatter between fragments that they show themselves (@dersimonian1986; limits after @hartung2001), and turned back: hence the limits of different length. Limits of points come from the profile of the likelihood over the curvature, a straight edge among them. An ellipse is asked only of eight points or more over a quarter of the ring, by least distances, against the circle by F. A round plan is an assumption that fails for hand-made vessels (@rodriguez2013)."}
	m.formulas = append(m.formulas, formula{lines: lines(eq.Row(eq.Line("k ="), eq.Frac(eq.Line("8 s"), eq.Line("c^2 + 4 s^2")), eq.Line("; D ="), eq.Frac(eq.Line("2"), eq.Line("k")), eq.Line("="), eq.Frac(eq.Line("c^2"), eq.Line("4 s")), eq.Line("+ s"))),
		where: []sign{{"k", "is the curvature, 1/mm"}, {"c", "the chord, mm"}, {"s", "the sagitta, mm"}, {"D", "the inside diameter, mm"}}, from: "geometry of the circle"})
	if u.layers {
		m.text += " Heat in the wall is that of a face brought to its temperature at once before a body without other side; borders with their bands are fitted by a search over temperature and reach, limits where χ² rises by 3.84."
		m.formulas = append(m.formulas, formula{lines: lines(eq.Row(eq.Line("T = T_0 + ( T_f − T_0 ) erfc"), eq.Paren(eq.Frac(eq.Line("x"), eq.Row(eq.Line("2"), eq.Sqrt(eq.Line("κ t"))))))),
			where: []sign{{"T", "is the temperature, °C"}, {"x", "the depth, mm"}, {"T_0", fmt.Sprintf("that of the ground, %g °C", u.assumed.GroundTC)}, {"T_f", "that of the hot face, °C"}, {"κ", fmt.Sprintf("the diffusivity of fired clay, %g to %g mm²/s", u.assumed.Diffusivity[0], u.assumed.Diffusivity[1])}, {"t", "the time, s"}},
			from:  "after @carslaw1959, 2.4"})
	}
	return m
}
