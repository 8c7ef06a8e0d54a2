package wetlab

// complexometry: titrations with EDTA, which binds one atom of metal.
var complexometry = []*Method{
	{
		ID: "EDTA calcium", spellings: []string{"CaO by EDTA", "EDTA CaO", "calcium by EDTA", "EDTA Ca"},
		Name: "calcium by EDTA at pH 12 or more", Analytes: []string{"CaO", "Ca"}, base: "CaO", Repeatability: 0.4,
		Formula: "CaO = 100·c·(V − V0)·10⁻³·56.077·D/m, or with T in mg CaO per mL", Source: "1 : 1 complex; Vogel, complexometric titrations (from memory, sure)",
		needs: []need{one(Volume), strength}, takes: titrationTakes, above: volumeBlank,
		value:    func(v values) float64 { return v.percentOf(v.milligrams(1, mass("CaO"))) },
		culprits: bindsLike("CaO", 1, "Mn", "Fe", "Al", "Cu", "Zn"),
	},
	{
		ID: "EDTA magnesium", spellings: []string{"MgO by EDTA", "EDTA MgO", "magnesium by EDTA", "EDTA Mg"},
		Name: "magnesium by EDTA: the sum at pH 10 less calcium at pH 12", Analytes: []string{"MgO", "Mg"}, base: "MgO", Repeatability: 0.4,
		Formula: "MgO = 100·c·[(V − V0) − (V(Ca) − V0(Ca))]·10⁻³·40.304·D/m; both titrations are in its uncertainty", Source: "1 : 1 complexes; Vogel, complexometric titrations (from memory, sure)",
		needs: []need{one(Volume), one(CalciumVolume), one(Concentration)}, takes: append([]Key{CalciumBlank}, titrationTakes...),
		above: []pair{{Blank, Volume}, {CalciumBlank, CalciumVolume}, {CalciumVolume, Volume}},
		value: func(v values) float64 {
			net := (v[Volume] - v[Blank]) - (v[CalciumVolume] - v[CalciumBlank])
			return v.percentOf(net * v[Concentration] * mass("MgO") * v.diluted())
		},
		culprits: bindsLike("MgO", 1, "Mn", "Fe", "Al", "Cu", "Zn"),
	},
	{
		ID: "EDTA aluminium", spellings: []string{"Al2O3 by EDTA", "EDTA Al2O3", "alumina by EDTA", "Al2O3 back titration", "EDTA back titration"},
		Name: "alumina by EDTA, excess titrated back with zinc at pH 5.5", Analytes: []string{"Al2O3", "Al"}, base: "Al2O3", Repeatability: 0.5,
		Formula: "n(Al) = c(EDTA)·V − c(Zn)·V(Zn) − n(other metals bound), mmol in the aliquot; Al₂O₃ = 100·n·10⁻³·101.961/2·D/m", Source: "1 : 1 complex; Vogel, complexometric titrations (from memory, sure)",
		needs: []need{one(Volume), one(Concentration), one(BackVolume), one(BackStrength)}, takes: []Key{Bound, Flask, Aliquot, Dilution},
		value: func(v values) float64 {
			n := v[Concentration]*v[Volume] - v[BackStrength]*v[BackVolume] - v[Bound]
			return v.percentOf(n * mass("Al2O3") / 2 * v.diluted())
		},
		culprits: unlessBound(bindsLike("Al2O3", 2, "Fe", "Ti", "Mn", "Cu", "Zn")),
	},
	{
		ID: "EDTA fluoride", spellings: []string{"Al2O3 by fluoride release", "fluoride release", "EDTA fluoride release"},
		Name: "alumina by the EDTA that fluoride sets free, titrated with zinc", Analytes: []string{"Al2O3", "Al"}, base: "Al2O3", Repeatability: 0.5,
		Formula: "n(Al) = c(Zn)·(V(Zn) − V0) − n(titanium), mmol in the aliquot; Al₂O₃ = 100·n·10⁻³·101.961/2·D/m", Source: "only metals with firm fluoride complexes are set free; Vogel, complexometric titrations (from memory, sure)",
		Caution: cautionHF, needs: []need{one(Volume), one(Concentration)}, takes: append([]Key{Bound}, titrationTakes...), above: volumeBlank,
		value: func(v values) float64 {
			n := v[Concentration]*(v[Volume]-v[Blank]) - v[Bound]
			return v.percentOf(n * mass("Al2O3") / 2 * v.diluted())
		},
		culprits: unlessBound(bindsLike("Al2O3", 2, "Ti")),
	},
}

// bindsLike are metals that EDTA binds with the analyte, atoms of which are in
// its formula.
func bindsLike(formula string, atoms float64, metals ...string) []culprit {
	var out []culprit
	for _, m := range metals {
		out = append(out, culprit{of: m, over: 0.1, per: mass(formula) / atoms / mass(m), most: true,
			how: "EDTA binds it with the analyte unless it was separated or masked"})
	}
	return out
}

// unlessBound silences culprits where the sheet gives the other metals bound.
func unlessBound(cs []culprit) []culprit {
	for i := range cs {
		cs[i].unless = Bound
	}
	return cs
}
