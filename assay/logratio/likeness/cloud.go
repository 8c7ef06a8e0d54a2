package likeness

import (
	"math"
	"slices"

	"smeltbook/assay/logratio"
)

// Cloud tells where the samples of a run fall in the cloud of the excavated
// ones.
type Cloud struct {
	Run      int // index into Input.Runs, in their order
	Pieces   []InCloud
	Distance float64 // of the run's centre from that of the excavated samples
	Scatter  float64 // of the excavated samples; NaN below two
}

// InCloud is one replica sample among the excavated ones.
type InCloud struct {
	Sample string
	// P is the share of samples, itself and the excavated ones, that lie as far
	// from the rest as it does, or farther. Were it one more piece of the site,
	// P ≤ p would happen with a probability of no more than p, whatever the
	// shape of the cloud (Vovk, Gammerman & Shafer 2005, Algorithmic Learning
	// in a Random World). It cannot fall below 1/(n+1).
	P float64
	// Depth is 1 in the middle of the excavated cloud and falls to 0 outside
	// (spatial depth; Serfling 2002, in: Statistical Data Analysis Based on the
	// L1-Norm).
	Depth float64
}

// Typical is the median P of the run's samples, the lower of the middle two.
func (c Cloud) Typical() float64 {
	p := make([]float64, len(c.Pieces))
	for i, x := range c.Pieces {
		p[i] = x.P
	}
	slices.Sort(p)
	return p[(len(p)-1)/2]
}

func inCloud(z [][]float64, in Input, k int) Cloud {
	run, dug := in.Runs[k], rowsAt(z, in.Excavated)
	centre := logratio.Mean(dug)
	c := Cloud{Run: k, Distance: logratio.Euclid(logratio.Mean(rowsAt(z, run.Rows)), centre), Scatter: math.Sqrt(logratio.TotalVariance(dug))}
	for _, i := range run.Rows {
		c.Pieces = append(c.Pieces, InCloud{Sample: in.Table.Samples[i], P: tail(dug, z[i]), Depth: depth(dug, z[i])})
	}
	return c
}

// tail ranks the distance of x from the excavated samples' centre among the
// distance of each of them from the centre of all others, x among them.
func tail(dug [][]float64, x []float64) float64 {
	all := append(append([][]float64{}, dug...), x)
	n := float64(len(all))
	mean := logratio.Mean(all)
	far := make([]float64, len(all))
	for i, row := range all {
		// The distance from the mean of the others is n/(n−1) times that from
		// the mean of all: the same rank.
		far[i] = logratio.Euclid(row, mean)
	}
	own := far[len(far)-1]
	count := 0.0
	for _, d := range far {
		if d >= own*(1-1e-12) {
			count++
		}
	}
	return count / n
}

func depth(dug [][]float64, x []float64) float64 {
	pull := make([]float64, len(x))
	for _, row := range dug {
		d := logratio.Euclid(row, x)
		if d == 0 {
			continue
		}
		for j, v := range row {
			pull[j] += (v - x[j]) / d / float64(len(dug))
		}
	}
	return 1 - logratio.Euclid(pull, make([]float64, len(x)))
}
