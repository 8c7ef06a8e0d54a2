package compare

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"smeltbook/assay/logratio"
)

// Dispersion tells whether groups spread alike.
type Dispersion struct {
	Mean []float64 // mean distance to the centre, by group; stretched by √(n/(n−1)), for few samples lie close to their own mean
	F    float64   // of the distances
	PF   float64   // by the F distribution, which takes the distances for normal
	Permutation
	Why string // why there is no test; empty otherwise
}

// Centre says from where distances are counted.
type Centre int

const (
	FromMean   Centre = iota
	FromMedian        // spatial median
)

// TestDispersion tests whether groups have one spread: an analysis of variance
// of the samples' distances to the spatial median of their group, with the
// residuals dealt out anew (Anderson 2006, Biometrics 62:245; the stretch after
// O'Neill & Mathews 2000, Australian & New Zealand Journal of Statistics
// 42:81). It needs three samples a group: two lie equally far from their
// middle whatever the spread.
func TestDispersion(z [][]float64, r *Relabelling) Dispersion {
	return testDispersion(z, r, FromMedian, true)
}

func testDispersion(z [][]float64, r *Relabelling, from Centre, stretch bool) Dispersion {
	d := Dispersion{Permutation: r.none(), F: math.NaN(), PF: math.NaN()}
	groups, n := len(r.sizes), len(z)
	distance := make([][]float64, n)
	d.Mean = make([]float64, groups)
	for g := range groups {
		var rows [][]float64
		for i, row := range z {
			if r.Group[i] == g {
				rows = append(rows, row)
			}
		}
		if len(rows) < 3 {
			d.Why = "a spread needs three samples in each group"
			d.Mean[g] = math.NaN()
			continue
		}
		at := logratio.Mean(rows)
		if from == FromMedian {
			at = logratio.SpatialMedian(rows)
		}
		f := 1.0
		if stretch {
			f = math.Sqrt(float64(len(rows)) / float64(len(rows)-1))
		}
		for i, row := range z {
			if r.Group[i] == g {
				distance[i] = []float64{f * logratio.Euclid(row, at)}
				d.Mean[g] += distance[i][0] / float64(len(rows))
			}
		}
	}
	if d.Why != "" {
		return d
	}
	residual := make([][]float64, n)
	for i, x := range distance {
		residual[i] = []float64{x[0] - d.Mean[r.Group[i]]}
	}
	c := centred(distance)
	between, within := betweenLabels(c, r.Group, groups), squares(residual)
	if !(within > 0) {
		d.Why = "the distances within each group are equal"
		return d
	}
	df1, df2 := float64(groups-1), float64(n-groups)
	d.F = between / df1 / (within / df2)
	d.PF = distuv.F{D1: df1, D2: df2}.Survival(d.F)
	// F of a relabelling of the residuals grows with its sum of squares
	// between groups, for the total stays.
	phi := d.F * df1 / df2
	count := r.atLeast(residual, within*phi/(1+phi))
	d.P = float64(count+1) / float64(len(r.sets)+1)
	return d
}
