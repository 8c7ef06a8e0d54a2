package compare

import (
	"context"
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"smeltbook/assay/logratio"
	"smeltbook/assay/logratio/internal/stream"
)

// Verdict is what the samples can show about likeness.
type Verdict string

const (
	Alike     Verdict = "alike"     // within the margin, whatever of its likely values the scatter has
	AlikeHere Verdict = "alikehere" // within the margin as the scatter of these pieces goes
	Open      Verdict = "open"      // neither shown
	Different Verdict = "different" // apart by more than the margin
)

// Equivalence asks whether the centres lie within a margin that is stated in
// units of the scatter of group 1 from piece to piece.
type Equivalence struct {
	Distance   float64 // Aitchison distance of the centres
	Low, Up    float64 // 95 % bounds of it, each one-sided; Up is +Inf where so few samples give none
	Chance     float64 // distance that two such groups of one centre have by chance (root mean square)
	Scatter    float64 // of group 1: root mean square distance of pieces from their centre; NaN below two
	ScatterLow float64 // 95 % bounds, each one-sided
	ScatterUp  float64
	Margin     float64 // in units of the scatter
	Verdict    Verdict
}

// Ratio is the distance in units of the scatter.
func (e Equivalence) Ratio() float64 { return e.Distance / e.Scatter }

const (
	boundLabels    = 2500 // relabellings used for a bound
	boundPairs     = 60   // pairs of samples of a group whose directions are looked at
	boundTried     = 5    // directions, the widest of them, in which the bound is found by permutation
	boundBisection = 14
)

// equivalence works in the manner of two one-sided tests: likeness is shown
// only when the hypothesis "apart by the margin or more" is refuted. The upper
// bound of the distance is the largest shift along any direction that a
// studentised permutation test does not refute, the lower one the smallest
// shift along the line of centres that the test of location does not refute.
// The bounds of the scatter take its square for χ² with n − 1 degrees of freedom
// in each of (tr S)²/tr S² directions.
func equivalence(ctx context.Context, z [][]float64, r *Relabelling, margin float64) (Equivalence, error) {
	var rows [2][][]float64
	for i, row := range z {
		rows[r.Group[i]] = append(rows[r.Group[i]], row)
	}
	n := [2]float64{float64(len(rows[0])), float64(len(rows[1]))}
	a, b := logratio.Mean(rows[0]), logratio.Mean(rows[1])
	v := [2]float64{logratio.TotalVariance(rows[0]), logratio.TotalVariance(rows[1])}
	e := Equivalence{Margin: margin, Verdict: Open, Distance: logratio.Euclid(a, b), Up: math.Inf(1),
		Scatter: math.Sqrt(v[1]), Chance: math.Sqrt(v[0]/n[0] + v[1]/n[1]), ScatterLow: math.NaN(), ScatterUp: math.NaN()}
	if n[1] < 2 || !(v[1] > 0) {
		return e, nil
	}
	chi := distuv.ChiSquared{K: (n[1] - 1) * logratio.EffectiveDimension(rows[1])}
	e.ScatterLow = e.Scatter * math.Sqrt(chi.K/chi.Quantile(1-Alpha))
	e.ScatterUp = e.Scatter * math.Sqrt(chi.K/chi.Quantile(Alpha))
	short := r.first(boundLabels)
	e.Low = lowerShift(z, short, a, b)
	if n[0] > 1 {
		var err error
		if e.Up, err = upperShift(ctx, z, short, rows, a, b); err != nil {
			return e, err
		}
	}
	switch {
	case e.Up <= margin*e.ScatterLow:
		e.Verdict = Alike
	case e.Up <= margin*e.Scatter:
		e.Verdict = AlikeHere
	case e.Low >= margin*e.Scatter:
		e.Verdict = Different
	}
	return e, nil
}

// lowerShift bisects for the smallest part of the difference of centres that,
// taken off, leaves groups the test of location cannot tell apart.
func lowerShift(z [][]float64, r *Relabelling, a, b []float64) float64 {
	moved := make([][]float64, len(z))
	p := func(share float64) float64 {
		for i, row := range z {
			if r.Group[i] != 0 {
				moved[i] = row
				continue
			}
			moved[i] = make([]float64, len(row))
			for j, v := range row {
				moved[i][j] = v - share*(a[j]-b[j])
			}
		}
		return TestLocation(moved, r).P
	}
	if p(0) > Alpha {
		return 0
	}
	low, high := 0.0, 1.0
	for range boundBisection {
		mid := (low + high) / 2
		if p(mid) > Alpha {
			high = mid
		} else {
			low = mid
		}
	}
	return low * logratio.Euclid(a, b)
}

// upperShift takes the largest of the bounds along those directions in which
// Welch's interval reaches farthest.
func upperShift(ctx context.Context, z [][]float64, r *Relabelling, rows [2][][]float64, a, b []float64) (float64, error) {
	casts := directions(rows, a, b)
	far := make([]float64, len(casts))
	for k, u := range casts {
		x, y := along(rows[0], u), along(rows[1], u)
		d := stat.Mean(x, nil) - stat.Mean(y, nil)
		if d < 0 { // the other way round it reaches farther
			d = -d
			for j := range u {
				u[j] = -u[j]
			}
		}
		se := math.Sqrt(stat.Variance(x, nil)/float64(len(x)) + stat.Variance(y, nil)/float64(len(y)))
		far[k] = d + 2*se
	}
	tried := append([]int{0}, widest(far, boundTried)...)
	up := make([]float64, len(tried))
	err := stream.Each(ctx, 0, len(tried), nil, func(k int, _ *rand.Rand) {
		u := casts[tried[k]]
		up[k] = r.upperAlong(along(z, u))
	})
	var most float64
	for _, x := range up {
		most = max(most, x)
	}
	return most, err
}

// directions are those in which a shift may hide: the line of centres, the lines
// between samples of a group, and those half way between. They turn with the
// samples, so that no basis is favoured.
func directions(rows [2][][]float64, a, b []float64) [][]float64 {
	centres := direction(a, b)
	out := [][]float64{centres}
	for _, group := range rows {
		pairs := len(group) * (len(group) - 1) / 2
		every := (pairs + boundPairs - 1) / boundPairs
		k := 0
		for i := range group {
			for j := range i {
				if k++; k%every != 0 {
					continue
				}
				u := direction(group[i], group[j])
				less, more := make([]float64, len(u)), make([]float64, len(u))
				for c := range u {
					less[c], more[c] = -u[c], u[c]
				}
				out = append(out, u, direction(centres, less), direction(centres, more))
			}
		}
	}
	return out
}

// direction is the unit vector from b to a; the first axis where they are one.
func direction(a, b []float64) []float64 {
	u := make([]float64, len(a))
	length := logratio.Euclid(a, b)
	if !(length > 0) {
		u[0] = 1
		return u
	}
	for j := range u {
		u[j] = (a[j] - b[j]) / length
	}
	return u
}

func along(z [][]float64, u []float64) []float64 {
	out := make([]float64, len(z))
	for i, row := range z {
		for j, v := range row {
			out[i] += v * u[j]
		}
	}
	return out
}

// widest returns the places of the k largest values, the first of equals.
func widest(x []float64, k int) []int {
	var out []int
	used := make([]bool, len(x))
	for range min(k, len(x)) {
		best := -1
		for i, v := range x {
			if !used[i] && (best < 0 || v > x[best]) {
				best = i
			}
		}
		used[best] = true
		out = append(out, best)
	}
	return out
}
