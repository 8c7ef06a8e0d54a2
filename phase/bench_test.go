package phase

import (
	"context"
	"testing"

	"smeltbook/phase/copper"
	"smeltbook/phase/index"
	"smeltbook/phase/slag"
)

// BenchmarkSlag times one published slag: the anchor is bringing the analysis
// to the melt basis, which every other answer needs once.
func BenchmarkSlag(b *testing.B) {
	c := laos(b)[7]
	m, err := slag.FromComposition(c)
	if err != nil {
		b.Fatal(err)
	}
	total, _ := copper.TotalCopper(c)
	e := estimator(b)
	b.Run("anchor: melt basis", func(b *testing.B) {
		for b.Loop() {
			if _, err := slag.FromComposition(c); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("indices, no draws", func(b *testing.B) {
		exact := slag.FromWt(m.Wt)
		for b.Loop() {
			index.Table(exact)
		}
	})
	b.Run("indices, 2000 draws", func(b *testing.B) {
		for b.Loop() {
			index.Table(m)
		}
	})
	b.Run("copper", func(b *testing.B) {
		for b.Loop() {
			if _, err := copper.Split(total, copper.UnderCopper(1250, -10, -9)); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("estimate, 1000 draws", func(b *testing.B) {
		for b.Loop() {
			if _, err := e.Estimate(context.Background(), c, Conditions{Draws: 1000}); err != nil {
				b.Fatal(err)
			}
		}
	})
}

func BenchmarkEstimateAll(b *testing.B) {
	cs, e := laos(b), estimator(b)
	for b.Loop() {
		if _, err := e.EstimateAll(context.Background(), cs, Conditions{Draws: 200}, nil); err != nil {
			b.Fatal(err)
		}
	}
}
