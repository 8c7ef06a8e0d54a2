package compare

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/stat"

	"smeltbook/assay/logratio"
	"smeltbook/assay/logratio/internal/stream"
)

// Span is the middle and the 95 % interval of drawn values.
type Span struct{ Low, Median, High float64 }

// Uncertainty tells how the answer moves when every value is drawn anew within
// its uncertainty and every value below a limit anywhere below it. The error of
// the analyses is in the scatter of the samples already, so that this is no
// second allowance for it: it shows how firm p is.
type Uncertainty struct {
	Draws  int
	P      Span    // of the test of location
	Often  float64 // share of draws with p at or below one in twenty
	Ratio  Span    // distance of centres in units of the scatter
	Labels int     // relabellings behind p of a draw
	Least  float64 // p that they can show
}

// Relabellings behind p of one draw: all of them where they are few.
const (
	drawExact  = 2500
	drawRandom = 499
)

func drawn(ctx context.Context, in Input, o Options) (*Uncertainty, error) {
	labels, err := NewRelabelling(ctx, in.Group, min(drawRandom, o.Permutations), o.Seed)
	if err != nil {
		return nil, err
	}
	if labels.Count() > drawExact {
		labels = labels.first(drawRandom)
	}
	analyses, err := logratio.NewDrawing(in.Table, o.Basis)
	if err != nil {
		return nil, err
	}
	p, ratio := make([]float64, o.Draws), make([]float64, o.Draws)
	err = stream.Each(ctx, stream.Seed(o.Seed, "draw"), o.Draws, o.Progress, func(i int, rng *rand.Rand) {
		z := analyses.Coordinates(rng)
		p[i] = TestLocation(z, labels).P
		ratio[i] = ratioOf(z, in.Group)
	})
	if err != nil {
		return nil, err
	}
	u := &Uncertainty{Draws: o.Draws, P: spanOf(p), Ratio: spanOf(ratio), Labels: labels.Count(), Least: labels.Smallest()}
	for _, x := range p {
		if x <= Alpha {
			u.Often += 1 / float64(o.Draws)
		}
	}
	return u, nil
}

// ratioOf is the distance of centres over the scatter of group 1.
func ratioOf(z [][]float64, group []int) float64 {
	var rows [2][][]float64
	for i, row := range z {
		rows[group[i]] = append(rows[group[i]], row)
	}
	return logratio.Euclid(logratio.Mean(rows[0]), logratio.Mean(rows[1])) / math.Sqrt(logratio.TotalVariance(rows[1]))
}

// spanOf sorts x.
func spanOf(x []float64) Span {
	slices.Sort(x)
	q := func(p float64) float64 { return stat.Quantile(p, stat.Empirical, x, nil) }
	return Span{Low: q(0.025), Median: q(0.5), High: q(0.975)}
}
