package compare

import (
	"context"
	"math/rand/v2"
	"strconv"
	"testing"

	"smeltbook/assay/logratio"
)

// large makes a table of n samples by ten parts with uncertainties and limits.
func large(n int) Input {
	r := rand.New(rand.NewPCG(1, 1))
	var in Input
	in.Names = [2]string{"fired", "dug"}
	in.Table.Parts = []string{"SiO2", "TiO2", "Al2O3", "FeO", "MnO", "MgO", "CaO", "Na2O", "K2O", "Cu"}
	for i := range n {
		row := make([]logratio.Value, len(in.Table.Parts))
		for j := range row {
			x := 1 + 10*r.Float64()
			row[j] = logratio.Measured(x, 0.05*x)
			if j == 4 && i%10 == 0 {
				row[j] = logratio.Under(0.5)
			}
		}
		in.Table.Values = append(in.Table.Values, row)
		in.Table.Samples = append(in.Table.Samples, "S"+strconv.Itoa(i))
		in.Group = append(in.Group, i%2)
	}
	return in
}

// BenchmarkGroups times the whole comparison; the anchor is the distances
// between all samples, which a test on them needs at the least.
func BenchmarkGroups(b *testing.B) {
	for _, n := range []int{14, 200} {
		in := large(n)
		m, err := in.Table.Complete(logratio.Simple)
		if err != nil {
			b.Fatal(err)
		}
		b.Run("n="+strconv.Itoa(n)+"/anchor: distances", func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				m.Distances()
			}
		})
		b.Run("n="+strconv.Itoa(n)+"/10000 relabellings, 2000 draws", func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Groups(context.Background(), in, Options{Permutations: 10_000, Draws: 2000, Seed: 1}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
