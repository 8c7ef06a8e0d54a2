package likeness

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"smeltbook/assay/logratio"
	"smeltbook/assay/logratio/internal/stream"
)

// Match is one excavated sample with the replica samples, the nearest first.
type Match struct {
	Row  int // of the table
	Near []NearSample
}

// NearSample is one replica sample as seen from an excavated one.
type NearSample struct {
	Row      int     // of the table
	Distance float64 // Aitchison distance
	// P is the probability that it is the nearest when the analyses are drawn
	// within their uncertainty, and Low and Up the 95 % interval of the drawn
	// distances, which noise alone makes longer. NaN for samples so far down the
	// list that they were not drawn.
	P, Low, Up float64
}

// MatchDraws is the number of draws behind a match: P is good to about 0.02.
const MatchDraws = 500

// drawnDeep is how many of the nearest samples are drawn.
const drawnDeep = 6

// Matched is excavated samples with their nearest replica samples.
type Matched struct {
	Matches []Match // in the order they were asked for
	// Scatter is the root mean square distance of the excavated samples from
	// their centre; NaN below two. Two of them lie √2 scatters apart on the
	// average (root mean square).
	Scatter float64
}

// Samples ranks the replica samples by their distance from each excavated one.
// Unlike Find it knows of no firings: what it tells is the likeness of single
// pieces, and its probabilities are of the analyses alone.
func Samples(ctx context.Context, table logratio.Table, replicas, excavated []int, r logratio.Replacement, seed uint64) (Matched, error) {
	if len(replicas) == 0 || len(excavated) == 0 {
		return Matched{}, fmt.Errorf("a match needs replica and excavated samples; there are %d and %d", len(replicas), len(excavated))
	}
	basis := logratio.DefaultPartition(table.Parts) // distances are the same in all
	m, err := table.Complete(r)
	if err != nil {
		return Matched{}, err
	}
	z, err := basis.Coordinates(m)
	if err != nil {
		return Matched{}, err
	}
	out := Matched{Scatter: math.Sqrt(logratio.TotalVariance(rowsAt(z, excavated)))}
	for _, i := range excavated {
		match := Match{Row: i}
		for _, k := range replicas {
			match.Near = append(match.Near, NearSample{Row: k, Distance: logratio.Euclid(z[i], z[k]), P: math.NaN(), Low: math.NaN(), Up: math.NaN()})
		}
		slices.SortStableFunc(match.Near, func(a, b NearSample) int { return cmp.Compare(a.Distance, b.Distance) })
		out.Matches = append(out.Matches, match)
	}
	return out, out.draw(ctx, table, basis, seed)
}

// draw fills in what the uncertainties of the analyses leave open.
func (m Matched) draw(ctx context.Context, table logratio.Table, basis logratio.Basis, seed uint64) error {
	analyses, err := logratio.NewDrawing(table, basis)
	if err != nil {
		return err
	}
	drawn := make([][][]float64, MatchDraws) // of a draw, match by match, the nearest samples
	err = stream.Each(ctx, stream.Seed(seed, "match"), MatchDraws, nil, func(i int, rng *rand.Rand) {
		z := analyses.Coordinates(rng)
		for _, match := range m.Matches {
			d := make([]float64, min(drawnDeep, len(match.Near)))
			for k := range d {
				d[k] = logratio.Euclid(z[match.Row], z[match.Near[k].Row])
			}
			drawn[i] = append(drawn[i], d)
		}
	})
	if err != nil {
		return err
	}
	n := float64(len(drawn))
	for j, match := range m.Matches {
		for k := range min(drawnDeep, len(match.Near)) {
			all, wins := make([]float64, len(drawn)), 0.0
			for i, d := range drawn {
				all[i] = d[j][k]
				if slices.Min(d[j]) == d[j][k] {
					wins++
				}
			}
			slices.Sort(all)
			if len(all) > 0 {
				near := &match.Near[k]
				near.P, near.Low, near.Up = wins/n, all[int(0.025*n)], all[int(0.975*n)]
			}
		}
	}
	return nil
}
