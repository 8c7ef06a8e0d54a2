package logratio

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// TestRobustCutAgainstSimulation: of fresh clean clouds one in twenty reaches
// beyond the cut, at sizes that stand in the table, between them and above them.
func TestRobustCutAgainstSimulation(t *testing.T) {
	const clouds = 400
	for _, c := range []struct{ n, p int }{{9, 2}, {14, 3}, {22, 9}, {34, 9}, {30, 14}, {54, 6}, {100, 9}, {700, 2}} {
		t.Run(fmt.Sprintf("%d samples in %d dimensions", c.n, c.p), func(t *testing.T) {
			if testing.Short() && c.n > 100 {
				t.Skip("large clouds are left out in short runs")
			}
			t.Parallel()
			cut, err := RobustCut(context.Background(), c.n, c.p, 1)
			if err != nil {
				t.Fatal(err)
			}
			beyond := 0
			r := rand.New(rand.NewPCG(77, uint64(c.n*100+c.p)))
			for range clouds {
				cloud := rowsOf(c.n, c.p)
				for _, row := range cloud {
					for j := range row {
						row[j] = r.NormFloat64()
					}
				}
				starts := mcdStarts
				if c.n > manyCloud {
					starts = fewStartsOfTest
				}
				if d2, ok := robustDistances(cloud, starts, 5); ok && slices.Max(d2) > cut {
					beyond++
				}
			}
			// The share has a standard error of 0.011, the cut stands for a
			// share that is known to 0.007.
			if share := float64(beyond) / clouds; math.Abs(share-0.05) > 3*math.Hypot(0.011, 0.007) {
				t.Errorf("a share of %.3f lies beyond %.1f, want 0.05", share, cut)
			}
		})
	}
}

// fewStartsOfTest suffice for clouds without odd samples.
const fewStartsOfTest = 60

// TestConsistency: in two dimensions, where the distributions of χ² with two and
// four degrees of freedom have closed forms, three quarters of a cloud have
// 0.75 over 1 − ¼(1 + ln 4) less of its covariance.
func TestConsistency(t *testing.T) {
	if got, want := consistency(0.75, 2), 0.75/(1-0.25*(1+math.Log(4))); math.Abs(got-want) > 1e-9 {
		t.Errorf("the factor is %.9f, want %.9f", got, want)
	}
}

// TestCutsRunTowardsTheLimit: the table approaches the cut of very many samples
// from above, in every dimension.
func TestCutsRunTowardsTheLimit(t *testing.T) {
	table, err := readCuts()
	if err != nil {
		t.Fatal(err)
	}
	for p := 1; p <= 14; p++ {
		last := math.Inf(1)
		for _, k := range table[p] {
			if k.n < 60 {
				continue // trimmed shares change too much from size to size
			}
			ratio := k.cut / limitCut(k.n, p)
			if ratio > last*1.05 || ratio < 0.95 {
				t.Errorf("%d samples in %d dimensions: %.2f times the limit, before %.2f", k.n, p, ratio, last)
			}
			last = ratio
		}
		if last > 1.3 {
			t.Errorf("400 samples in %d dimensions: still %.2f times the limit", p, last)
		}
	}
}
