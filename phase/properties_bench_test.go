package phase

import (
	"testing"

	"smeltbook/phase/copper"
	"smeltbook/phase/flow"
	"smeltbook/phase/index"
	"smeltbook/phase/redox"
	"smeltbook/phase/slag"
)

// BenchmarkProperties times all properties of one slag that need neither the
// liquidus nor draws: at most 50 µs are wanted. The anchor is bringing the
// analysis to the melt basis.
func BenchmarkProperties(b *testing.B) {
	c := laos(b)[7]
	m, err := slag.FromComposition(c)
	if err != nil {
		b.Fatal(err)
	}
	exact := slag.FromWt(m.Wt)
	total, _ := copper.TotalCopper(c)
	b.Run("anchor: melt basis", func(b *testing.B) {
		for b.Loop() {
			if _, err := slag.FromComposition(c); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("all properties", func(b *testing.B) {
		for b.Loop() {
			index.Table(exact)
			flow.Compare(m.Wt, 1250)
			s, err := flow.New(m.Wt, flow.Settings{})
			if err != nil {
				b.Fatal(err)
			}
			if _, err := s.TemperatureAt(1); err != nil {
				b.Fatal(err)
			}
			flow.Density(m.Wt, 1250)
			flow.DensityLangeCarmichael(m.Wt, 1250)
			flow.SurfaceTension(m.Wt, 1250)
			if _, err := redox.SplitIron(m.Wt, 1250, -10); err != nil {
				b.Fatal(err)
			}
			bound, err := copper.OxygenFromTotal(1250, total, 1, copper.Fayalitic())
			if err != nil {
				b.Fatal(err)
			}
			if _, err := redox.WindowOf(m.Wt, 1250, redox.Evidence{CopperMetal: redox.Present, IronMetal: redox.Absent, Others: []redox.Bound{bound}}); err != nil {
				b.Fatal(err)
			}
			cond := copper.UnderCopper(1250, -10, -9)
			if _, err := copper.SplitForms(copper.Finds{Total: total, Conditions: &cond}); err != nil {
				b.Fatal(err)
			}
			if _, err := copper.WouldHaveSaved(copper.Situation{Conditions: cond, Slag: s, Entrained: copper.Interval{Lo: 0.2, Hi: 1}, Drop: 1e-4, Depth: 0.05, Waited: 600}); err != nil {
				b.Fatal(err)
			}
		}
	})
}
