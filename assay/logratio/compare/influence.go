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
	out := make([]Influence, len(left))
	fail := make([]error, len(left))
	err = stream.Each(ctx, 0, len(left), nil, func(k int, _ *rand.Rand) {
		without := left[k]
		var rest [][]float64
		var group []int
		for i, row := range z {
			if i != without {
				rest, group = append(rest, row), append(group, in.Group[i])
			}
		}
		labels, err := NewRelabelling(ctx, group, each, o.Seed)
		if err != nil {
			fail[k] = err
			return
		}
		out[k] = Influence{Sample: in.Table.Samples[without], Group: in.Group[without],
			P: TestLocation(rest, labels.first(exhaustive/10)).P, Ratio: ratioOf(rest, group)}
	})
	for _, e := range fail {
		if err == nil {
			err = e
		}
	}
	return out, err
}
