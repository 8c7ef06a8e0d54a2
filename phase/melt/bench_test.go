package melt

import (
	"context"
	"testing"

	"smeltbook/phase/slag"
)

// benchMelts are a slag of the three main oxides and one with eight.
var benchMelts = map[string]slag.Wt{
	"core":         {slag.SiO2: 32, slag.FeO: 55, slag.CaO: 13},
	"eight oxides": {slag.SiO2: 34, slag.FeO: 42, slag.CaO: 9, slag.Al2O3: 7, slag.MgO: 2.5, slag.MnO: 2, slag.K2O: 2, slag.Na2O: 0.8},
}

// BenchmarkLiquidus measures one liquidus; BenchmarkPlainLiquidus is its
// anchor.
func BenchmarkLiquidus(b *testing.B) {
	m := testModel(b)
	for name, w := range benchMelts {
		b.Run(name, func(b *testing.B) {
			var s search
			b.ReportAllocs()
			for b.Loop() {
				if _, err := m.onset(&s, &w); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkPlainLiquidus(b *testing.B) {
	m := testModel(b)
	for name, w := range benchMelts {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, _, ok := plainLiquidus(m, w); !ok {
					b.Fatal("no liquidus")
				}
			}
		})
	}
}

// BenchmarkMap measures the core triangle at 1 wt%, 5,151 melts, and what is
// drawn of it.
func BenchmarkMap(b *testing.B) {
	m := testModel(b)
	levels := []float64{1100, 1150, 1200, 1250, 1300, 1350, 1400, 1450, 1500, 1600, 1700}
	b.Run("grid", func(b *testing.B) {
		for b.Loop() {
			if _, err := m.Map(context.Background(), coreSection, 1); err != nil {
				b.Fatal(err)
			}
		}
	})
	mp := coreMap(b, 1)
	b.Run("isotherms", func(b *testing.B) {
		for b.Loop() {
			mp.Isotherms(levels)
		}
	})
	b.Run("boundaries", func(b *testing.B) {
		for b.Loop() {
			mp.trace()
		}
	})
	b.Run("fields", func(b *testing.B) {
		for b.Loop() {
			mp.Fields()
		}
	})
}

// BenchmarkSpread measures 10,000 draws of a slag of four oxides.
func BenchmarkSpread(b *testing.B) {
	m := testModel(b)
	melt := measuredMelt(b, map[string][2]float64{"SiO2": {33, 0.5}, "FeO": {50, 0.8}, "CaO": {11, 0.3}, "Al2O3": {6, 0.2}})
	b.Run("10000 draws", func(b *testing.B) {
		for b.Loop() {
			if _, err := m.Spread(context.Background(), melt, 10000, 1); err != nil {
				b.Fatal(err)
			}
		}
	})
}
