package logratio

import (
	"context"
	_ "embed" // the simulated cuts
	"encoding/csv"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"smeltbook/assay/logratio/internal/stream"
)

// CutClouds is the number of simulated clouds behind a robust cut: its 95th
// percentile then stands for a share of 0.05 ± 0.007.
const CutClouds = 1000

// manyCloud is from how many samples on fewer starts do: over a hundred clouds
// without odd samples a hundred starts moved the cut by 2 % at a hundred
// samples and by 7 % at thirty, against five hundred starts.
const (
	manyCloud  = 60
	manyStarts = 200
)

//go:embed robustcuts.csv
var robustCuts string

// RobustCut is what the greatest squared robust distance among n samples of one
// normal cloud in p dimensions exceeds in one case of twenty, distances from
// the tightest three quarters as MCD finds them. It depends on n and p alone, so
// that it was simulated beforehand (robustcuts.csv, written by
// go run ./assay/logratio/cuts); between the sizes there, and towards very many
// samples, the ratio to the cut of the trimmed limit is interpolated along 1/n.
// Dimensions beyond the table are simulated now, by the seed.
func RobustCut(ctx context.Context, n, p int, seed uint64) (float64, error) {
	table, err := readCuts()
	if err != nil {
		return 0, err
	}
	knots := table[p]
	if len(knots) == 0 || n < knots[0].n {
		return SimulateCut(ctx, n, p, CutClouds, stream.Seed(seed, "outlier"))
	}
	at, found := slices.BinarySearchFunc(knots, n, func(k cutKnot, n int) int { return k.n - n })
	if found {
		return knots[at].cut, nil
	}
	low := knots[at-1]
	x, from, to := 1/float64(n), 1/float64(low.n), 0.0
	near, far := math.Log(low.cut/limitCut(low.n, p)), 0.0
	if at < len(knots) {
		to, far = 1/float64(knots[at].n), math.Log(knots[at].cut/limitCut(knots[at].n, p))
	}
	return limitCut(n, p) * math.Exp(near+(far-near)*(x-from)/(to-from)), nil
}

// SimulateCut finds the cut from simulated clouds.
func SimulateCut(ctx context.Context, n, p, clouds int, seed uint64) (float64, error) {
	starts := mcdStarts
	if n > manyCloud {
		starts = manyStarts
	}
	farthest := make([]float64, clouds)
	err := stream.Each(ctx, seed, clouds, nil, func(i int, r *rand.Rand) {
		cloud := make([][]float64, n)
		for k := range cloud {
			cloud[k] = make([]float64, p)
			for j := range p {
				cloud[k][j] = r.NormFloat64()
			}
		}
		if d2, ok := robustDistances(cloud, starts, seed); ok {
			farthest[i] = slices.Max(d2)
		}
	})
	if err != nil {
		return 0, err
	}
	slices.Sort(farthest)
	return stat.Quantile(0.95, stat.Empirical, farthest, nil), nil
}

// limitCut is the cut as it were if centre and covariance were known but for
// the trimming of the tightest subset, whose covariance is too small by the
// factor of consistency (Croux & Haesbroeck 1999, Journal of Multivariate
// Analysis 71:161).
func limitCut(n, p int) float64 {
	kept := float64(subsetSize(n, p)) / float64(n)
	return consistency(kept, p) * CutChiSquared(p, math.Pow(0.95, 1/float64(n)))
}

// consistency is the ratio of the covariance of a normal cloud to that of the
// share of it that is nearest to its middle.
func consistency(kept float64, p int) float64 {
	return kept / distuv.ChiSquared{K: float64(p + 2)}.CDF(CutChiSquared(p, kept))
}

// cutKnot is the cut of one number of samples.
type cutKnot struct {
	n   int
	cut float64
}

// readCuts returns the simulated cuts by dimension, samples rising.
func readCuts() (map[int][]cutKnot, error) {
	rows, err := csv.NewReader(strings.NewReader(robustCuts)).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("robustcuts.csv: %w", err)
	}
	out := map[int][]cutKnot{}
	for _, row := range rows[1:] {
		p, errP := strconv.Atoi(row[0])
		n, errN := strconv.Atoi(row[1])
		cut, errC := strconv.ParseFloat(row[2], 64)
		if errP != nil || errN != nil || errC != nil {
			return nil, fmt.Errorf("robustcuts.csv: %s is no cut", strings.Join(row, ", "))
		}
		out[p] = append(out[p], cutKnot{n, cut})
	}
	return out, nil
}
