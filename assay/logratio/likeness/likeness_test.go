package likeness

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"runtime"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"smeltbook/assay/logratio"
	"smeltbook/assay/logratio/internal/published"
)

// laos takes the published slags of Peun Baolo as excavated and those of Thong
// Na Nguak as two runs, by their type.
func laos(t *testing.T) Input {
	t.Helper()
	table, site := published.Laos(t, published.FourParts...)
	in := Input{Table: table, Runs: []Run{{Name: "thin"}, {Name: "thick"}}}
	for i, g := range site {
		switch {
		case g == 1:
			in.Excavated = append(in.Excavated, i)
		case i < 3:
			in.Runs[0].Rows = append(in.Runs[0].Rows, i)
		default:
			in.Runs[1].Rows = append(in.Runs[1].Rows, i)
		}
	}
	liquidus := make([]float64, len(site))
	for i := range liquidus {
		liquidus[i] = 1100 + 10*float64(i)
	}
	in.Extras = []Extra{{Name: "liquidus", Unit: "°C", Values: liquidus}}
	return in
}

func TestFindPublished(t *testing.T) {
	in := laos(t)
	r, err := Find(context.Background(), in, Options{Draws: 400, Seed: 3})
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Pieces) != 9 || len(r.Clouds) != 2 || r.NoScatter || math.Abs(r.Smallest-0.1) > 1e-12 {
		t.Fatalf("answer %+v", r)
	}
	m, err := in.Table.Complete(logratio.Simple)
	if err != nil {
		t.Fatal(err)
	}
	for k, p := range r.Pieces {
		var sum float64
		for _, n := range p.Near {
			sum += n.P
			// The distance by hand: to the closed geometric mean of the run.
			var run logratio.Matrix
			for _, i := range in.Runs[n.Run].Rows {
				run.X = append(run.X, m.X[i])
			}
			run.Parts = m.Parts
			published.Near(t, p.Sample+" from "+in.Runs[n.Run].Name, n.Distance, logratio.Distance(m.X[in.Excavated[k]], run.Centre(1)))
			var shares float64
			for _, d := range n.Differs[:3] {
				shares += d.Share
			}
			published.Near(t, "shares", shares, 1)
			if d := n.Differs[3]; d.Unit != "°C" || n.Run == 0 && math.Abs(d.Value-(1100+10*float64(in.Excavated[k])-1110)) > 1e-9 {
				t.Errorf("liquidus differs by %+v", d)
			}
		}
		published.Near(t, "probabilities of "+p.Sample, sum, 1)
	}
}

// Two runs far from each other leave no doubt; two alike leave all of it.
func TestProbabilities(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 1))
	row := func(shift, u float64) []logratio.Value {
		return []logratio.Value{logratio.Measured(50, 0), logratio.Measured(30*math.Exp(shift+0.1*r.NormFloat64()), u), logratio.Measured(20*math.Exp(0.1*r.NormFloat64()), u)}
	}
	ask := func(shift float64) Result {
		var values [][]logratio.Value
		in := Input{Runs: []Run{{Name: "A"}, {Name: "B"}}}
		for i := range 12 {
			s := 0.0
			switch {
			case i < 4:
				in.Excavated = append(in.Excavated, i)
			case i < 8:
				in.Runs[0].Rows = append(in.Runs[0].Rows, i)
			default:
				s = shift
				in.Runs[1].Rows = append(in.Runs[1].Rows, i)
			}
			values = append(values, row(s, 0.5))
		}
		var err error
		if in.Table, err = logratio.NewTable([]string{"A", "B", "C"}, make([]string, 12), values); err != nil {
			t.Fatal(err)
		}
		res, err := Find(context.Background(), in, Options{Draws: 500, Seed: 1})
		if err != nil {
			t.Fatal(err)
		}
		return res
	}
	for _, p := range ask(5).Pieces {
		if p.Near[0].Run != 0 || p.Near[0].P != 1 {
			t.Errorf("far apart: %+v", p.Near[0])
		}
	}
	var mean float64
	for _, p := range ask(0).Pieces {
		mean += p.Near[0].P / 4
	}
	if mean > 0.97 {
		t.Errorf("the nearest of two like runs is held for sure: %.2f", mean)
	}
	far := ask(5).Clouds
	if far[1].Typical() != 0.2 || far[1].Pieces[0].Depth > 0.1 || far[0].Typical() < 0.2 {
		t.Errorf("clouds %+v", far)
	}
}

// A sample of the cloud itself is called as far out as p or farther with a
// probability of no more than p.
func TestTailHoldsItsLevel(t *testing.T) {
	r := rand.New(rand.NewPCG(22, 1))
	const trials = 2000
	var out float64
	for range trials {
		z := make([][]float64, 10)
		for i := range z {
			z[i] = []float64{math.Exp(r.NormFloat64()), r.NormFloat64()}
		}
		if tail(z[:9], z[9]) <= 0.1 {
			out++
		}
	}
	if out/trials > 0.12 || out/trials < 0.08 { // 0.1 has a standard error of 0.0067
		t.Errorf("P ≤ 0.1 in a share of %g", out/trials)
	}
}

func TestDepthByHand(t *testing.T) {
	cross := [][]float64{{1, 0}, {-1, 0}, {0, 1}, {0, -1}}
	published.Near(t, "middle of a cross", depth(cross, []float64{0, 0}), 1)
	// From (3, 0): towards three of the four, 1/4·√((1+1+2·3/√10)²).
	published.Near(t, "outside", depth(cross, []float64{3, 0}), 1-(2+2*3/math.Sqrt(10))/4)
}

func TestSameOnAnyNumberOfProcessors(t *testing.T) {
	in := laos(t)
	var answers []Result
	for _, n := range []int{1, 3} {
		before := runtime.GOMAXPROCS(n)
		r, err := Find(context.Background(), in, Options{Draws: 100, Seed: 3})
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

func TestRefusesAndStops(t *testing.T) {
	in := laos(t)
	ctx, cancel := context.WithCancel(context.Background())
	_, err := Find(ctx, in, Options{Draws: 100_000, Progress: func(done, total int) {
		if done == 20 {
			cancel()
		}
	}})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("error %v", err)
	}
	in.Runs = append(in.Runs, Run{Name: "none"})
	if _, err := Find(context.Background(), in, Options{}); err == nil || !strings.Contains(err.Error(), "none has no sample") {
		t.Errorf("error %v", err)
	}
	if _, err := Find(context.Background(), Input{Table: in.Table}, Options{}); err == nil {
		t.Error("no runs make no likeness")
	}
}

// The nearest run is found without looking at all of them.
func TestWinnerIsNearest(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 1))
	point := func(about []float64, by float64) []float64 {
		out := make([]float64, 3)
		for j := range out {
			out[j] = about[j] + by*r.NormFloat64()
		}
		return out
	}
	for range 2000 {
		at, centres := point(make([]float64, 3), 1), make([][]float64, 20)
		for k := range centres {
			centres[k] = point(make([]float64, 3), 1)
		}
		ranked, slack := rank(at, centres), 0.0
		moved := make([][]float64, len(centres))
		for k, c := range centres {
			moved[k] = point(c, 0.2)
			slack = max(slack, logratio.Euclid(c, moved[k]))
		}
		now := point(at, 0.2)
		slack += logratio.Euclid(at, now)
		if got, want := winner(now, moved, ranked, slack), rank(now, moved)[0].run; got != want {
			t.Fatalf("the nearest run is %d, found was %d", want, got)
		}
	}
}
