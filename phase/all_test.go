package phase

import (
	"context"
	"errors"
	"math"
	"reflect"
	"runtime"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"smeltbook/assay/chem"
	"smeltbook/phase/slag"
)

// The results are in order and the same on one processor and on several.
func TestEstimateAllIsDeterministic(t *testing.T) {
	e := estimator(t)
	cs := append(laos(t), parse(t, "LOI=4"), parse(t, "SiO2=30 FeO=60 Cu=1"))
	run := func(procs int) []Result {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(procs))
		last := 0
		rs, err := e.EstimateAll(context.Background(), cs, Conditions{Seed: 9, Draws: 40}, func(done, total int) {
			if done != last+1 || total != len(cs) {
				t.Errorf("progress %d of %d after %d", done, total, last)
			}
			last = done
		})
		if err != nil || last != len(cs) {
			t.Fatalf("%v after %d", err, last)
		}
		return rs
	}
	one, four := run(1), run(4)
	sameText := cmp.Comparer(func(a, b error) bool {
		return (a == nil) == (b == nil) && (a == nil || a.Error() == b.Error())
	})
	private := cmp.Exporter(func(reflect.Type) bool { return true })
	if d := cmp.Diff(one, four, cmpopts.EquateNaNs(), sameText, private); d != "" {
		t.Errorf("one processor and four differ (-one +four):\n%s", d)
	}
	for i, r := range one {
		if (r.Err != nil) != (i == 14) {
			t.Errorf("composition %d: error %v", i, r.Err)
		}
	}
	for i, r := range one[:14] {
		if want := cs[i].Wt("SiO2"); math.Abs(r.Estimate.Melt.Wt[slag.SiO2]-want) > 0.05*want {
			t.Errorf("result %d is not that of composition %d", i, i)
		}
	}
	if one[0].Estimate.Conditions.Seed == one[1].Estimate.Conditions.Seed {
		t.Error("two compositions draw the same numbers")
	}
}

func TestEstimateAllStops(t *testing.T) {
	e, few := estimator(t), laos(t)
	var cs []chem.Composition
	for range 40 { // more than any machine has processors
		cs = append(cs, few...)
	}
	ctx, cancel := context.WithCancel(context.Background())
	rs, err := e.EstimateAll(ctx, cs, Conditions{Draws: 10}, func(done, total int) {
		if done == 3 {
			cancel()
		}
	})
	if !errors.Is(err, context.Canceled) || len(rs) != len(cs) {
		t.Fatalf("%d results, error %v", len(rs), err)
	}
	stopped := 0
	for _, r := range rs {
		if errors.Is(r.Err, context.Canceled) {
			stopped++
		}
	}
	if stopped == 0 || stopped > len(cs)-3 {
		t.Errorf("%d of %d compositions stopped", stopped, len(cs))
	}
}
