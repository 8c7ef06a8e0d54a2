package wetlab

// What acids and salts do to people, by method. Common practice; it stands
// beside local rules and never in their place.
const (
	cautionHF       = "Hydrofluoric acid goes through skin without pain and can kill hours later: only trained people, in a hood made for it, with calcium gluconate gel at hand and never alone. Fluorides in acid give the same acid."
	cautionChromate = "Dichromate is a poison and causes cancer; collect the waste. Old recipes use mercury(II) chloride: prefer one without."
	cautionIodide   = "Fluoride added to mask iron gives hydrofluoric acid in the acid solution; nitric acid on sulphides gives poisonous brown fumes. Work in a hood."
	cautionNitric   = "Nitric acid on metal and sulphide gives poisonous brown fumes. Work in a hood."
	cautionBarium   = "Soluble barium salts are poisonous; oxidising fusions spatter."
	cautionDigest   = "Digestion with hydrofluoric or perchloric acid is for trained people with the hood and the gel made for it: the one burns deep and late, the other explodes with organic matter."
	cautionFurnace  = "Crucibles at 1000 °C, and fumes of sulphur, arsenic and carbon monoxide from the sample: furnace under a hood."
)

var strength = need{"concentration or titre of the titrant", [][]Key{{Concentration}, {Titre}}}

// milligrams returns what the titrant found in the whole flask: moles of the
// analyte for one of the titrant times its molar mass, or with a titre the mg
// that one mL stands for.
func (v values) milligrams(perMole, molar float64) float64 {
	net := v[Volume] - v[Blank]
	if v.has(Titre) {
		return net * v[Titre] / 1000 * v.diluted() // mg/L in mg/mL
	}
	return net * v[Concentration] * perMole * molar * v.diluted()
}

var (
	titrationTakes = []Key{Blank, Flask, Aliquot, Dilution}
	volumeBlank    = []pair{{Blank, Volume}}
	ironForms      = []string{"Fe", "FeOT", "Fe2O3T"}
)

// titrations with electrons. The chemistry of each is in every handbook of the
// trade: Vogel's Textbook of Quantitative Chemical Analysis; equivalents from
// atomic weights.
var titrations = []*Method{
	{
		ID: "dichromate", spellings: []string{"iron by dichromate", "total iron dichromate", "dichromate titration", "Fe dichromate"},
		Name: "total iron by dichromate titration", Analytes: ironForms, base: "Fe", Repeatability: 0.3,
		Formula: "Fe = 100·6·c·(V − V0)·10⁻³·55.845·D/m, or with T in mg Fe per mL",
		Source:  "6 Fe(II) for one dichromate; Vogel, redox titrations (from memory, sure)",
		Scope:   &Scope{"ISO 2597-1 and 2597-2 (iron ores)", "Fe", 30, 72}, Caution: cautionChromate,
		needs: []need{one(Volume), strength}, takes: titrationTakes, above: volumeBlank,
		value: func(v values) float64 { return v.percentOf(v.milligrams(6, mass("Fe"))) },
		culprits: []culprit{
			{of: "Cu", over: 0.05, per: 0.8788, how: "tin(II) chloride takes copper to copper(I), which is titrated as iron; separate copper first (Talbot, Introductory Course of Quantitative Chemical Analysis; factor from atomic weights)"},
			{of: "Sb", over: 0.05, how: "antimony is reduced and titrated with iron (Talbot)"},
		},
	},
	{
		ID: "permanganate", spellings: []string{"iron by permanganate", "permanganate titration", "Fe permanganate"},
		Name: "total iron by permanganate titration", Analytes: ironForms, base: "Fe", Repeatability: 0.3,
		Formula: "Fe = 100·[5·c·(V − V0)·10⁻³·55.845 − back]·D/m, or with T in mg Fe per mL; back = back volume · back titre (mg Fe per mL) or · back concentration of Fe(II) · 55.845",
		Source:  "5 Fe(II) for one permanganate; Vogel, redox titrations (from memory, sure)",
		Caution: cautionChromate, needs: []need{one(Volume), strength},
		takes: append([]Key{BackVolume, BackTitre, BackStrength}, titrationTakes...), above: volumeBlank,
		value: func(v values) float64 {
			back := v[BackVolume] * v[BackTitre] / 1000
			if !v.has(BackTitre) {
				back = v[BackVolume] * v[BackStrength] * mass("Fe")
			}
			return v.percentOf(v.milligrams(5, mass("Fe")) - back*v.diluted())
		},
		culprits: []culprit{{of: "Cu", over: 0.05, per: 0.8788, how: "after reduction with tin(II) chloride copper is titrated as iron; separate copper first"}},
	},
	{
		ID: "Pratt", spellings: []string{"FeO by Pratt", "Pratt titration", "FeO Pratt", "FeO titration", "ferrous iron by Pratt"},
		Name: "ferrous iron after Pratt", Analytes: []string{"FeO"}, base: "FeO", Repeatability: 0.4,
		Formula: "FeO = 100·6·c·(V − V0)·10⁻³·71.844·D/m, or with T in mg FeO per mL",
		Source:  "attack with sulphuric and hydrofluoric acid, air kept out, then dichromate; found the most reliable of three by Saikkonen & Rautiainen 1993, Bulletin of the Geological Society of Finland 65:59",
		Scope:   &Scope{"ISO 9035 (acid-soluble iron(II) in iron ores; at most 0.3 % sulphide sulphur, 5 % free carbon, traces of metal)", "FeO", 1.286, 32.16}, Caution: cautionHF,
		needs: []need{one(Volume), strength}, takes: titrationTakes, above: volumeBlank,
		value:    func(v values) float64 { return v.percentOf(v.milligrams(6, mass("FeO"))) },
		culprits: reductants(1.286),
	},
	{
		ID: "Wilson", spellings: []string{"FeO by Wilson", "Wilson titration", "FeO Wilson", "vanadate", "ferrous iron by Wilson"},
		Name: "ferrous iron after Wilson", Analytes: []string{"FeO"}, base: "FeO", Repeatability: 0.4,
		Formula: "FeO = 100·c·(V0 − V)·10⁻³·71.844·D/m with c of the ferrous solution, V0 for the vanadate alone and V beside the sample",
		Source:  "excess vanadate and cold hydrofluoric acid, as described by K. Hollocher, Union College; stoichiometry",
		Caution: cautionHF, needs: []need{one(Volume), one(Blank), one(Concentration)}, takes: []Key{Flask, Aliquot, Dilution}, above: []pair{{Volume, Blank}},
		value: func(v values) float64 {
			return v.percentOf((v[Blank] - v[Volume]) * v[Concentration] * mass("FeO") * v.diluted())
		},
		culprits: reductants(3.859),
	},
	{
		ID: "iodide", spellings: []string{"copper by iodide", "short iodide", "iodometric", "iodometry", "Cu iodide", "thiosulphate", "thiosulfate"},
		Name: "copper by iodide and thiosulphate", Analytes: []string{"Cu", "CuO"}, base: "Cu", Repeatability: 0.3,
		Formula: "Cu = 100·c·(V − V0)·10⁻³·63.546·D/m, or with T in mg Cu per mL",
		Source:  "2 Cu(II) + 4 I⁻ → 2 CuI + I₂, I₂ + 2 S₂O₃²⁻; Vogel, iodometry; Beringer, Text-book of Assaying",
		Scope:   &Scope{"ISO 10258 (copper sulphide concentrates)", "Cu", 15, 50}, Caution: cautionIodide,
		needs: []need{one(Volume), strength}, takes: titrationTakes, above: volumeBlank,
		value: func(v values) float64 { return v.percentOf(v.milligrams(1, mass("Cu"))) },
		culprits: []culprit{
			{of: "Fe", over: 0.1, per: 1.138, most: true, how: "ferric iron that is not masked with fluoride sets iodine free as copper does (factor from atomic weights)"},
			{of: "As", over: 0.05, how: "arsenic(V) sets iodine free in strong acid; bring the solution to pH 3 to 4 or drive arsenic off with hydrobromic acid (ISO 10258)"},
			{of: "Sb", over: 0.05, how: "antimony(V) sets iodine free; drive it off with hydrobromic acid (ISO 10258)"},
		},
	},
}

// reductants is what counts as ferrous iron beside it; upper bounds from
// stoichiometry.
func reductants(ironMetal float64) []culprit {
	const maximum = "so the FeO is a maximum"
	return []culprit{
		{of: "Fe_met", over: 0.1, per: ironMetal, maximum: true, how: "iron metal is titrated as ferrous iron, " + maximum},
		{of: "Cu", over: 0.5, per: 2.261, most: true, maximum: true, how: "copper metal is titrated as ferrous iron, copper(I) oxide at half that, " + maximum},
		{of: "S", over: 0.5, per: 4.482, most: true, maximum: true, how: "sulphide is titrated as ferrous iron, " + maximum},
	}
}
