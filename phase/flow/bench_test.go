package flow

import (
	"testing"

	"smeltbook/phase/internal/worked"
)

// BenchmarkSlag times the properties of one slag; the anchor is one
// evaluation of the exponential that every viscosity ends in.
func BenchmarkSlag(b *testing.B) {
	w := worked.Melt(b, worked.PB31).Wt
	s, err := New(w, Settings{})
	if err != nil {
		b.Fatal(err)
	}
	b.Run("anchor: one exponential law", func(b *testing.B) {
		tc := 1250.0
		for b.Loop() {
			if !(s.law.At(tc) > 0) {
				b.Fatal("no viscosity")
			}
		}
	})
	b.Run("all models", func(b *testing.B) {
		for b.Loop() {
			Compare(w, 1250)
		}
	})
	b.Run("chosen model, densities, tension", func(b *testing.B) {
		for b.Loop() {
			s, err := New(w, Settings{})
			if err != nil {
				b.Fatal(err)
			}
			if _, err := s.At(1250); err != nil {
				b.Fatal(err)
			}
			Density(w, 1250)
			DensityLangeCarmichael(w, 1250)
			SurfaceTension(w, 1250)
		}
	})
	b.Run("temperature at 1 Pa·s", func(b *testing.B) {
		for b.Loop() {
			if _, err := s.TemperatureAt(1); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("settling", func(b *testing.B) {
		for b.Loop() {
			bath, _, err := s.Bath(1250)
			if err != nil {
				b.Fatal(err)
			}
			if _, err := bath.Settle(1e-4, 0.05, 1800); err != nil {
				b.Fatal(err)
			}
		}
	})
}
