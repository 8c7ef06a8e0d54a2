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
	Near   []Near // the likeliest first, as many as were to be kept
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
// pieces makes it. It draws twice alike: once for who is nearest, once for the
// distances of those that are kept, for all distances would not fit into memory.
func nearest(ctx context.Context, in Input, o Options, z, residuals [][]float64) ([]Piece, error) {
	analyses, err := logratio.NewDrawing(in.Table, o.Basis)
	if err != nil {
		return nil, err
	}
	d := drawer{in: in, residuals: residuals, analyses: analyses}
	seed := stream.Seed(o.Seed, "nearest")
	centres := d.centres(z)
	ranked := make([][]neighbour, len(in.Excavated))
	for k, row := range in.Excavated {
		ranked[k] = rank(z[row], centres)
	}
	winners := make([][]int32, o.Draws) // of a draw, by piece
	err = stream.Each(ctx, seed, o.Draws, o.Progress, func(i int, rng *rand.Rand) {
		drawn, moved := d.draw(rng)
		farthest := 0.0
		for r, c := range moved {
			farthest = max(farthest, logratio.Euclid(c, centres[r]))
		}
		winners[i] = make([]int32, len(in.Excavated))
		for k, row := range in.Excavated {
			slack := farthest + logratio.Euclid(drawn[row], z[row])
			winners[i][k] = int32(winner(drawn[row], moved, ranked[k], slack))
		}
	})
	if err != nil {
		return nil, err
	}
	out := make([]Piece, len(in.Excavated))
	for k, row := range in.Excavated {
		near := make([]Near, len(in.Runs))
		for _, n := range ranked[k] {
			near[n.run] = Near{Run: n.run, Distance: n.distance}
		}
		for _, w := range winners {
			near[w[k]].P++
		}
		slices.SortStableFunc(near, func(a, b Near) int {
			return cmp.Or(cmp.Compare(b.P, a.P), cmp.Compare(a.Distance, b.Distance))
		})
		near = slices.Clone(near[:min(o.Keep, len(near))])
		for m := range near {
			n := &near[m]
			n.P /= float64(o.Draws)
			n.Differs = in.differs(o.Basis, z[row], centres[n.Run], row, in.Runs[n.Run])
		}
		out[k] = Piece{Sample: in.Table.Samples[row], Near: near}
	}
	return out, d.intervals(ctx, seed, o.Draws, out)
}

// neighbour is a run with its distance from a piece as analysed.
type neighbour struct {
	run      int
	distance float64
}

// rank orders runs by their distance.
func rank(at []float64, centres [][]float64) []neighbour {
	out := make([]neighbour, len(centres))
	for r, c := range centres {
		out[r] = neighbour{r, logratio.Euclid(at, c)}
	}
	slices.SortStableFunc(out, func(a, b neighbour) int { return cmp.Compare(a.distance, b.distance) })
	return out
}

// winner returns the run whose centre is nearest, of equals the first. Runs are
// tried in the order of their distance before piece and centres moved; no
// distance fell by more than slack.
func winner(at []float64, centres [][]float64, ranked []neighbour, slack float64) int {
	best, least := ranked[0].run, math.Inf(1) // squared
	for _, n := range ranked {
		if reach := n.distance - slack; reach > 0 && reach*reach > least*(1+1e-9) {
			break
		}
		d := 0.0
		for j, v := range centres[n.run] {
			d += (at[j] - v) * (at[j] - v)
		}
		if d < least || d == least && n.run < best {
			best, least = n.run, d
		}
	}
	return best
}

// drawer draws pieces and the centres of runs.
type drawer struct {
	in        Input
	residuals [][]float64
	analyses  *logratio.Drawing
}

func (d *drawer) draw(rng *rand.Rand) (pieces, centres [][]float64) {
	pieces = d.analyses.Coordinates(rng)
	centres = d.centres(pieces)
	for k, run := range d.in.Runs {
		for range run.Rows {
			if len(d.residuals) == 0 {
				break
			}
			for j, e := range d.residuals[rng.IntN(len(d.residuals))] {
				centres[k][j] += e / float64(len(run.Rows))
			}
		}
	}
	return pieces, centres
}

func (d *drawer) centres(z [][]float64) [][]float64 {
	out := make([][]float64, len(d.in.Runs))
	for k, run := range d.in.Runs {
		out[k] = logratio.Mean(rowsAt(z, run.Rows))
	}
	return out
}

// intervals fills in those of the drawn distances of the runs of pieces.
func (d *drawer) intervals(ctx context.Context, seed uint64, draws int, pieces []Piece) error {
	var pairs [][]float64 // a piece and a run each, by draw
	for _, p := range pieces {
		for range p.Near {
			pairs = append(pairs, make([]float64, draws))
		}
	}
	err := stream.Each(ctx, seed, draws, nil, func(i int, rng *rand.Rand) {
		drawn, centres := d.draw(rng)
		at := 0
		for k, p := range pieces {
			for _, n := range p.Near {
				pairs[at][i] = logratio.Euclid(drawn[d.in.Excavated[k]], centres[n.Run])
				at++
			}
		}
	})
	at := 0
	for _, p := range pieces {
		for m := range p.Near {
			all := pairs[at]
			slices.Sort(all)
			p.Near[m].Low, p.Near[m].Up = all[int(0.025*float64(draws))], all[int(0.975*float64(draws))]
			at++
		}
	}
	return err
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
