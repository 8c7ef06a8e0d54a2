package likeness

import (
	"cmp"
	"context"
	"math"
	"math/rand/v2"
	"slices"

	"smeltbook/assay/logratio"
	"smeltbook/assay/logratio/internal/stream"
)

// Piece is one excavated sample with the runs it is like.
type Piece struct {
	Sample string
	Near   []Near // the likeliest first
}

// Near is one run as seen from an excavated sample.
type Near struct {
	Run      int     // index into Input.Runs
	P        float64 // probability that it is the nearest
	Distance float64 // Aitchison distance to the centre of its samples
	Low, Up  float64 // 95 % interval of the drawn distances; it lies above Distance where noise outweighs it
	Differs  []Difference
}

// Difference is what tells a sample from a run: sample less the run's mean.
type Difference struct {
	Name  string
	Unit  string  // empty for balances
	Value float64 // NaN where one of them is not known
	// For balances alone: the factor between the ratios, and the share of the
	// squared distance.
	Factor, Share float64
}

// within returns the residuals of samples about the centre of their run, each
// stretched by √(n/(n−1)), of the runs with two samples or more.
func within(z [][]float64, runs []Run) [][]float64 {
	var out [][]float64
	for _, run := range runs {
		n := float64(len(run.Rows))
		if n < 2 {
			continue
		}
		rows := rowsAt(z, run.Rows)
		centre := logratio.Mean(rows)
		for _, row := range rows {
			e := make([]float64, len(row))
			for j, v := range row {
				e[j] = (v - centre[j]) * math.Sqrt(n/(n-1))
			}
			out = append(out, e)
		}
	}
	return out
}

// nearest draws all analyses within their uncertainty and moves the centre of
// each run by the mean of as many residuals as it has samples, taken at random
// from all runs: a run of one sample is thus as vague as the scatter between
// pieces makes it.
func nearest(ctx context.Context, in Input, o Options, z, residuals [][]float64) ([]Piece, error) {
	pieces, runs := len(in.Excavated), len(in.Runs)
	distances := make([][]float64, o.Draws) // of a draw, piece by piece and run by run
	err := stream.Each(ctx, stream.Seed(o.Seed, "nearest"), o.Draws, o.Progress, func(i int, rng *rand.Rand) {
		drawn, err := o.Basis.Coordinates(in.Table.Draw(rng))
		if err != nil {
			return
		}
		d := make([]float64, 0, pieces*runs)
		centres := make([][]float64, runs)
		for k, run := range in.Runs {
			centres[k] = logratio.Mean(rowsAt(drawn, run.Rows))
			for range run.Rows {
				if len(residuals) == 0 {
					break
				}
				for j, e := range residuals[rng.IntN(len(residuals))] {
					centres[k][j] += e / float64(len(run.Rows))
				}
			}
		}
		for _, row := range in.Excavated {
			for _, c := range centres {
				d = append(d, logratio.Euclid(drawn[row], c))
			}
		}
		distances[i] = d
	})
	if err != nil {
		return nil, err
	}
	var out []Piece
	for k, row := range in.Excavated {
		piece := Piece{Sample: in.Table.Samples[row]}
		wins := make([]float64, runs)
		for _, d := range distances {
			best := 0
			for r := range runs {
				if d[k*runs+r] < d[k*runs+best] {
					best = r
				}
			}
			wins[best]++
		}
		for r, run := range in.Runs {
			centre := logratio.Mean(rowsAt(z, run.Rows))
			near := Near{Run: r, P: wins[r] / float64(o.Draws), Distance: logratio.Euclid(z[row], centre), Differs: in.differs(o.Basis, z[row], centre, row, run)}
			all := make([]float64, o.Draws)
			for i, d := range distances {
				all[i] = d[k*runs+r]
			}
			slices.Sort(all)
			near.Low, near.Up = all[int(0.025*float64(o.Draws))], all[int(0.975*float64(o.Draws))]
			piece.Near = append(piece.Near, near)
		}
		slices.SortStableFunc(piece.Near, func(a, b Near) int {
			return cmp.Or(cmp.Compare(b.P, a.P), cmp.Compare(a.Distance, b.Distance))
		})
		out = append(out, piece)
	}
	return out, nil
}

// differs lists balances, those of largest share first, and then extras.
func (in Input) differs(basis logratio.Basis, at, centre []float64, row int, run Run) []Difference {
	var out []Difference
	d := logratio.Euclid(at, centre)
	for k, b := range basis.Balances {
		diff := at[k] - centre[k]
		name := b.Name
		if name == "" {
			name = b.Formula(basis.Parts)
		}
		out = append(out, Difference{Name: name, Value: diff, Factor: math.Exp(b.Ratio(diff)), Share: diff * diff / (d * d)})
	}
	slices.SortStableFunc(out, func(a, b Difference) int { return cmp.Compare(b.Share, a.Share) })
	for _, x := range in.Extras {
		var sum, n float64
		for _, i := range run.Rows {
			if !math.IsNaN(x.Values[i]) {
				sum += x.Values[i]
				n++
			}
		}
		out = append(out, Difference{Name: x.Name, Unit: x.Unit, Value: x.Values[row] - sum/n, Factor: math.NaN(), Share: math.NaN()})
	}
	return out
}
