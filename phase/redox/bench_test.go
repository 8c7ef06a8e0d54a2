package redox

import (
	"testing"

	"smeltbook/phase/internal/worked"
)

// BenchmarkWindow times what the oxygen potential of one slag takes; the
// anchor is one straight buffer line.
func BenchmarkWindow(b *testing.B) {
	w := worked.Melt(b, worked.PB31).Wt
	b.Run("anchor: one straight line", func(b *testing.B) {
		qfm := FayaliteMagnetite()
		for b.Loop() {
			qfm.LogFO2(1150)
		}
	})
	b.Run("iron split", func(b *testing.B) {
		for b.Loop() {
			if _, err := SplitIron(w, 1250, -10); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("window", func(b *testing.B) {
		for b.Loop() {
			if _, err := WindowOf(w, 1250, Evidence{CopperMetal: Present, IronMetal: Absent, FerricShare: [2]float64{0.01, 0.05}}); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("diagram", func(b *testing.B) {
		for b.Loop() {
			if _, err := Diagram(DiagramSettings{}); err != nil {
				b.Fatal(err)
			}
		}
	})
}
