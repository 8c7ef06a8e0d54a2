package logratio_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"smeltbook/assay/logratio"
)

// TestTightestOfMany checks that many samples, of which there are more subsets
// than can be counted, are searched from random starts: a tenth of them lies
// aside and none of those is among the kept.
func TestTightestOfMany(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 0))
	z := make([][]float64, 200)
	for i := range z {
		z[i] = []float64{r.NormFloat64(), r.NormFloat64(), r.NormFloat64()}
		if i < 20 {
			z[i][1] += 12
		}
	}
	s, err := logratio.MCD(z, 0, 1)
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Kept) != 150 || slices.Min(s.Kept) < 20 {
		t.Errorf("%d samples are kept, the first of them %d; want 150 and none before 20", len(s.Kept), slices.Min(s.Kept))
	}
}
