package likeness

import (
	"context"
	"math"
	"runtime"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"smeltbook/assay/logratio"
	"smeltbook/assay/logratio/internal/published"
)

// The published slags of two sites: every distance is that of the package's
// reference, the nearest comes first, and P of all that were drawn is one.
func TestSamplesOfPublishedSlags(t *testing.T) {
	table, site := published.Laos(t, published.FourParts...)
	var left, right []int
	for i, g := range site {
		if g == 1 {
			right = append(right, i)
		} else {
			left = append(left, i)
		}
	}
	m, err := table.Complete(logratio.Simple)
	if err != nil {
		t.Fatal(err)
	}
	got, err := Samples(context.Background(), table, left, right, logratio.Simple, 1)
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Matches) != len(right) {
		t.Fatalf("%d matches of %d", len(got.Matches), len(right))
	}
	for k, x := range got.Matches {
		if x.Row != right[k] || len(x.Near) != len(left) {
			t.Errorf("match %d is of row %d with %d samples", k, x.Row, len(x.Near))
		}
		sum, last := 0.0, 0.0
		for _, n := range x.Near {
			published.Near(t, "distance", n.Distance, logratio.Distance(m.X[x.Row], m.X[n.Row]))
			if n.Distance < last {
				t.Errorf("%g comes after %g", n.Distance, last)
			}
			if last = n.Distance; !math.IsNaN(n.P) {
				sum += n.P
			}
		}
		published.Near(t, "sum of P", sum, 1)
	}
	// Two of n lie √2 scatters apart on the average: the mean of all squared
	// distances of pairs, by hand.
	sum, pairs := 0.0, 0.0
	for i, a := range right {
		for _, b := range right[:i] {
			d := logratio.Distance(m.X[a], m.X[b])
			sum, pairs = sum+d*d, pairs+1
		}
	}
	published.Near(t, "√2 scatters", math.Sqrt2*got.Scatter, math.Sqrt(sum/pairs))
}

// A sample whose analysis is sure has one nearest; one between two replicas has
// each with an even chance.
func TestMatchesAreAsSureAsTheAnalyses(t *testing.T) {
	row := func(a, u float64) []logratio.Value {
		return []logratio.Value{logratio.Measured(a, u*a), logratio.Measured(100-a, u*(100-a))}
	}
	middle := 100 / (1 + math.Sqrt(90.0/10*60/40)) // its ratio is the geometric mean of the two replicas'
	table, err := logratio.NewTable([]string{"A", "B"}, []string{"near", "far", "sure", "torn"},
		[][]logratio.Value{row(10, 0), row(40, 0), row(11, 0.01), row(middle, 0.05)})
	if err != nil {
		t.Fatal(err)
	}
	got, err := Samples(context.Background(), table, []int{0, 1}, []int{2, 3}, logratio.Simple, 1)
	if err != nil {
		t.Fatal(err)
	}
	if n := got.Matches[0].Near[0]; n.Row != 0 || n.P != 1 || !(n.Low < n.Distance && n.Distance < n.Up) {
		t.Errorf("the sure one has %+v", n)
	}
	if p := got.Matches[1].Near[0].P; p < 0.42 || p > 0.58 { // standard error 0.022
		t.Errorf("the torn one has P %g", p)
	}
}

func TestSamplesRefuseAndAreTheSameOnAnyMachine(t *testing.T) {
	in := laos(t)
	if _, err := Samples(context.Background(), in.Table, nil, in.Excavated, logratio.Simple, 1); err == nil {
		t.Error("a match without replicas")
	}
	var answers []Matched
	for _, n := range []int{1, 3} {
		before := runtime.GOMAXPROCS(n)
		r, err := Samples(context.Background(), in.Table, in.Runs[0].Rows, in.Excavated, logratio.Simple, 3)
		runtime.GOMAXPROCS(before)
		if err != nil {
			t.Fatal(err)
		}
		answers = append(answers, r)
	}
	if d := cmp.Diff(answers[0], answers[1], cmpopts.EquateNaNs()); d != "" {
		t.Errorf("one and three processors differ:\n%s", d)
	}
}
