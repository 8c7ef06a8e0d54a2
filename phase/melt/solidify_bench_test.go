package melt

import "testing"

// BenchmarkSolidify measures a whole path with working space that is used
// again; BenchmarkLiquidus is its anchor.
func BenchmarkSolidify(b *testing.B) {
	m := testModel(b)
	for name, w := range benchMelts {
		b.Run(name, func(b *testing.B) {
			var space Freezer
			b.ReportAllocs()
			for b.Loop() {
				if _, err := m.SolidifyIn(&space, w); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
