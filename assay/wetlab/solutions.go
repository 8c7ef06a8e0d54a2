package wetlab

var inSolution = need{"reading, or a signal with slope and intercept, or with a calibration", [][]Key{{Solution}, {Signal, Slope, Intercept}}}

// concentration returns what the measured solution holds, in mg/L.
func (v values) concentration() float64 {
	c := v[Solution]
	if !v.has(Solution) {
		c = (v[Signal] - v[Intercept]) / v[Slope]
	}
	return c - v[SolutionBlank]
}

// later returns the dilution made after the first flask.
func (v values) later() float64 {
	switch {
	case v.has(Dilution):
		return v[Dilution]
	case v.has(MadeUpTo) && v.has(Aliquot):
		return v[MadeUpTo] / v[Aliquot]
	}
	return 1
}

// dissolved returns wt% from mg/L in the measured solution.
func (v values) dissolved() float64 {
	return v.percentOf(v.concentration() * v[Flask] / 1000 * v.later())
}

var solutionTakes = []Key{SolutionBlank, Aliquot, MadeUpTo, Dilution}

// solutions: the content of a solution is read from an instrument.
var solutions = []*Method{
	{
		ID: "phosphorus blue", spellings: []string{"molybdenum blue", "P by molybdenum blue", "phosphorus photometry", "P photometry"},
		Name: "phosphorus by molybdenum blue", Analytes: []string{"P", "P2O5"}, base: "P", Repeatability: 1,
		Formula: "A = a + b·c; P = (A − a)/b·flask·D/(m·10⁴), D = made up to/aliquot", Source: "law of Beer; Vogel, photometry",
		needs: []need{inSolution, one(Flask)}, takes: solutionTakes, above: []pair{{SolutionBlank, Solution}, {Intercept, Signal}},
		value: values.dissolved,
		culprits: []culprit{
			{of: "As", over: 0.01, per: 0.4134, how: "arsenic(V) gives the same blue unless it was reduced or driven off (factor from atomic weights)"},
			{of: "SiO2", over: 50, how: "dissolved silica gives the same blue where the acid is too weak"},
		},
	},
	{
		ID: "AAS", spellings: []string{"atomic absorption", "flame AAS", "flame"},
		Name: "atomic absorption", Repeatability: 1,
		Formula: "w = (c − c0)·flask·D/m, D = made up to/aliquot; mg/L, mL and g give mg/kg", Source: "common practice; a digestion without fusion or four acids leaves silicate and spinel behind",
		Caution: cautionDigest, needs: []need{inSolution, one(Flask)}, takes: solutionTakes, above: []pair{{SolutionBlank, Solution}, {Intercept, Signal}}, value: values.dissolved,
	},
	{
		ID: "ICP", spellings: []string{"ICP-OES", "ICP-AES", "ICP-MS"},
		Name: "inductively coupled plasma", Repeatability: 1,
		Formula: "w = (c − c0)·flask·D/m, D = made up to/aliquot; mg/L, mL and g give mg/kg", Source: "common practice; a digestion without fusion or four acids leaves silicate and spinel behind",
		Caution: cautionDigest, needs: []need{inSolution, one(Flask)}, takes: solutionTakes, above: []pair{{SolutionBlank, Solution}, {Intercept, Signal}}, value: values.dissolved,
	},
	{
		ID: standardAddition, spellings: []string{"AAS standard addition", "additions"},
		Name: "standard addition to portions of the solution", Repeatability: 0,
		Formula: "x0 = a/b of signal = a + b·added volume; c = x0·standard/aliquot; w = c·flask·D/m", Source: "Miller & Miller, s(x0) without the extra 1 under the root (IUPAC note; from memory, sure)",
		Caution: cautionDigest, needs: []need{one(Solution), one(Flask)}, takes: []Key{SolutionBlank, Dilution}, above: []pair{{SolutionBlank, Solution}}, value: values.dissolved,
	},
}

// Rows of a sheet that are no determinations by themselves.
const (
	standardAddition    = "standard addition"
	calibrationStandard = "calibration standard"
	standardisation     = "standardisation"
)
