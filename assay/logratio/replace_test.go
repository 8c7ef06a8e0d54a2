package logratio_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"smeltbook/assay/logratio"
	"smeltbook/assay/logratio/internal/published"
)

// Whatever stands for a value below its limit lies below it, and ratios of
// measured parts stay as they were.
func TestReplacementKeepsRatios(t *testing.T) {
	table, _ := published.Laos(t, published.NineParts...)
	for _, r := range logratio.Replacements() {
		m, err := table.Complete(r)
		if err != nil {
			t.Fatalf("%s: %v", r, err)
		}
		for i, row := range table.Values {
			first := slices.IndexFunc(row, func(v logratio.Value) bool { return !v.Below() })
			var sum float64
			for j, v := range row {
				sum += m.X[i][j]
				switch {
				case v.Below() && (m.X[i][j] <= 0 || m.X[i][j] > v.Limit*(1+1e-12)):
					t.Errorf("%s puts %g for < %g", r, m.X[i][j], v.Limit)
				case !v.Below() && math.Abs(m.X[i][j]/m.X[i][first]-v.X/row[first].X) > 1e-9:
					t.Errorf("%s changes the ratio of %s", r, table.Parts[j])
				}
			}
			if math.Abs(sum-100) > 1e-9 {
				t.Errorf("%s makes %s sum to %g", r, table.Samples[i], sum)
			}
		}
	}
}

// Of many samples of one normal cloud with a third below a limit the EM
// algorithm gives the mean log-ratio back; a fixed fraction of the limit misses
// it.
func TestEMFindsTheMean(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	const n, mu, limit = 400, math.Pi / 3, 2.0
	values := make([][]logratio.Value, n)
	var truth, base float64
	for i := range values {
		a := r.NormFloat64()
		b := mu + 0.8*a + 0.9*r.NormFloat64() // ln of the part against the first
		truth += b / n
		values[i] = []logratio.Value{logratio.Measured(1, 0), logratio.Measured(math.Exp(a), 0), logratio.Measured(math.Exp(b), 0)}
		if math.Exp(b) < limit {
			values[i][2] = logratio.Under(limit)
			base++
		}
	}
	table, err := logratio.NewTable([]string{"X", "Y", "Z"}, make([]string, n), values)
	if err != nil {
		t.Fatal(err)
	}
	mean := func(rep logratio.Replacement) float64 {
		m, err := table.Complete(rep)
		if err != nil {
			t.Fatal(err)
		}
		var s float64
		for _, x := range m.X {
			s += math.Log(x[2]/x[0]) / n
		}
		return s
	}
	if base < n/4 || base > n/2 {
		t.Fatalf("%g of %d below the limit", base, n)
	}
	em, simple := math.Abs(mean(logratio.EM)-truth), math.Abs(mean(logratio.Whole)-truth)
	if em > 0.05 || em > simple/2 {
		t.Errorf("EM is off by %g, the limit itself by %g", em, simple)
	}
}

func TestEMRefusesFewSamples(t *testing.T) {
	table, site := published.Laos(t, published.NineParts...)
	var few []int
	for i, s := range site {
		if s == 0 {
			few = append(few, i)
		}
	}
	_, err := table.Rows(few).Complete(logratio.EM)
	var tooFew *logratio.TooFew
	if !errors.As(err, &tooFew) || tooFew.Have != 5 || tooFew.Need != 10 || !strings.Contains(err.Error(), "there are 5") {
		t.Errorf("error %v", err)
	}
}

func TestTableRefuses(t *testing.T) {
	good := logratio.Measured(1, 0.1)
	for _, c := range []struct {
		name   string
		values []logratio.Value
		want   string
	}{
		{"zero", []logratio.Value{good, logratio.Measured(0, 0)}, "no logarithm"},
		{"negative", []logratio.Value{good, logratio.Measured(-1, 0)}, "no logarithm"},
		{"no limit", []logratio.Value{good, logratio.Under(math.NaN())}, "without a limit"},
		{"no number", []logratio.Value{logratio.Under(1), logratio.Under(2)}, "every part below"},
		{"short", []logratio.Value{good}, "1 values for 2 parts"},
		{"uncertainty", []logratio.Value{good, logratio.Measured(1, -1)}, "the uncertainty -1"},
	} {
		if _, err := logratio.NewTable([]string{"A", "B"}, []string{"s"}, [][]logratio.Value{c.values}); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v, want one with %q", c.name, err, c.want)
		}
	}
}

// Draws stay below a limit, uniformly, and spread about a value as its relative
// uncertainty says, with the value as median.
func TestDraw(t *testing.T) {
	table, err := logratio.NewTable([]string{"A", "B", "C"}, []string{"s"}, [][]logratio.Value{{logratio.Measured(50, 5), logratio.Under(2), logratio.Measured(10, math.NaN())}})
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(5, 5))
	const draws = 20_000
	var a []float64
	var below float64
	drawing, err := logratio.NewDrawing(table, logratio.Pivot(table.Parts))
	if err != nil {
		t.Fatal(err)
	}
	for range draws {
		ln := drawing.Logs(r)[0]
		a = append(a, ln[0])
		below += math.Exp(ln[1]) / draws
		if ln[1] > math.Log(2) || ln[2] != math.Log(10) {
			t.Fatalf("drew logarithms %v", ln)
		}
	}
	slices.Sort(a)
	if median := math.Exp(a[draws/2]); math.Abs(median-50) > 0.2 {
		t.Errorf("median %g, want 50", median)
	}
	if s := (a[draws*84134/100000] - a[draws*15866/100000]) / 2; math.Abs(s-0.1) > 0.003 {
		t.Errorf("standard deviation of the logarithm %g, want 0.1", s)
	}
	if math.Abs(below-1) > 0.02 {
		t.Errorf("mean below the limit of 2 is %g", below)
	}
}
