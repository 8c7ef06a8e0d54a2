package melt

import (
	"math"
	"testing"

	"smeltbook/phase/slag"
)

// TestDiluteSlopes: a trace of an oxide that the solid does not take up lowers
// the liquidus of a pure compound by R·Tm²/ΔH for each mole of its cations to a
// mole of formula (Raoult and van 't Hoff; any text of physical chemistry),
// whatever the energies of the liquid. The slope at nothing is extrapolated
// from two small amounts.
func TestDiluteSlopes(t *testing.T) {
	m := testModel(t)
	checked := 0
	for _, c := range []struct {
		member string
		solute []slag.Oxide
	}{
		{"FeO", []slag.Oxide{slag.SiO2, slag.Al2O3, slag.K2O}},
		{"Fa", []slag.Oxide{slag.Al2O3, slag.K2O}},
		{"Fo", []slag.Oxide{slag.Al2O3, slag.K2O}},
		{"Te", []slag.Oxide{slag.Al2O3, slag.K2O}},
		{"C2S", []slag.Oxide{slag.FeO, slag.Al2O3, slag.MgO, slag.MnO, slag.K2O}},
		{"Pwo", []slag.Oxide{slag.FeO, slag.Al2O3, slag.MgO, slag.MnO, slag.K2O}},
		{"Lim", []slag.Oxide{slag.FeO, slag.SiO2, slag.Al2O3, slag.MgO}},
		{"An", []slag.Oxide{slag.FeO, slag.MgO, slag.MnO, slag.K2O}},
		{"Cor", []slag.Oxide{slag.FeO, slag.SiO2, slag.CaO, slag.MgO}},
		{"Lc", []slag.Oxide{slag.FeO, slag.CaO, slag.MgO}},
	} {
		pure := formulaMelt(t, m, map[string]float64{c.member: 100})
		var e *endMember
		for i := range m.members {
			if m.members[i].name == c.member {
				e = &m.members[i]
			}
		}
		var formulae float64 // in 100 g
		for _, o := range modelled {
			if n := e.cations[o.cation]; n > 0 && pure[o.oxide] > 0 {
				formulae = pure[o.oxide] * o.cations / o.oxide.Mass() / n
			}
		}
		for _, solute := range c.solute {
			var cations float64
			for _, o := range modelled {
				if o.oxide == solute {
					cations = o.cations
				}
			}
			slope := func(n float64) float64 {
				w := pure
				w[solute] += n * formulae / cations * solute.Mass()
				var s search
				o, err := m.onset(&s, &w)
				if err != nil {
					t.Fatal(err)
				}
				return (o.T - e.tm) / n
			}
			// Two extrapolations: from the slope at n, 2n and 4n to nothing.
			const n = 1e-3
			s1, s2, s4 := slope(n), slope(2*n), slope(4*n)
			got := (8*s1 - 6*s2 + s4) / 3
			want := -gasConstant * e.tm * e.tm / e.heat
			checked++
			if math.Abs(got/want-1) > 0.05 {
				t.Errorf("%v in %s: %.1f K per mole to a formula, R·Tm²/ΔH is %.1f (at %g: %.1f, %.1f, %.1f)", solute, c.member, got, want, n, s1, s2, s4)
			}
		}
	}
	if checked < 20 {
		t.Errorf("only %d slopes", checked)
	}
}
