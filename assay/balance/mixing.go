package balance

import (
	"fmt"
	"slices"

	"smeltbook/assay/chem"
)

// notMixed are the parts of an analysis that no slag keeps in proportion:
// copper, which is won from it, and sulphur. Volatiles go with the basis.
var notMixed = []string{"CuO", "Cu2O", "Cu", "Cu_ox", "Cu_sulf", "S", "SO3"}

// MixingBasis brings an analysis to the basis on which slag, ore, flux, clay and
// ash can be compared: oxides without copper, sulphur and volatiles, all iron as
// FeO, summing to 100 wt%.
func MixingBasis(c chem.Composition) (chem.Composition, error) {
	out, err := c.Without(notMixed...).AsOxides(chem.AsFeO).On(chem.Normalised)
	if err != nil {
		return chem.Composition{}, fmt.Errorf("nothing is left of the analysis without copper and volatiles")
	}
	return out, nil
}

// End is a material that a slag may be mixed of.
type End struct {
	Name        string
	Kind        string           // "ore", "flux", "lining", "ash", "sand"
	Composition chem.Composition // as the laboratory gave it
}

// Sand returns quartz sand as an end: silica alone.
func Sand() (End, error) {
	c, err := chem.ParseComposition("SiO2=100")
	return End{Name: "quartz sand", Kind: "sand", Composition: c}, err
}

// Tracers is a choice of oxides by which a slag is unmixed.
type Tracers struct {
	Name   string
	Oxides []string
	Why    string
}

// Choices returns the usual choices of tracers out of the oxides that a slag
// and all its ends have. Every one leaves out oxides for a reason; where the
// choices disagree the sources are not what they were taken for, or something
// left or came that is in none of them (common practice).
func Choices(oxides []string) []Tracers {
	all := []Tracers{
		{"all oxides", oxides, "everything analysed in slag and sources alike"},
		{"without alkalis and phosphorus", without(oxides, "K2O", "Na2O", "P2O5"), "alkalis leave in part with the gas, phosphorus into the metal"},
		{"without iron", without(oxides, "FeO"), "iron may have gone into the metal or the matte"},
		{"refractory oxides", only(oxides, "SiO2", "Al2O3", "TiO2", "CaO", "MgO"), "neither reduced nor driven off at the heat of a copper furnace"},
	}
	var out []Tracers
	for _, t := range all {
		if len(t.Oxides) > 0 && !slices.ContainsFunc(out, func(o Tracers) bool { return slices.Equal(o.Oxides, t.Oxides) }) {
			out = append(out, t)
		}
	}
	return out
}

func without(ids []string, drop ...string) []string {
	return slices.DeleteFunc(slices.Clone(ids), func(id string) bool { return slices.Contains(drop, id) })
}

func only(ids []string, keep ...string) []string {
	return slices.DeleteFunc(slices.Clone(ids), func(id string) bool { return !slices.Contains(keep, id) })
}

// CommonOxides returns the oxides known, or below a limit, of the slag and of
// every end. Sand counts as holding none of what it does not state.
func CommonOxides(slag chem.Composition, ends []End) []string {
	var out []string
	for _, id := range slagOxidesAndIron() {
		if q, ok := slag.AsOxides(chem.AsFeO).Get(id); !ok || !q.Known() {
			continue
		}
		if !slices.ContainsFunc(ends, func(e End) bool { return e.Kind != "sand" && !e.says(id) }) {
			out = append(out, id)
		}
	}
	return out
}

func slagOxidesAndIron() []string { return append([]string{"FeO"}, slagOxides[:]...) }

func (e End) says(id string) bool {
	q, ok := e.Composition.AsOxides(chem.AsFeO).Get(id)
	return ok && (q.Known() || q.Class.Censored())
}
