package compare

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/stat/combin"

	"smeltbook/assay/logratio/internal/stream"
)

// exhaustive is the largest number of relabellings of two groups that are all
// tried.
const exhaustive = 200_000

// Relabelling is a set of ways to deal the samples out to groups of the same
// sizes: all there are, or a sample of them.
type Relabelling struct {
	Group []int // as the samples are labelled
	Exact bool  // all relabellings, the present one among them
	sizes []int // by group
	order []int // groups in the order of a row of sets; the largest is last and not in it
	sets  [][]int32
}

// NewRelabelling lists all relabellings of two groups where there are no more
// than 200 000, otherwise as many as asked for at random, the same for the same
// seed whatever the number of processors. More than two groups are always dealt
// at random. Groups are numbered from 0 without gaps.
func NewRelabelling(ctx context.Context, group []int, permutations int, seed uint64) (*Relabelling, error) {
	r := &Relabelling{Group: group}
	for _, g := range group {
		for len(r.sizes) <= g {
			r.sizes = append(r.sizes, 0)
		}
		r.sizes[g]++
	}
	largest := 0
	for g, n := range r.sizes {
		if n == 0 {
			return nil, fmt.Errorf("group %d of %d is empty", g, len(r.sizes))
		}
		if n > r.sizes[largest] {
			largest = g
		}
	}
	if len(r.sizes) < 2 {
		return nil, fmt.Errorf("a comparison needs two groups")
	}
	dealt := 0
	for g := range r.sizes {
		if g != largest {
			r.order = append(r.order, g)
			dealt += r.sizes[g]
		}
	}
	n := len(group)
	if len(r.sizes) == 2 && ways(n, dealt) <= exhaustive {
		r.Exact = true
		gen := combin.NewCombinationGenerator(n, dealt)
		places := make([]int, dealt)
		for gen.Next() {
			gen.Combination(places)
			set := make([]int32, dealt)
			for k, i := range places {
				set[k] = int32(i)
			}
			r.sets = append(r.sets, set)
		}
		return r, ctx.Err()
	}
	r.sets = make([][]int32, permutations)
	const block = 256
	return r, stream.Each(ctx, stream.Seed(seed, "relabel"), (permutations+block-1)/block, nil, func(b int, rng *rand.Rand) {
		deck := make([]int32, n)
		for i := range deck {
			deck[i] = int32(i)
		}
		for k := b * block; k < min((b+1)*block, permutations); k++ {
			for i := range dealt {
				j := i + rng.IntN(n-i)
				deck[i], deck[j] = deck[j], deck[i]
			}
			r.sets[k] = append([]int32(nil), deck[:dealt]...)
		}
	})
}

// ways is the number of choices of k out of n, +Inf beyond what a float holds.
func ways(n, k int) float64 { return math.Round(combin.GeneralizedBinomial(float64(n), float64(k))) }

// Count is how many relabellings were tried.
func (r *Relabelling) Count() int { return len(r.sets) }

// Smallest is the least p that can come out. With two groups of one size each
// relabelling counts twice, for names of groups do not matter.
func (r *Relabelling) Smallest() float64 {
	if !r.Exact {
		return 1 / float64(len(r.sets)+1)
	}
	if r.sizes[0] == r.sizes[1] {
		return 2 / float64(len(r.sets))
	}
	return 1 / float64(len(r.sets))
}

// first returns the same relabelling with at most so many ways; fewer than all
// are no longer exact and are taken evenly from the list.
func (r *Relabelling) first(most int) *Relabelling {
	if len(r.sets) <= most {
		return r
	}
	short := *r
	short.Exact = false
	short.sets = make([][]int32, most)
	for k := range short.sets {
		short.sets[k] = r.sets[(2*k+1)*len(r.sets)/(2*most)]
	}
	return &short
}

// p turns a count of relabellings at least as far out as the samples into p.
// Dealt at random, the present labels count as one more.
func (r *Relabelling) p(count int) float64 {
	if r.Exact {
		return float64(count) / float64(len(r.sets))
	}
	return float64(count+1) / float64(len(r.sets)+1)
}

// atLeast counts the relabellings whose sum of squares between groups is the
// threshold or more, rounding aside. The mean of the rows is zero.
func (r *Relabelling) atLeast(z [][]float64, threshold float64) int {
	columns := make([][]float64, len(z[0]))
	for j := range columns {
		columns[j] = make([]float64, len(z))
		for i, row := range z {
			columns[j][i] = row[j]
		}
	}
	count := 0
	for _, set := range r.sets {
		var between float64
		for _, column := range columns {
			between += r.between(column, set)
		}
		if between >= threshold*(1-1e-10) {
			count++
		}
	}
	return count
}

// between is the sum of squares between the groups of a relabelling of one
// coordinate.
func (r *Relabelling) between(column []float64, set []int32) (out float64) {
	rest, at := 0.0, 0
	for _, g := range r.order {
		// Two sums, so that one addition need not wait for the other.
		var even, odd float64
		members := set[at : at+r.sizes[g]]
		for len(members) > 1 {
			even += column[members[0]]
			odd += column[members[1]]
			members = members[2:]
		}
		for _, i := range members {
			even += column[i]
		}
		at += r.sizes[g]
		out += (even + odd) * (even + odd) / float64(r.sizes[g])
		rest += even + odd
	}
	return out + rest*rest/float64(len(column)-at)
}
