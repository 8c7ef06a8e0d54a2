package melt

import (
	"fmt"
	"math"
)

// mixingKind says how the members of a solid share their sites.
type mixingKind int

const (
	pure     mixingKind = iota
	oneSite             // ideal on the one site where the members differ
	twoSite             // ideal on two such sites in a formula
	spinels             // ideal among formulas; named after the greater part
	wustites            // oxides of Fe, Mg, Mn, regular against CaO
	olivines            // two sites, calcium on the second only
)

// mineral is a solid of the model.
type mineral struct {
	phase   Phase
	name    string // what sets it apart from another mineral of the same phase
	mixing  mixingKind
	members []string // end members by their name in the data file
}

var minerals = []mineral{
	{Wustite, "wustite", wustites, []string{"FeO", "MgO", "MnO", "CaOw", "F3w"}},
	{Olivine, "olivine", olivines, []string{"Fa", "Fo", "Te", "Kir", "Mont"}},
	{DicalciumSilicate, "dicalcium silicate", pure, []string{"C2S"}},
	{Rankinite, "rankinite", pure, []string{"Rnk"}},
	{Pseudowollastonite, "pseudowollastonite", pure, []string{"Pwo"}},
	{Wollastonite, "wollastonite", oneSite, []string{"Wo", "FsW"}},
	{Cristobalite, "cristobalite", pure, []string{"Cri"}},
	{Tridymite, "tridymite", pure, []string{"Tri"}},
	{Lime, "lime", pure, []string{"Lim"}},
	{Anorthite, "anorthite", oneSite, []string{"An", "Ab"}},
	{Melilite, "melilite", oneSite, []string{"Geh", "Ak"}},
	{Spinel, "spinel", spinels, []string{"Hc", "Sp", "Mag"}},
	{Magnetite, "magnetite", spinels, []string{"Hc", "Sp", "Mag"}},
	{Mullite, "mullite", pure, []string{"Mul"}},
	{Corundum, "corundum", pure, []string{"Cor"}},
	{Cordierite, "cordierite", twoSite, []string{"Cod", "MgCod"}},
	{Pyroxene, "calcic pyroxene", oneSite, []string{"Di", "Hd"}},
	{Pyroxene, "calcium-free pyroxene", oneSite, []string{"En", "Fs"}},
	{Leucite, "leucite", pure, []string{"Lc"}},
	{KFeldspar, "K-feldspar", pure, []string{"Kf"}},
	{Rhodonite, "rhodonite", pure, []string{"Rho"}},
	{Nepheline, "nepheline", pure, []string{"Ne"}},
	{Willemite, "willemite", pure, []string{"Wil"}},
	{Zincite, "zincite", pure, []string{"Zin"}},
}

// optional names the end members that a parameter file may lack; a mineral
// without any member is left out. Magnetite is the same solid as spinel under
// another name, so whoever adds up solids must leave one of the two out; it is
// there where Fe3O4 is.
var optional = map[string]bool{"F3w": true, "Ab": true, "Mag": true, "MgCod": true, "Ne": true, "Wil": true, "Zin": true}

const (
	maxMembers    = 48
	maxCations    = 3 // kinds of cation in one end member
	maxMinerals   = 28
	maxPerMineral = 5
)

// endMember is one formula, ready for evaluation.
type endMember struct {
	fusion
	cats  int
	which [maxCations]component
	count [maxCations]float64
}

func newEndMember(f fusion) (endMember, error) {
	e := endMember{fusion: f}
	for c, n := range f.cations {
		if n == 0 {
			continue
		}
		if e.cats == maxCations {
			return e, fmt.Errorf("end member %s has more than %d cations", f.name, maxCations)
		}
		e.which[e.cats], e.count[e.cats] = component(c), n
		e.cats++
	}
	if e.cats == 0 || f.tm <= 0 || f.heat <= 0 {
		return e, fmt.Errorf("end member %s is incomplete", f.name)
	}
	return e, nil
}

// composition returns the cation fractions of the end member.
func (e *endMember) composition() (x vector) {
	for i := range e.cats {
		x[e.which[i]] = e.count[i] / e.size()
	}
	return x
}

// activitySum returns Σ f_i ln a_i over the cations of the formula.
func (e *endMember) activitySum(lna *vector) float64 {
	var s float64
	for i := range e.cats {
		s += e.count[i] * lna[e.which[i]]
	}
	return s
}

// size returns the number of cations in a formula.
func (e *endMember) size() (n float64) {
	for i := range e.cats {
		n += e.count[i]
	}
	return n
}

// presentIn reports whether x holds every cation of the end member.
func (e *endMember) presentIn(x *vector) bool {
	for i := range e.cats {
		if x[e.which[i]] <= 0 {
			return false
		}
	}
	return true
}

// lacking is the affinity of an end member whose cations are not all there.
var lacking = math.Inf(-1)

// solid is a mineral with the places of its members in the model's list.
type solid struct {
	mineral
	at      []int
	cations float64 // in a formula, the same for all members
}

// transitionGain returns what A gains from a transition of the solid at T.
func (f *fusion) transitionGain(T float64) float64 {
	if T >= f.transition {
		return 0
	}
	return f.transitionHeat * (1 - T/f.transition) / (gasConstant * T)
}

// supersaturation returns S of the solid from the affinities a of all end
// members at T: S ≥ 0 means that the melt is saturated. For an ideal solution
// S = ln Σ exp(A_e). Where the exact value cannot exceed floor, a bound below
// or equal to floor may be returned instead.
func (s *solid) supersaturation(m *Model, a *[maxMembers]float64, q *[maxMembers]float64, lna *vector, T, floor float64) float64 {
	switch s.mixing {
	case pure:
		return a[s.at[0]] + m.members[s.at[0]].transitionGain(T)
	case oneSite:
		if len(s.at) == 1 {
			return a[s.at[0]]
		}
		x, y := a[s.at[0]], a[s.at[1]]
		if b := math.Max(x, y) + math.Ln2; b <= floor {
			return b
		}
		return logSum2(x, y)
	case twoSite:
		x, y := a[s.at[0]], lacking
		if len(s.at) > 1 {
			y = a[s.at[1]]
		}
		return 2 * logSum2(x/2, y/2)
	case spinels:
		return s.spinel(a)
	case wustites:
		return m.wustite(s, a, T, floor)
	default:
		return m.olivine(s, a, q, lna, T, floor)
	}
}

// spinel returns S of the spinels, ideal among formulas. Beside its greater
// part, by which the solid is named, it goes under the other name with an S
// lower by the logarithm of their ratio, so that both are continuous and the
// greater of the two is S.
func (s *solid) spinel(a *[maxMembers]float64) float64 {
	others, magnetite := logSum2(a[s.at[0]], a[s.at[1]]), lacking
	if len(s.at) > 2 {
		magnetite = a[s.at[2]]
	}
	both := logSum2(others, magnetite)
	if both == lacking {
		return lacking
	}
	if s.phase == Magnetite {
		return both - max(0, others-magnetite)
	}
	return both - max(0, magnetite-others)
}

// logSum2 returns ln(eᵃ + eᵇ).
func logSum2(a, b float64) float64 {
	if a < b {
		a, b = b, a
	}
	if b == lacking {
		return a
	}
	return a + math.Log1p(math.Exp(b-a))
}
