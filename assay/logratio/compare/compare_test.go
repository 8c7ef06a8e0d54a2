package compare

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

func laos(t *testing.T, parts []string) Input {
	t.Helper()
	table, site := published.Laos(t, parts...)
	return Input{Table: table, Group: site, Names: [2]string{"TNN", "PB"}}
}

// The whole answer is the same for the same seed whatever the number of
// processors.
func TestSameOnAnyNumberOfProcessors(t *testing.T) {
	in := laos(t, published.NineParts)
	o := Options{Draws: 60, Seed: 4}
	var answers []Result
	for _, n := range []int{1, 3} {
		before := runtime.GOMAXPROCS(n)
		r, err := Groups(context.Background(), in, o)
		runtime.GOMAXPROCS(before)
		if err != nil {
			t.Fatal(err)
		}
		answers = append(answers, r)
	}
	if d := cmp.Diff(answers[0], answers[1], cmpopts.EquateNaNs()); d != "" {
		t.Errorf("one and three processors differ:\n%s", d)
	}
	if answers[0].Uncertainty == nil || len(answers[0].Influence) != 14 || len(answers[0].Balances) != 8 {
		t.Errorf("the answer lacks parts: %+v", answers[0])
	}
}

// The answer does not hang on the order of the samples or the basis, and hangs
// on the parts as published.
func TestWhatTheAnswerHangsOn(t *testing.T) {
	in := laos(t, published.FourParts)
	r, err := Groups(context.Background(), in, Options{Draws: -1})
	if err != nil {
		t.Fatal(err)
	}
	n := len(in.Group)
	back := make([]int, n)
	group := make([]int, n)
	for i := range back {
		back[i] = n - 1 - i
		group[i] = in.Group[n-1-i]
	}
	turned, err := Groups(context.Background(), Input{Table: in.Table.Rows(back), Group: group, Names: in.Names}, Options{Draws: -1})
	if err != nil {
		t.Fatal(err)
	}
	if r.Location.P != turned.Location.P || math.Abs(r.Location.F-turned.Location.F) > 1e-12 {
		t.Errorf("turned round: %+v and %+v", r.Location, turned.Location)
	}
	for _, v := range r.Sensitivity {
		if v.Changed == "basis" && math.Abs(v.P-r.Location.P) > 1e-12 {
			t.Errorf("another basis gives p %g, not %g", v.P, r.Location.P)
		}
	}
	if r.Uncertainty != nil {
		t.Error("drew without being asked")
	}
}

// Dealt at random p comes near the exact one: of 9999 ways its standard error
// is 0.0034.
func TestRandomNearExact(t *testing.T) {
	in := laos(t, published.FourParts)
	z, _, err := in.coordinates(Options{}.withDefaults(in.Table))
	if err != nil {
		t.Fatal(err)
	}
	r, err := NewRelabelling(context.Background(), in.Group, 9999, 1)
	if err != nil {
		t.Fatal(err)
	}
	short := r.first(1000)
	if p := TestLocation(z, short).P; short.Exact || math.Abs(p-0.1324) > 0.03 {
		t.Errorf("p of 1000 of the ways is %g", p)
	}
	three := append([]int{}, in.Group...)
	three[0] = 2
	if r, err = NewRelabelling(context.Background(), three, 500, 1); err != nil || r.Exact || r.Count() != 500 {
		t.Errorf("three groups: %v %v", r, err)
	}
}

// Under no difference p of location and of dispersion is small no more often
// than it says.
func TestTestsHoldTheirLevel(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 1))
	group := []int{0, 0, 0, 0, 1, 1, 1, 1, 1, 1}
	labels, err := NewRelabelling(context.Background(), group, 999, 1)
	if err != nil {
		t.Fatal(err)
	}
	const trials = 800
	var location, dispersion float64
	for range trials {
		z := cloud(r, len(group), nil)
		if TestLocation(z, labels).P <= 0.1 {
			location++
		}
		if TestDispersion(z, labels).P <= 0.1 {
			dispersion++
		}
	}
	// 0.1 of 800 has a standard error of 0.011.
	if location/trials > 0.135 || location/trials < 0.06 {
		t.Errorf("location: p ≤ 0.1 in a share of %g", location/trials)
	}
	if dispersion/trials > 0.16 {
		t.Errorf("dispersion: p ≤ 0.1 in a share of %g", dispersion/trials)
	}
}

// cloud draws normal rows of three unlike coordinates; shift is added to all.
func cloud(r *rand.Rand, n int, shift []float64) [][]float64 {
	z := make([][]float64, n)
	for i := range z {
		z[i] = []float64{2 * r.NormFloat64(), r.NormFloat64(), 0.5 * r.NormFloat64()}
		for j, s := range shift {
			z[i][j] += s
		}
	}
	return z
}

// The upper bound of the distance of centres lies below the true one in no
// more than about one case of twenty, with groups of unlike size and spread,
// and the lower bound above it.
func TestBoundsCoverTheTruth(t *testing.T) {
	r := rand.New(rand.NewPCG(12, 1))
	const trials = 150
	for _, c := range []struct {
		a, b  int
		shift []float64
		wide  float64
	}{{4, 5, []float64{0, 1.5, 0}, 1}, {3, 9, []float64{2, 0, 0}, 1}, {5, 8, []float64{0.5, 0.5, 1}, 2}} {
		truth := logratio.Euclid(c.shift, []float64{0, 0, 0})
		group := make([]int, c.a+c.b)
		for i := c.a; i < len(group); i++ {
			group[i] = 1
		}
		labels, err := NewRelabelling(context.Background(), group, 999, 1)
		if err != nil {
			t.Fatal(err)
		}
		var low, up float64
		for range trials {
			z := cloud(r, c.a, nil)
			for i := range z {
				for j := range z[i] {
					z[i][j] = c.wide*z[i][j] + c.shift[j]
				}
			}
			z = append(z, cloud(r, c.b, nil)...)
			e, err := equivalence(context.Background(), z, labels, 1)
			if err != nil {
				t.Fatal(err)
			}
			if e.Up < truth {
				up++
			}
			if e.Low > truth {
				low++
			}
		}
		t.Logf("%d v %d: upper bound below the truth in %.3f, lower above in %.3f", c.a, c.b, up/trials, low/trials)
		if up/trials > 0.10 || low/trials > 0.10 {
			t.Errorf("%d v %d: upper bound below the truth in %.3f, lower above in %.3f of cases", c.a, c.b, up/trials, low/trials)
		}
	}
}

func TestVerdicts(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 1))
	ask := func(a, b int, shift, narrow, margin float64) Result {
		var values [][]logratio.Value
		var names []string
		var group []int
		for i := range a + b {
			s, g, f := shift, 0, narrow
			if i >= a {
				s, g, f = 0, 1, 1
			}
			x := []float64{1, math.Exp(f*r.NormFloat64() + s), math.Exp(f * r.NormFloat64())}
			var row []logratio.Value
			for _, v := range x {
				row = append(row, logratio.Measured(v, 0))
			}
			values, names, group = append(values, row), append(names, "s"), append(group, g)
		}
		table, err := logratio.NewTable([]string{"A", "B", "C"}, names, values)
		if err != nil {
			t.Fatal(err)
		}
		res, err := Groups(context.Background(), Input{Table: table, Group: group, Names: [2]string{"fired", "dug"}}, Options{Margin: margin, Permutations: 999})
		if err != nil {
			t.Fatal(err)
		}
		return res
	}
	for _, c := range []struct {
		name    string
		r       Result
		verdict Verdict
		says    string
	}{
		{"many alike", ask(12, 12, 0, 0.3, 1), Alike, "Fired is alike to dug within the margin of 1.0"},
		{"far apart", ask(6, 6, 20, 1, 1), Different, "Fired differs from dug by more than the margin of 1.0"},
		{"three and three", ask(3, 3, 20, 1, 1), Open, "Neither a difference"},
		{"one sample", ask(1, 9, 0, 1, 1), Open, "no upper bound"},
		{"no scatter", ask(3, 1, 0, 1, 1), Open, "Nothing can be said"},
	} {
		if got := c.r.Equivalence.Verdict; got != c.verdict {
			t.Errorf("%s: verdict %q, want %q (%+v)", c.name, got, c.verdict, c.r.Equivalence)
		}
		if s := c.r.Sentence(); !strings.Contains(s, c.says) {
			t.Errorf("%s: %q does not say %q", c.name, s, c.says)
		}
	}
	few := strings.Join(ask(3, 3, 20, 1, 1).Limits(), " ")
	if !strings.Contains(few, "never give p below 0.10") {
		t.Errorf("limits of three against three: %s", few)
	}
}

// The sentence about the published slags, as a reader gets it.
func TestSentenceOfPublishedSlags(t *testing.T) {
	for _, c := range []struct {
		parts []string
		want  string
		limit string
	}{
		{published.FourParts, "Neither a difference (p = 0.13) nor likeness within the margin of 1.0 is shown: the centres of TNN (5 samples) and PB (9 samples) lie 0.96 of the piece-to-piece scatter of PB apart and at most 1.7 (95 %).",
			"The answer hangs on what is counted: without"},
		{published.NineParts, "TNN differs from PB (p = 0.0015), but whether by more or less than the margin of 1.0 is not shown",
			"all 2002 ways"},
	} {
		r, err := Groups(context.Background(), laos(t, c.parts), Options{Draws: 200, Seed: 1})
		if err != nil {
			t.Fatal(err)
		}
		if s := r.Sentence(); !strings.HasPrefix(s, c.want) {
			t.Errorf("says %q, want %q", s, c.want)
		}
		if l := strings.Join(r.Limits(), " "); !strings.Contains(l, c.limit) {
			t.Errorf("limits %q lack %q", l, c.limit)
		}
	}
}

// With one mean for each unit the sample counts once, however many pieces it was
// broken into: splitting each sample into three like pieces makes p of the pieces
// tiny and leaves that of the units as it was.
func TestPiecesOfOneFiring(t *testing.T) {
	in := laos(t, published.FourParts)
	split := Input{Names: in.Names}
	var values [][]logratio.Value
	var names []string
	for i, row := range in.Table.Values {
		for range 3 {
			values, names = append(values, row), append(names, in.Table.Samples[i])
			split.Group, split.Units = append(split.Group, in.Group[i]), append(split.Units, in.Table.Samples[i])
		}
	}
	var err error
	if split.Table, err = logratio.NewTable(in.Table.Parts, names, values); err != nil {
		t.Fatal(err)
	}
	r, err := Groups(context.Background(), split, Options{Draws: -1})
	if err != nil {
		t.Fatal(err)
	}
	units := r.Sensitivity[1]
	published.Near(t, "p of units", units.P, 0.1323676324)
	if r.Location.P > 0.02 || units.Changed != "units" || r.Units != [2]int{5, 9} {
		t.Errorf("p of pieces %g, %+v, units %v", r.Location.P, units, r.Units)
	}
	want := "The 15 samples of TNN are pieces of 5 and the 27 samples of PB are pieces of 9 firings, and pieces of one firing are no independent witnesses: with one mean for each, p = 0.13."
	if l := strings.Join(r.Limits(), " "); !strings.Contains(l, want) {
		t.Errorf("limits %q lack %q", l, want)
	}
}

func TestStopsWhenAsked(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	in := laos(t, published.NineParts)
	last := 0
	_, err := Groups(ctx, in, Options{Draws: 100_000, Progress: func(done, total int) {
		last = done
		if done == 50 {
			cancel()
		}
	}})
	if !errors.Is(err, context.Canceled) || last > 200 {
		t.Errorf("error %v after %d draws", err, last)
	}
}

func TestInputRefused(t *testing.T) {
	in := laos(t, published.FourParts)
	for _, c := range []struct {
		name   string
		change func(*Input)
		want   string
	}{
		{"short", func(in *Input) { in.Group = in.Group[:3] }, "3 groups are named for 14 samples"},
		{"empty", func(in *Input) { in.Group = make([]int, 14) }, "PB holds no sample"},
		{"third", func(in *Input) { in.Group = append([]int{2}, in.Group[1:]...) }, "is in group 2"},
	} {
		bad := in
		c.change(&bad)
		if _, err := Groups(context.Background(), bad, Options{}); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v, want %q", c.name, err, c.want)
		}
	}
}
