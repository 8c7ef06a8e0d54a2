package compare

import (
	"context"
	"math/rand/v2"
	"testing"
)

// TestWithout compares the answers without one sample with those of the plain
// test of all the others, where all relabellings are tried and where some are.
func TestWithout(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 1))
	ctx := context.Background()
	for _, n := range []int{9, 40} {
		z, group := make([][]float64, n), make([]int, n)
		for i := range z {
			if r.IntN(3) == 0 || i == 0 || i == 4 {
				group[i] = 1
			}
			z[i] = []float64{3 + r.NormFloat64(), r.NormFloat64() + 0.6*float64(group[i]), r.NormFloat64()}
		}
		w, err := newWithout(ctx, z, group, 499, 7)
		if err != nil {
			t.Fatal(err)
		}
		for i := range z {
			rest := append(append([][]float64{}, z[:i]...), z[i+1:]...)
			labels, err := NewRelabelling(ctx, append(append([]int{}, group[:i]...), group[i+1:]...), 499, 7)
			if err != nil {
				t.Fatal(err)
			}
			if got, want := w.p(i), TestLocation(rest, labels).P; got != want {
				t.Errorf("without sample %d of %d: p = %g, want %g", i, n, got, want)
			}
		}
	}
}
