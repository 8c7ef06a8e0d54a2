package compare

import (
	"context"
	"math/rand/v2"

	"smeltbook/assay/logratio/internal/stream"
)

// Influence is the answer without one sample.
type Influence struct {
	Sample string
	Group  int
	P      float64 // of the test of location
	Ratio  float64 // distance of centres in units of the scatter
}

// influenceLabels is how many relabellings may stand behind the answers without
// one sample, all of them together; each gets a thousand at the least.
const influenceLabels = 200_000

// influence leaves out one sample after another. A group of one stays whole.
func influence(ctx context.Context, in Input, o Options) ([]Influence, error) {
	z, _, err := in.coordinates(o)
	if err != nil {
		return nil, err
	}
	size := [2]int{len(in.members(0)), len(in.members(1))}
	var left []int
	for i, g := range in.Group {
		if size[g] > 1 {
			left = append(left, i)
		}
	}
	each := min(max(influenceLabels/max(len(left), 1), 999), o.Permutations)
	labels, err := newWithout(ctx, z, in.Group, each, o.Seed)
	if err != nil {
		return nil, err
	}
	out := make([]Influence, len(left))
	for k, sample := range left {
		out[k] = Influence{Sample: in.Table.Samples[sample], Group: in.Group[sample], P: labels.p(sample)}
	}
	return out, stream.Each(ctx, 0, len(left), nil, func(k int, _ *rand.Rand) {
		var rest [][]float64
		var group []int
		for i, row := range z {
			if i != left[k] {
				rest, group = append(rest, row), append(group, in.Group[i])
			}
		}
		out[k].Ratio = ratioOf(rest, group)
	})
}
