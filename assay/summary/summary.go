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

// Group summarises one variable over the samples of a group.
type Group struct {
	N        int // samples with a number
	Censored int // samples below detection
	Absent   int // samples without any statement
	Mean     float64
	SD       float64 // between samples, n − 1; NaN below two
	Median   float64
	Min, Max float64
	// MeanLow and MeanHigh bound the mean when samples below detection are
	// counted as zero and as their limit. Without such samples both equal Mean.
	// Where a limit is not stated MeanHigh is NaN.
	MeanLow, MeanHigh float64
	U                 float64 // root mean square of the samples' own standard uncertainties; NaN when none has one
	Unit              string
}

// Of summarises the quantities of a group.
func Of(qs []quantity.Quantity) Group {
	g := Group{Mean: math.NaN(), SD: math.NaN(), Median: math.NaN(), Min: math.NaN(), Max: math.NaN(),
		MeanLow: math.NaN(), MeanHigh: math.NaN(), U: math.NaN()}
	var xs []float64
	var u2, limits float64
	var nu int
	for _, q := range qs {
		if q.Unit != "" {
			g.Unit = q.Unit
		}
		switch {
		case q.Known():
			xs = append(xs, q.Value)
			if q.HasU() {
				u2 += q.U * q.U
				nu++
			}
		case q.Class.Censored():
			g.Censored++
			limits += q.Limit
		default:
			g.Absent++
		}
	}
	g.N = len(xs)
	if nu > 0 {
		g.U = math.Sqrt(u2 / float64(nu))
	}
	if g.N == 0 {
		if g.Censored > 0 {
			g.MeanLow, g.MeanHigh = 0, limits/float64(g.Censored)
		}
		return g
	}
	slices.Sort(xs)
	g.Min, g.Max = xs[0], xs[len(xs)-1]
	g.Median = median(xs)
	g.Mean = stat.Mean(xs, nil)
	if g.N > 1 {
		g.SD = stat.StdDev(xs, nil)
	}
	all := float64(g.N + g.Censored)
	g.MeanLow = g.Mean * float64(g.N) / all
	g.MeanHigh = (g.Mean*float64(g.N) + limits) / all
	return g
}

func median(sorted []float64) float64 {
	n := len(sorted)
	if n%2 == 1 {
		return sorted[n/2]
	}
	return (sorted[n/2-1] + sorted[n/2]) / 2
}

// UMean returns the standard uncertainty of the mean from the scatter between
// samples, SD/√n. With one sample the scatter is unknown and the sample's own
// uncertainty is returned.
func (g Group) UMean() float64 {
	if g.N == 1 {
		return g.U
	}
	return g.SD / math.Sqrt(float64(g.N))
}

// UMedian returns the standard uncertainty of the median of a normal sample,
// √(π/2)·SD/√n (Kendall & Stuart, The Advanced Theory of Statistics; from
// memory). It is a large-sample value and rough below ten samples.
func (g Group) UMedian() float64 {
	if g.N < 3 {
		return g.UMean()
	}
	return math.Sqrt(math.Pi/2) * g.UMean()
}

// Difference compares the means of two groups.
type Difference struct {
	Value     float64 // mean of a − mean of b
	U         float64 // standard uncertainty, √(s²a/na + s²b/nb)
	DoF       float64 // effective degrees of freedom (Welch–Satterthwaite)
	Low, High float64 // 95 % interval
	Why       string  // why there is no number or no interval, empty otherwise
}

// Between returns the difference of means after Welch (1947, Biometrika
// 34:28). The groups' scatter already holds the random part of the assay
// error; a bias common to both groups cancels. It gives no number when
// samples below detection make a mean uncertain, and no interval when a group
// has fewer than two samples.
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
	d.Value = a.Mean - b.Mean
	if a.N < 2 || b.N < 2 {
		d.Why = "a group of one has no scatter"
		return d
	}
	va, vb := a.SD*a.SD/float64(a.N), b.SD*b.SD/float64(b.N)
	d.U = math.Sqrt(va + vb)
	if d.U == 0 {
		d.Why = "all values are equal"
		return d
	}
	d.DoF = (va + vb) * (va + vb) / (va*va/float64(a.N-1) + vb*vb/float64(b.N-1))
	t := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: d.DoF}.Quantile(0.975)
	d.Low, d.High = d.Value-t*d.U, d.Value+t*d.U
	return d
}
