// Package likeness asks which firing of replicas each excavated sample is most
// like, how surely, and in what the two differ; and for every replica, whether
// it would pass for one more piece of the excavated site.
package likeness

import (
	"context"
	"fmt"

	"smeltbook/assay/logratio"
)

// Run is a firing with the rows of its samples.
type Run struct {
	Name string
	Rows []int
}

// Extra is a variable beside the parts, such as a liquidus, in the order of the
// table's rows; NaN where a sample has none.
type Extra struct {
	Name, Unit string
	Values     []float64
}

// Input is excavated and replica samples in one table.
type Input struct {
	Table     logratio.Table
	Excavated []int
	Runs      []Run
	Extras    []Extra
}

// Options are what the answer depends on besides the data.
type Options struct {
	Basis       logratio.Basis       // default partition where it has no balances
	Replacement logratio.Replacement // logratio.Simple where empty
	Draws       int                  // DefaultDraws where 0
	Keep        int                  // how many runs are told of each piece; all where 0
	Seed        uint64
	Progress    func(done, total int) // may be nil
}

// DefaultDraws is the number of draws behind the probabilities: they are then
// good to about 0.02.
const DefaultDraws = 2000

// Result is the answer for every excavated sample and every run.
type Result struct {
	Basis     logratio.Basis
	Pieces    []Piece
	Clouds    []Cloud
	Smallest  float64 // tail probability that the excavated samples can reach at best, 1/(n+1)
	NoScatter bool    // no run has two samples, so that probabilities carry no scatter between pieces
}

// Find answers for the samples of in.
func Find(ctx context.Context, in Input, o Options) (Result, error) {
	if len(in.Excavated) == 0 || len(in.Runs) == 0 {
		return Result{}, fmt.Errorf("likeness needs excavated samples and runs; there are %d and %d", len(in.Excavated), len(in.Runs))
	}
	for _, r := range in.Runs {
		if len(r.Rows) == 0 {
			return Result{}, fmt.Errorf("%s has no sample", r.Name)
		}
	}
	if o.Basis.Balances == nil {
		o.Basis = logratio.DefaultPartition(in.Table.Parts)
	}
	if o.Replacement == "" {
		o.Replacement = logratio.Simple
	}
	if o.Draws <= 0 {
		o.Draws = DefaultDraws
	}
	if o.Keep <= 0 {
		o.Keep = len(in.Runs)
	}
	m, err := in.Table.Complete(o.Replacement)
	if err != nil {
		return Result{}, err
	}
	z, err := o.Basis.Coordinates(m)
	if err != nil {
		return Result{}, err
	}
	res := Result{Basis: o.Basis, Smallest: 1 / float64(len(in.Excavated)+1)}
	residuals := within(z, in.Runs)
	res.NoScatter = len(residuals) == 0
	if res.Pieces, err = nearest(ctx, in, o, z, residuals); err != nil {
		return Result{}, err
	}
	for k := range in.Runs {
		res.Clouds = append(res.Clouds, inCloud(z, in, k))
	}
	return res, nil
}

func rowsAt(z [][]float64, places []int) [][]float64 {
	out := make([][]float64, len(places))
	for k, i := range places {
		out[k] = z[i]
	}
	return out
}
