package melt

import (
	"math"
	"strings"
	"testing"

	"smeltbook/assay/source/checkdata"
)

// TestEnergiesOfFormation compares the Gibbs energies by which the compounds
// form from their oxides with measured ones (testdata/liquidus/formation.csv),
// to which nothing was fitted: a liquidus tells how the energy of the melt
// changes along the diagram, and little of its height. The uncertainty of each
// is that of the tables together with that of the oxides as undercooled
// liquids, 5 kJ for lime and periclase, 3 for corundum, 2 for manganosite, far
// below their melting points (own estimate).
//
// Where magnesium and manganese silicates are known to be off, as README.md
// says, the error is held to what is said there.
func TestEnergiesOfFormation(t *testing.T) {
	m := testModel(t)
	undercooled := map[string]float64{"Lim": 5, "MgO": 5, "Cor": 3, "MnO": 2, "Zin": 5}
	known := map[string]float64{"Fo": -26, "En": -12.4, "Te": -35, "Rho": -18} // kJ, as in README.md
	rows := checkdata.Table(t, "liquidus/formation.csv")
	if len(rows) != 18 {
		t.Fatalf("%d energies, want 18", len(rows))
	}
	for _, r := range rows {
		T := checkdata.Number(t, r["T_C"]) + celsius
		want := checkdata.Number(t, r["dH_kJ"]) - T*checkdata.Number(t, r["dS_J_K"])/1000
		variance := math.Pow(checkdata.Number(t, r["sigma_kJ"]), 2)
		var got float64
		for sign, side := range map[float64]string{1: r["formed"], -1: r["from"]} {
			for _, part := range strings.Split(side, "+") {
				count, name := 1.0, part
				if number, rest, several := strings.Cut(part, " "); several {
					count, name = checkdata.Number(t, number), rest
				}
				got += sign * count * solidEnergy(t, m, name, T) / 1000
				variance += math.Pow(count*undercooled[name], 2)
			}
		}
		off, sigma := got-want, math.Sqrt(variance)
		t.Logf("%s %-8s %7.1f kJ, measured %7.1f ± %.0f", r["id"], r["formed"], got, want, sigma)
		if said, ok := known[r["formed"]]; ok {
			checkdata.Near(t, r["formed"]+": kJ from the measured energy", off, said, 1.5)
		} else if math.Abs(off) > 3*sigma {
			t.Errorf("%s: %s forms with %.1f kJ, measured %.1f ± %.0f", r["id"], r["formed"], got, want, sigma)
		}
	}
}

// solidEnergy returns the energy of a formula of a solid at T less that of its
// oxides as pure liquids, in J.
func solidEnergy(t *testing.T, m *Model, name string, T float64) float64 {
	t.Helper()
	for i := range m.members {
		e := &m.members[i]
		if e.name != name {
			continue
		}
		var mix mixture
		x := e.composition()
		mix.prepare(m.terms, &x)
		return -(e.reference(&mix, T) + e.transitionGain(T)) * gasConstant * T
	}
	t.Fatalf("no solid %s", name)
	return 0
}
