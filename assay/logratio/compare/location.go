package compare

import (
	"math"

	"smeltbook/assay/logratio"
)

// Permutation is the answer of a permutation test.
type Permutation struct {
	P        float64 // NaN where there is no test
	Exact    bool    // over all relabellings
	Count    int     // of relabellings
	Smallest float64 // p that so few samples can reach at best
}

// Location tells how far apart the centres of groups are.
type Location struct {
	F       float64 // ratio of mean squares between and within groups
	R2      float64 // share of the sum of squares between groups
	Between float64 // sums of squares
	Within  float64
	Permutation
}

// TestLocation tests whether groups have one centre, on distances between
// samples (Anderson 2001, Austral Ecology 26:32). z holds orthonormal
// coordinates. Groups that differ in spread alone can make p small too, above
// all when the smaller one spreads more; look at the dispersion beside it.
func TestLocation(z [][]float64, r *Relabelling) Location {
	c := centred(z)
	l := Location{Permutation: r.none()}
	total := squares(c)
	l.Between = betweenLabels(c, r.Group, len(r.sizes))
	l.Within = total - l.Between
	l.R2 = l.Between / total
	n, k := float64(len(z)), float64(len(r.sizes))
	l.F = l.Between / (k - 1) / (l.Within / (n - k))
	if !(total > 0) {
		l.P = 1
		return l
	}
	l.P = r.p(r.atLeast(c, l.Between))
	return l
}

func (r *Relabelling) none() Permutation {
	return Permutation{P: math.NaN(), Exact: r.Exact, Count: len(r.sets), Smallest: r.Smallest()}
}

// centred takes the mean off every row.
func centred(z [][]float64) [][]float64 {
	mean := logratio.Mean(z)
	out := make([][]float64, len(z))
	for i, row := range z {
		out[i] = make([]float64, len(row))
		for j, v := range row {
			out[i][j] = v - mean[j]
		}
	}
	return out
}

func squares(z [][]float64) float64 {
	var s float64
	for _, row := range z {
		for _, v := range row {
			s += v * v
		}
	}
	return s
}

// betweenLabels is the sum of squares between labelled groups of centred rows.
func betweenLabels(c [][]float64, group []int, groups int) float64 {
	sums, n := make([][]float64, groups), make([]float64, groups)
	for g := range sums {
		sums[g] = make([]float64, len(c[0]))
	}
	for i, row := range c {
		n[group[i]]++
		for j, v := range row {
			sums[group[i]][j] += v
		}
	}
	var out float64
	for g, s := range sums {
		out += squares([][]float64{s}) / n[g]
	}
	return out
}
