package wetlab

var weighed = need{"precipitate, or the crucible empty and after", [][]Key{{Precipitate}, {Tare, After}}}

// net returns the mass of what was weighed less the blank, in g.
func (v values) net() float64 {
	if v.has(Precipitate) {
		return v[Precipitate] - v[BlankMass]
	}
	return v[After] - v[Tare] - v[BlankMass]
}

var weighedBlank = []pair{{BlankMass, Precipitate}, {Tare, After}}

// gravimetry: the analyte, or a compound of it, is weighed.
var gravimetry = []*Method{
	{
		ID: "silica HF", spellings: []string{"gravimetric silica", "silica with HF", "SiO2 gravimetric", "silica"},
		Name: "silica weighed before and after hydrofluoric acid", Analytes: []string{"SiO2", "Si"}, base: "SiO2", Repeatability: 0.2,
		Formula: "SiO₂ = 100·[(before − after) − blank + in solution]/m; in solution is what photometry finds in the filtrate", Source: "loss of SiF₄; ISO 21587 (subject from memory), Vogel",
		Caution: cautionHF, needs: []need{one(Before), one(After)}, takes: []Key{BlankMass, InSolution},
		above: []pair{{After, Before}, {BlankMass, Before}},
		value: func(v values) float64 {
			return 100 * (v[Before] - v[After] - v[BlankMass] + v[InSolution]) / v[SampleMass]
		},
		culprits: []culprit{{of: "F", over: 0.1, how: "fluorine of the sample takes silica away as SiF₄ in the first acid, so silica comes out low"}},
	},
	{
		ID: "barium sulphate", spellings: []string{"BaSO4", "barium sulfate", "sulphur as BaSO4", "sulfur as BaSO4", "S gravimetric"},
		Name: "sulphur weighed as barium sulphate", Analytes: []string{"S", "SO3"}, base: "S", Repeatability: 1,
		Formula: "S = 100·0.13737·(precipitate − blank)/m", Source: "gravimetric factor S/BaSO₄ from atomic weights; sulphide is oxidised first",
		Caution: cautionBarium, needs: []need{weighed}, takes: []Key{BlankMass, Flask, Aliquot, Dilution}, above: weighedBlank,
		value: func(v values) float64 {
			return 100 * mass("S") / mass("BaSO4") * v.net() * v.diluted() / v[SampleMass]
		},
		culprits: []culprit{
			{of: "Ba", over: 0.1, per: -mass("S") / mass("Ba"), most: true, how: "barium of the sample keeps sulphate in the residue, so sulphur comes out low"},
			{of: "Pb", over: 0.1, per: -mass("S") / mass("Pb"), most: true, how: "lead keeps sulphate in the residue, so sulphur comes out low"},
			{of: "Ca", over: 5, how: "calcium goes down with barium sulphate and spoils it"},
			{of: "Fe", over: 1, how: "ferric iron goes down with barium sulphate and spoils it unless it was reduced or separated"},
		},
	},
	{
		ID: "electrogravimetry", spellings: []string{"electrolysis", "copper by electrolysis", "electrogravimetric copper", "electrolytic copper"},
		Name: "copper weighed on a platinum cathode", Analytes: []string{"Cu", "CuO"}, base: "Cu", Repeatability: 0.1,
		Formula: "Cu = 100·(gain of the cathode + in solution + in residue − co-deposited − blank)·D/m", Source: "ISO 10469; Vogel, electrogravimetry",
		Scope: &Scope{"ISO 10469 (copper sulphide concentrates)", "Cu", 15, 50}, Caution: cautionNitric,
		needs: []need{{"gain of the cathode, or the cathode before and after", [][]Key{{Precipitate}, {Tare, After}}}}, takes: []Key{BlankMass, InSolution, InResidue, Codeposited, Flask, Aliquot, Dilution}, above: weighedBlank,
		value: func(v values) float64 {
			return 100 * (v.net() + v[InSolution] + v[InResidue] - v[Codeposited]) * v.diluted() / v[SampleMass]
		},
		culprits: []culprit{
			{of: "Ag", over: 0.005, per: 1, unless: Codeposited, how: "silver is deposited with copper"},
			{of: "Bi", over: 0.005, per: 1, unless: Codeposited, how: "bismuth is deposited with copper"},
			{of: "Sb", over: 0.005, per: 1, unless: Codeposited, how: "antimony is deposited with copper"},
			{of: "As", over: 0.1, per: 1, most: true, unless: Codeposited, how: "arsenic may be deposited with copper"},
		},
	},
	{
		ID: "ferric oxide", spellings: []string{"gravimetric iron", "iron as Fe2O3", "iron as hydroxide"},
		Name: "iron weighed as ferric oxide", Analytes: ironForms, base: "Fe", Repeatability: 0.3,
		Formula: "Fe = 100·0.69943·(precipitate − blank)·D/m", Source: "gravimetric factor 2 Fe/Fe₂O₃ from atomic weights; Vogel",
		Caution: cautionFurnace, needs: []need{weighed}, takes: []Key{BlankMass, Flask, Aliquot, Dilution}, above: weighedBlank,
		value: func(v values) float64 {
			return 100 * 2 * mass("Fe") / mass("Fe2O3") * v.net() * v.diluted() / v[SampleMass]
		},
		culprits: []culprit{
			{of: "Al", over: 0.1, per: mass("Al2O3") / 2 / mass("Al") * 0.69943, most: true, how: "alumina goes down with iron hydroxide"},
			{of: "Ti", over: 0.1, per: mass("TiO2") / mass("Ti") * 0.69943, most: true, how: "titania goes down with iron hydroxide"},
			{of: "P", over: 0.1, per: mass("P2O5") / 2 / mass("P") * 0.69943, most: true, how: "phosphate goes down with iron hydroxide"},
		},
	},
	{
		ID: "ignition", spellings: []string{"LOI", "loss on ignition", "ignition loss"},
		Name: "loss on ignition", Analytes: []string{"LOI"}, base: "LOI", Repeatability: 0,
		Formula: "LOI = 100·(before − after)/m; a gain is negative. m is before − empty where no sample mass is given", Source: "common practice; state temperature and atmosphere",
		Caution: cautionFurnace, needs: []need{one(Before), one(After), {"sample mass, or the crucible empty", [][]Key{{SampleMass}, {Tare}}}}, takes: []Key{Tare},
		value: func(v values) float64 { return 100 * (v[Before] - v[After]) / v.ignited() },
		culprits: []culprit{{of: "FeO", over: 2, per: -0.11135, most: true,
			how: "ferrous iron takes up oxygen in the furnace, so the loss comes out low"}},
	},
	{
		ID: "drying", spellings: []string{"moisture", "H2O-", "loss on drying"},
		Name: "moisture lost at 105 °C", Analytes: []string{"H2O-"}, base: "H2O-", Repeatability: 0,
		Formula: "H₂O⁻ = 100·(before − after)/m; m is before − empty where no sample mass is given", Source: "common practice",
		needs: []need{one(Before), one(After), {"sample mass, or the crucible empty", [][]Key{{SampleMass}, {Tare}}}}, takes: []Key{Tare}, above: []pair{{After, Before}},
		value: func(v values) float64 { return 100 * (v[Before] - v[After]) / v.ignited() },
	},
}

// ignited returns the mass of sample in a crucible.
func (v values) ignited() float64 {
	if v.has(SampleMass) {
		return v[SampleMass]
	}
	return v[Before] - v[Tare]
}
