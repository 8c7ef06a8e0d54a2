package logratio_test

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/combin"

	"smeltbook/assay/logratio"
	"smeltbook/assay/logratio/internal/published"
)

// The heights of Ward's method add up: half the sum of their squares is the sum
// of squares of the whole set, for each merge adds half its squared height.
func TestWardHeightsAddUp(t *testing.T) {
	m, _ := published.Kilns(t)
	merges, err := logratio.Cluster(m.Distances(), logratio.Ward)
	if err != nil {
		t.Fatal(err)
	}
	var sum float64
	last := 0.0
	for _, x := range merges {
		sum += x.Height * x.Height / 2
		if x.Height < last {
			t.Errorf("height falls to %g", x.Height)
		}
		last = x.Height
	}
	published.Near(t, "sum of squares", sum, logratio.TotalVariance(m.Clr())*float64(len(m.X)-1))
	if merges[len(merges)-1].Size != len(m.X) {
		t.Errorf("the last cluster has %d samples", merges[len(merges)-1].Size)
	}
}

// Four points on a line at 0, 1, 4 and 6, average linkage by hand: 0–1 at 1,
// 4–6 at 2, then the mean of 4, 6, 3 and 5 = 4.5.
func TestAverageLinkageByHand(t *testing.T) {
	x := []float64{0, 1, 4, 6}
	d := make([][]float64, len(x))
	for i := range x {
		for j := range x {
			d[i] = append(d[i], math.Abs(x[i]-x[j]))
		}
	}
	got, err := logratio.Cluster(d, logratio.Average)
	if err != nil {
		t.Fatal(err)
	}
	want := []logratio.Merge{{A: 0, B: 1, Height: 1, Size: 2}, {A: 2, B: 3, Height: 2, Size: 2}, {A: 4, B: 5, Height: 4.5, Size: 4}}
	if !slices.Equal(got, want) {
		t.Errorf("merges %v, want %v", got, want)
	}
	if sets := logratio.Members(4, got, 2); len(sets) != 2 || !slices.Equal(sets[0], []int{0, 1}) || !slices.Equal(sets[1], []int{2, 3}) {
		t.Errorf("two clusters %v", sets)
	}
}

// Corners of a square are all ties; the order of the samples decides.
func TestClusterTies(t *testing.T) {
	square := [][]float64{{0, 1, math.Sqrt2, 1}, {1, 0, 1, math.Sqrt2}, {math.Sqrt2, 1, 0, 1}, {1, math.Sqrt2, 1, 0}}
	for _, l := range []logratio.Linkage{logratio.Ward, logratio.Average} {
		got, err := logratio.Cluster(square, l)
		if err != nil {
			t.Fatal(err)
		}
		if got[0].A != 0 || got[0].B != 1 || got[1].A != 2 || got[1].B != 3 {
			t.Errorf("%s merges %v", l, got)
		}
	}
}

// The spatial median of a triangle is its Fermat point; where an angle reaches
// 120° it is that corner; on a line it is the median.
func TestSpatialMedian(t *testing.T) {
	for _, c := range []struct {
		name string
		z    [][]float64
		want []float64
	}{
		{"equilateral", [][]float64{{0, 0}, {1, 0}, {0.5, math.Sqrt(3) / 2}}, []float64{0.5, math.Sqrt(3) / 6}},
		{"blunt corner", [][]float64{{0, 0}, {10, 1}, {-10, 1}}, []float64{0, 0}},
		{"line", [][]float64{{0}, {1}, {2}, {3}, {100}}, []float64{2}},
		{"one", [][]float64{{3, 4}}, []float64{3, 4}},
		// A right isosceles triangle: the Fermat point lies on the axis at
		// (3−√3)/6 of the legs.
		{"right angle", [][]float64{{0, 0}, {1, 0}, {0, 1}}, []float64{(3 - math.Sqrt(3)) / 6, (3 - math.Sqrt(3)) / 6}},
	} {
		if got := logratio.SpatialMedian(c.z); logratio.Euclid(got, c.want) > 1e-6 {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// Three odd samples in fourteen hide each other from the plain distance and not
// from the robust one; a clean cloud is called clean.
func TestOutliersDoNotHide(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	clean := make([][]float64, 14)
	for i := range clean {
		clean[i] = []float64{r.NormFloat64(), r.NormFloat64()}
	}
	dirty := slices.Clone(clean)
	for i := range 3 {
		dirty[i] = []float64{14 + r.NormFloat64()/4, 14 + r.NormFloat64()/4}
	}
	ctx := context.Background()
	o, err := logratio.FindOutliers(ctx, dirty, 1)
	if err != nil {
		t.Fatal(err)
	}
	if !o.Robust || !slices.Equal(o.Outside, []int{0, 1, 2}) {
		t.Errorf("outside %v of distances %.1f beyond %.1f", o.Outside, o.D2, o.Cut)
	}
	plain, ok := logratio.Mahalanobis(dirty, logratio.Mean(dirty), logratio.Covariance(dirty))
	if !ok || slices.Max(plain) > logratio.CutBeta(14, 2, 1-0.05/14) {
		t.Errorf("the plain distance sees them: %.1f", plain)
	}
	if o, err = logratio.FindOutliers(ctx, clean, 1); err != nil || len(o.Outside) > 0 {
		t.Errorf("clean cloud: outside %v, %v", o.Outside, err)
	}
}

// Plain distances of n samples sum to (n−1)p, and none exceeds (n−1)²/n, which
// the cut approaches.
func TestCutBeta(t *testing.T) {
	m, _ := published.Kilns(t)
	sub := logratio.Matrix{Parts: m.Parts[:3]}
	for _, x := range m.X {
		sub.X = append(sub.X, x[:3])
	}
	z, err := logratio.Pivot(sub.Parts).Coordinates(sub)
	if err != nil {
		t.Fatal(err)
	}
	d2, ok := logratio.Mahalanobis(z, logratio.Mean(z), logratio.Covariance(z))
	if !ok {
		t.Fatal("no distances")
	}
	var sum float64
	for _, d := range d2 {
		sum += d
	}
	published.Near(t, "sum of squared distances", sum, 18)
	if c := logratio.CutBeta(10, 2, 1-1e-9); c > 8.1 || c < 8 {
		t.Errorf("the largest possible distance is %g, want just below 8.1", c)
	}
}

func TestTooFewForShape(t *testing.T) {
	var tooFew *logratio.TooFew
	z := [][]float64{{0, 0, 0}, {1, 0, 2}, {0, 1, 1}}
	if _, err := logratio.MCD(z, 0, 1); !errors.As(err, &tooFew) || tooFew.Need != 7 {
		t.Errorf("MCD of three samples: %v", err)
	}
	if _, err := logratio.FindOutliers(context.Background(), z, 1); !errors.As(err, &tooFew) {
		t.Errorf("outliers of three samples: %v", err)
	}
	m := logratio.Matrix{Parts: []string{"A", "B"}, X: [][]float64{{1, 2}, {2, 1}}}
	if _, err := m.Principal(); !errors.As(err, &tooFew) {
		t.Errorf("components of two samples: %v", err)
	}
}

// The search by concentration finds the subset that trying all finds.
func TestMCDOfManySamples(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 9))
	z := make([][]float64, 60)
	for i := range z {
		z[i] = []float64{r.NormFloat64(), 2 * r.NormFloat64()}
		if i < 12 {
			z[i][0] += 12
		}
	}
	s, err := logratio.MCD(z, 0, 1)
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Kept) != 45 || s.Kept[0] < 12 {
		t.Errorf("kept %v", s.Kept)
	}
}

// TestTightestSubset compares the search by taking samples away with the plain
// one that forms the covariance of every subset anew.
func TestTightestSubset(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 0))
	for trial := range 60 {
		n, p := 7+trial%6, 1+trial%3
		z := make([][]float64, n)
		for i := range z {
			z[i] = make([]float64, p)
			for j := range z[i] {
				z[i][j] = 5 + r.NormFloat64()*float64(j+1)
			}
		}
		h := (3*n + 3) / 4
		least := math.Inf(1)
		places := make([]int, h)
		for gen := combin.NewCombinationGenerator(n, h); gen.Next(); {
			gen.Combination(places)
			var rows [][]float64
			for _, i := range places {
				rows = append(rows, z[i])
			}
			det := mat.Det(logratio.Covariance(rows))
			least = min(least, det)
		}
		s, err := logratio.MCD(z, h, 1)
		if err != nil {
			t.Fatal(err)
		}
		if got := mat.Det(s.Cov); math.Abs(got-least) > 1e-9*least {
			t.Errorf("%d samples in %d dimensions: determinant %v of %v, the least is %v", n, p, got, s.Kept, least)
		}
	}
}
