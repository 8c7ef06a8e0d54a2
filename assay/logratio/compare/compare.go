// Package compare asks of two groups of few samples whether their compositions
// differ, in place and in spread, and whether they are alike within a margin
// stated beforehand. Not to find a difference is not to show likeness; the two
// questions have answers of their own.
//
// Tests are by permutation: no shape of the clouds is taken for granted but
// that, were there no difference, the groups could have been told apart by
// chance alone. All relabellings are tried where they can be, and the smallest
// p that so few samples can reach is part of the answer.
package compare

import (
	"context"
	"fmt"

	"smeltbook/assay/logratio"
)

// Input is two groups of samples. Group 0 is put to the test; group 1 is the
// one whose scatter is the measure.
type Input struct {
	Table logratio.Table
	Group []int     // of every sample, 0 or 1
	Names [2]string // as printed
	// Units names what each sample is a piece of, such as its firing; "" for one
	// that stands for itself. nil where every sample does.
	Units []string
}

// Options are what the answer depends on besides the data. A zero is replaced
// by the default behind it.
type Options struct {
	Basis        logratio.Basis       // of the parts of the table; default partition
	Replacement  logratio.Replacement // logratio.Simple
	Margin       float64              // in units of the scatter of group 1; DefaultMargin
	Permutations int                  // DefaultPermutations, where not all can be tried
	Draws        int                  // of the uncertainty; DefaultDraws, negative for none
	Seed         uint64
	Progress     func(done, total int) // of the draws; may be nil
}

// Defaults of Options.
const (
	DefaultMargin       = 1.0
	DefaultPermutations = 9999
	DefaultDraws        = 1000
)

// Alpha is the level of every test and bound: one in twenty.
const Alpha = 0.05

// Result is the whole comparison.
type Result struct {
	Names       [2]string
	N           [2]int
	Units       [2]int // firings or the like that the samples are pieces of
	Parts       []string
	Basis       logratio.Basis
	Replacement logratio.Replacement
	Replaced    int          // values below a limit that were replaced
	Centres     [2][]float64 // of the groups, closed to 100
	Location    Location
	Dispersion  Dispersion
	Hotelling   Hotelling
	Equivalence Equivalence
	Balances    []BalanceTest
	Uncertainty *Uncertainty // nil where nothing was drawn
	Influence   []Influence
	Sensitivity []Variant
}

func (o Options) withDefaults(t logratio.Table) Options {
	if o.Basis.Balances == nil {
		o.Basis = logratio.DefaultPartition(t.Parts)
	}
	if o.Replacement == "" {
		o.Replacement = logratio.Simple
	}
	if o.Margin == 0 {
		o.Margin = DefaultMargin
	}
	if o.Permutations == 0 {
		o.Permutations = DefaultPermutations
	}
	if o.Draws == 0 {
		o.Draws = DefaultDraws
	}
	return o
}

// Groups compares the two groups of in.
func Groups(ctx context.Context, in Input, o Options) (Result, error) {
	o = o.withDefaults(in.Table)
	r, err := answer(ctx, in, o, o.Permutations)
	if err != nil {
		return Result{}, err
	}
	if r.Balances, err = balances(ctx, in, o); err != nil {
		return Result{}, err
	}
	if o.Draws > 0 && in.Table.HasSpread() {
		if r.Uncertainty, err = drawn(ctx, in, o); err != nil {
			return Result{}, err
		}
	}
	if r.Influence, err = influence(ctx, in, o); err != nil {
		return Result{}, err
	}
	if r.Sensitivity, err = sensitivity(ctx, in, o, r); err != nil {
		return Result{}, err
	}
	return r, nil
}

// answer gives the tests and the verdict without what is drawn or varied.
func answer(ctx context.Context, in Input, o Options, permutations int) (Result, error) {
	z, m, err := in.coordinates(o)
	if err != nil {
		return Result{}, err
	}
	r := Result{Names: in.Names, Parts: in.Table.Parts, Basis: o.Basis, Replacement: o.Replacement}
	for _, n := range in.Table.Censored() {
		r.Replaced += n
	}
	for g := range 2 {
		places := in.members(g)
		r.N[g], r.Units[g] = len(places), len(in.units(places))
		sub := logratio.Matrix{Parts: m.Parts}
		for _, i := range places {
			sub.X = append(sub.X, m.X[i])
		}
		r.Centres[g] = sub.Centre(100)
	}
	labels, err := NewRelabelling(ctx, in.Group, permutations, o.Seed)
	if err != nil {
		return Result{}, err
	}
	r.Location = TestLocation(z, labels)
	r.Dispersion = TestDispersion(z, labels)
	r.Hotelling = TestHotelling(z, in.Group)
	r.Equivalence, err = equivalence(ctx, z, labels, o.Margin)
	return r, err
}

// coordinates checks the input and returns its coordinates and the completed
// table.
func (in Input) coordinates(o Options) ([][]float64, logratio.Matrix, error) {
	if in.Units != nil && len(in.Units) != len(in.Table.Values) {
		return nil, logratio.Matrix{}, fmt.Errorf("%d units are named for %d samples", len(in.Units), len(in.Table.Values))
	}
	if len(in.Group) != len(in.Table.Values) {
		return nil, logratio.Matrix{}, fmt.Errorf("%d groups are named for %d samples", len(in.Group), len(in.Table.Values))
	}
	for g := range 2 {
		if len(in.members(g)) == 0 {
			return nil, logratio.Matrix{}, fmt.Errorf("%s holds no sample with all parts", in.Names[g])
		}
	}
	for i, g := range in.Group {
		if g != 0 && g != 1 {
			return nil, logratio.Matrix{}, fmt.Errorf("%s is in group %d; there are two, 0 and 1", in.Table.Samples[i], g)
		}
	}
	m, err := in.Table.Complete(o.Replacement)
	if err != nil {
		return nil, logratio.Matrix{}, err
	}
	z, err := o.Basis.Coordinates(m)
	return z, m, err
}

// members returns the places of a group's samples.
func (in Input) members(g int) []int {
	var out []int
	for i, x := range in.Group {
		if x == g {
			out = append(out, i)
		}
	}
	return out
}
