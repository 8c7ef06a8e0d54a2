package uncertainty

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
)

// Settings of a Monte Carlo run.
type Settings struct {
	Trials   int     // fixed number of trials; 0: adaptive
	Seed     uint64  // the same seed gives the same answer
	Coverage float64 // probability of the intervals; 0: 0.95
}

// Result is the distribution of a result as the trials found it.
type Result struct {
	Summary
	Trials int
	Failed int  // trials in which the function had no finite value; they are left out
	Stable bool // the adaptive rule was met, or a fixed number was asked for
}

const (
	batch      = 10_000 // trials in one step of the adaptive rule (JCGM 101:2008, 7.9.4 b)
	maxBatches = 1_000
)

// MonteCarlo draws the inputs and computes the result in every trial (JCGM
// 101:2008, clause 7). With Settings.Trials 0 it goes on in batches until mean,
// standard deviation and both ends of the equal-tailed interval are stable to
// half a unit in the second significant figure of the standard deviation (7.9).
// Correlated inputs must be normal. It fails on impossible inputs, on a
// function that has no value in most trials, and when ctx ends.
func MonteCarlo(ctx context.Context, in []Input, c Correlation, f Function, s Settings) (Result, error) {
	d, err := NewSampler(in, c)
	if err != nil {
		return Result{}, err
	}
	if s.Coverage == 0 {
		s.Coverage = 0.95
	}
	if s.Trials < 0 || s.Trials == 1 || !(s.Coverage > 0 && s.Coverage < 1) {
		return Result{}, fmt.Errorf("%d trials with a coverage of %g give no interval", s.Trials, s.Coverage)
	}
	r := rand.New(rand.NewPCG(s.Seed, 0))
	x := make([]float64, len(in))
	var values []float64
	out := Result{}
	run := func(n int) {
		for range n {
			d.Draw(r, x)
			y := f(x)
			out.Trials++
			if math.IsNaN(y) || math.IsInf(y, 0) {
				out.Failed++
				continue
			}
			values = append(values, y)
		}
	}
	finish := func() (Result, error) {
		if len(values) < 2 || out.Failed > out.Trials/2 {
			return Result{}, fmt.Errorf("the function has no finite value in %d of %d trials", out.Failed, out.Trials)
		}
		out.Summary = Summarise(values, s.Coverage)
		return out, nil
	}
	if s.Trials > 0 {
		for left := s.Trials; left > 0; left -= batch {
			if err := ctx.Err(); err != nil {
				return Result{}, err
			}
			run(min(left, batch))
		}
		out.Stable = true
		return finish()
	}
	var stats [4]Moments // of the batches: mean, sd, low, high
	var all Moments
	for h := 1; h <= maxBatches && !out.Stable; h++ {
		if err := ctx.Err(); err != nil {
			return Result{}, err
		}
		from := len(values)
		run(batch)
		if len(values)-from < batch/2 {
			return finish()
		}
		for _, y := range values[from:] {
			all.Add(y)
		}
		b := Summarise(values[from:], s.Coverage)
		for i, y := range [4]float64{b.Mean, b.SD, b.Low, b.High} {
			stats[i].Add(y)
		}
		out.Stable = h > 1 && settled(stats[:], all.SD(), h)
	}
	return finish()
}

// settled is the rule of JCGM 101:2008, 7.9.4: twice the standard error of each
// statistic over h batches is below the numerical tolerance of u.
func settled(stats []Moments, u float64, h int) bool {
	if u == 0 {
		return true
	}
	tolerance := 0.5 * math.Pow(10, math.Floor(math.Log10(u))-1)
	for _, m := range stats {
		if 2*m.SD()/math.Sqrt(float64(h)) > tolerance {
			return false
		}
	}
	return true
}
