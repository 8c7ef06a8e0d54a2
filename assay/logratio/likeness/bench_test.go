package likeness

import (
	"context"
	"math/rand/v2"
	"strconv"
	"testing"

	"smeltbook/assay/logratio"
)

// BenchmarkFind times 200 samples, half of them excavated, the rest of ten
// runs; the anchor is one draw of the table as coordinates.
func BenchmarkFind(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 1))
	in := Input{Table: logratio.Table{Parts: []string{"SiO2", "Al2O3", "FeO", "CaO", "MgO", "K2O", "TiO2", "Cu"}}}
	for k := range 10 {
		in.Runs = append(in.Runs, Run{Name: "R" + strconv.Itoa(k)})
	}
	for i := range 200 {
		row := make([]logratio.Value, len(in.Table.Parts))
		for j := range row {
			x := 1 + 10*r.Float64()
			row[j] = logratio.Measured(x, 0.05*x)
		}
		in.Table.Values, in.Table.Samples = append(in.Table.Values, row), append(in.Table.Samples, "S"+strconv.Itoa(i))
		if i < 100 {
			in.Excavated = append(in.Excavated, i)
		} else {
			in.Runs[i%10].Rows = append(in.Runs[i%10].Rows, i)
		}
	}
	basis := logratio.DefaultPartition(in.Table.Parts)
	b.Run("anchor: one draw", func(b *testing.B) {
		b.ReportAllocs()
		drawing, err := logratio.NewDrawing(in.Table, basis)
		if err != nil {
			b.Fatal(err)
		}
		for b.Loop() {
			drawing.Coordinates(r)
		}
	})
	b.Run("2000 draws", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := Find(context.Background(), in, Options{Draws: 2000, Seed: 1}); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// BenchmarkSamples matches 500 excavated with 500 replica samples.
func BenchmarkSamples(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 1))
	table := logratio.Table{Parts: []string{"SiO2", "Al2O3", "FeO", "CaO", "MgO", "K2O", "TiO2", "Cu"}}
	var left, right []int
	for i := range 1000 {
		row := make([]logratio.Value, len(table.Parts))
		for j := range row {
			x := 1 + 10*r.Float64()
			row[j] = logratio.Measured(x, 0.05*x)
		}
		table.Values, table.Samples = append(table.Values, row), append(table.Samples, "S"+strconv.Itoa(i))
		if i%2 == 0 {
			left = append(left, i)
		} else {
			right = append(right, i)
		}
	}
	basis := logratio.DefaultPartition(table.Parts)
	b.Run("anchor: one draw", func(b *testing.B) {
		b.ReportAllocs()
		drawing, err := logratio.NewDrawing(table, basis)
		if err != nil {
			b.Fatal(err)
		}
		for b.Loop() {
			drawing.Coordinates(r)
		}
	})
	b.Run("500 draws", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := Samples(context.Background(), table, left, right, logratio.Simple, 1); err != nil {
				b.Fatal(err)
			}
		}
	})
}
