// Package summary describes a group of few samples by one variable and
// compares two groups. It works on raw percentages and derived numbers one
// variable at a time; percentages of a closed analysis are not independent of
// each other, so several of its differences must not be added up to one
// verdict.
package summary

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"smeltbook/assay/quantity"
)

// Bounds are the least and the greatest that a figure can be when samples
// below detection are counted as zero and as their limit. Where a limit is not
// stated High may be +Inf. Without such samples both are the figure itself.
type Bounds struct{ Low, High float64 }

// Known reports whether the samples below detection leave the figure open.
func (b Bounds) Known() bool { return b.Low == b.High }

// Value returns the figure, NaN where it is open.
func (b Bounds) Value() float64 {
	if b.Known() {
		return b.Low
	}
	return math.NaN()
}

// Group summarises one variable over the samples of a group.
type Group struct {
	N        int // samples with a number
	Censored int // samples below detection
	Absent   int // samples without any statement
	// The figures of all samples that say something, those below detection
	// included. NaN where there are none.
	Mean, Median, Min, Max Bounds
	SD                     float64 // between the measured samples, n − 1; NaN below two
	U                      float64 // root mean square of the samples' own standard uncertainties; NaN when none has one
	Unit                   string
}

// Of summarises the quantities of a group.
func Of(qs []quantity.Quantity) Group {
	g := Group{SD: math.NaN(), U: math.NaN()}
	var measured, low, high []float64
	var u2 float64
	var nu int
	for _, q := range qs {
		if q.Unit != "" {
			g.Unit = q.Unit
		}
		switch {
		case q.Known():
			measured, low, high = append(measured, q.Value), append(low, q.Value), append(high, q.Value)
			if q.HasU() {
				u2 += q.U * q.U
				nu++
			}
		case q.Class.Censored():
			g.Censored++
			limit := q.Limit
			if math.IsNaN(limit) {
				limit = math.Inf(1)
			}
			low, high = append(low, 0), append(high, limit)
		default:
			g.Absent++
		}
	}
	g.N = len(measured)
	if nu > 0 {
		g.U = math.Sqrt(u2 / float64(nu))
	}
	if g.N > 1 {
		g.SD = stat.StdDev(measured, nil)
	}
	slices.Sort(low)
	slices.Sort(high)
	over := func(f func([]float64) float64) Bounds {
		if len(low) == 0 {
			return Bounds{math.NaN(), math.NaN()}
		}
		return Bounds{f(low), f(high)}
	}
	g.Mean = over(func(xs []float64) float64 { return stat.Mean(xs, nil) })
	g.Median = over(median)
	g.Min = over(func(sorted []float64) float64 { return sorted[0] })
	g.Max = over(func(sorted []float64) float64 { return sorted[len(sorted)-1] })
	return g
}

func median(sorted []float64) float64 {
	n := len(sorted)
	if n%2 == 1 {
		return sorted[n/2]
	}
	return (sorted[n/2-1] + sorted[n/2]) / 2
}

// UMean returns the standard uncertainty of the mean: the scatter between the
// samples, which holds the random part of the error of the analysis, over √n,
// but no less than the samples' own standard uncertainty over √n, since few
// samples may agree by chance. With one sample it is that sample's own.
func (g Group) UMean() float64 {
	s := g.SD
	if math.IsNaN(s) || g.U > s {
		s = g.U
	}
	return s / math.Sqrt(float64(g.N))
}

// UMedian returns the standard uncertainty of the median of a normal sample,
// √(π/2)·s/√n (Kendall & Stuart, The Advanced Theory of Statistics; from
// memory), with s as in UMean. It is a large-sample value and rough below ten
// samples.
func (g Group) UMedian() float64 {
	if g.N < 3 {
		return g.UMean()
	}
	return math.Sqrt(math.Pi/2) * g.UMean()
}

// Difference compares the means of two groups.
type Difference struct {
	Value     float64 // mean of a − mean of b; NaN where there is none
	U         float64 // standard uncertainty; NaN when unknown
	DoF       float64 // effective degrees of freedom (Welch–Satterthwaite); NaN without interval
	Low, High float64 // 95 % interval; NaN where there is none
	Why       string  // why there is no number or no interval, empty otherwise
}

// Between returns the difference of means after Welch (1947, Biometrika
// 34:28). The groups must not share samples. The scatter already holds the
// random part of the assay error; a bias common to both groups cancels. It
// gives no number when samples below detection leave a mean open, and no
// interval when a group has fewer than two samples: then the uncertainty rests
// on the samples' own.
func Between(a, b Group) Difference {
	d := Difference{Value: math.NaN(), U: math.NaN(), DoF: math.NaN(), Low: math.NaN(), High: math.NaN()}
	switch {
	case a.N == 0 || b.N == 0:
		d.Why = "one side has no measured value"
		return d
	case a.Censored > 0 || b.Censored > 0:
		d.Why = fmt.Sprintf("%d of %d values are below detection", a.Censored+b.Censored, a.N+b.N+a.Censored+b.Censored)
		return d
	}
	d.Value = a.Mean.Value() - b.Mean.Value()
	d.U = math.Hypot(a.UMean(), b.UMean())
	va, vb := a.SD*a.SD/float64(a.N), b.SD*b.SD/float64(b.N)
	switch {
	case a.N < 2 || b.N < 2:
		d.Why = "a group of one has no scatter, so there is no 95 % interval"
		return d
	case va+vb == 0:
		d.Why = "the values of each group are equal, so there is no 95 % interval"
		return d
	}
	d.DoF = (va + vb) * (va + vb) / (va*va/float64(a.N-1) + vb*vb/float64(b.N-1))
	t := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: d.DoF}.Quantile(0.975)
	d.Low, d.High = d.Value-t*d.U, d.Value+t*d.U
	return d
}
