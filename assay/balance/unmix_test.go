package balance

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source/checkdata"
)

// sure gives every part of a composition the relative uncertainty u.
func sure(t testing.TB, text string, u float64) chem.Composition {
	t.Helper()
	c := parse(t, text)
	for i := range c.Parts {
		q := c.Parts[i].Quantity
		c.Parts[i].Quantity = quantity.WithU(q.Value, u*q.Value, "wt%", "assumed")
	}
	return c
}

// The crucible slag TNN-13 of Wątroba 2012 (Tables 9 and 13, seen) holds 11.1 %
// Al2O3, the crucible 29.0 %. With an ore of 0, 3 or 6 % the share of crucible is
// 0.383, 0.312 or 0.222: by one tracer, worked apart.
func TestCrucibleInSlag(t *testing.T) {
	closed := func(al float64) chem.Composition {
		c, err := chem.NewComposition(
			chem.Part{ID: "Al2O3", Quantity: quantity.WithU(al, 0, "wt%", "")},
			chem.Part{ID: "SiO2", Quantity: quantity.WithU(100-al, 0, "wt%", "")})
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	for ore, want := range map[float64]float64{0: 0.383, 3: 0.312, 6: 0.222} {
		u, err := Unmix(closed(11.1), []End{{"ore", "ore", closed(ore)}, {"crucible", "lining", closed(29)}}, Unmixing{Oxides: []string{"Al2O3"}, Draws: 20})
		if err != nil {
			t.Fatal(err)
		}
		checkdata.Near(t, "share of crucible", u.Each[1], want, 0.0005)
		s, err := ShareOfClay(Tracer{"Al2O3", wtq(11.1, 0), wtq(ore, 0), wtq(29, 0)})
		if err != nil {
			t.Fatal(err)
		}
		checkdata.Near(t, "share by the tracer", s.Each[0].Share.Value, u.Each[1], 1e-6)
	}
}

const (
	someOre    = "SiO2=30 TiO2=0.1 Al2O3=3.2 Fe2O3=29 MnO=0.7 MgO=0.2 CaO=1.1 K2O=0.5 CuO=21 LOI=13"
	bogIron    = "SiO2=10.5 TiO2=0.03 Al2O3=2.3 Fe2O3=73.5 MnO=1.0 MgO=0.1 CaO=0.5 K2O=0.2 LOI=10"
	wall       = "SiO2=64 TiO2=0.9 Al2O3=20 Fe2O3=6.1 MnO=0.1 MgO=1.4 CaO=1.4 K2O=3.2"
	charcoal   = "SiO2=9.7 TiO2=0.1 Al2O3=2.3 Fe2O3=1.7 MnO=1.5 MgO=7.6 CaO=44 K2O=12.5 LOI=16"
	tracerList = "SiO2 TiO2 Al2O3 FeO MnO MgO CaO K2O"
)

func fourEnds(t testing.TB, u float64) []End {
	return []End{{"ore", "ore", sure(t, someOre, u)}, {"bog iron", "flux", sure(t, bogIron, u)}, {"wall", "lining", sure(t, wall, u)}, {"ash", "ash", sure(t, charcoal, u)}}
}

// blend mixes ends on the mixing basis.
func blend(t testing.TB, ends []End, x []float64) chem.Composition {
	t.Helper()
	sums := map[string]float64{}
	for k, e := range ends {
		c, err := MixingBasis(e.Composition)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range c.Parts {
			sums[p.ID] += x[k] * p.Value
		}
	}
	var parts []chem.Part
	for id, v := range sums {
		parts = append(parts, chem.Part{ID: id, Quantity: quantity.WithU(v, 0.01*v, "wt%", "assumed")})
	}
	c, err := chem.NewComposition(parts...)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// Any mixture is unmixed into what it was mixed of, whatever part was none.
func TestUnmixReturnsTheMixture(t *testing.T) {
	ends := fourEnds(t, 0.01)
	r := rand.New(rand.NewPCG(2, 7))
	for i := range 100 {
		x := []float64{r.Float64(), r.Float64(), 0.3 * r.Float64(), 0.1 * r.Float64()}
		if i%4 < 2 {
			x[i%4+1] = 0
		}
		sum := x[0] + x[1] + x[2] + x[3]
		for k := range x {
			x[k] /= sum
		}
		u, err := Unmix(blend(t, ends, x), ends, Unmixing{Oxides: strings.Fields(tracerList), Draws: 2, Model: 0.01})
		if err != nil {
			t.Fatal(err)
		}
		total := 0.0
		for k := range x {
			checkdata.Near(t, ends[k].Name, u.Each[k], x[k], 1e-5)
			total += u.Each[k]
		}
		checkdata.Near(t, "sum", total, 1, 1e-6)
		if len(u.Shares) != 4 || u.DoF != 5 || u.Chi2 > 1e-4 || !(u.Condition > 1) {
			t.Errorf("%+v", u)
		}
	}
}

// Slags disturbed by the errors stated have their true shares within the 95 %
// interval about that often, and a chi² of about its degrees of freedom.
func TestUnmixCovers(t *testing.T) {
	truth := []float64{0.55, 0.31, 0.09, 0.05}
	exact := fourEnds(t, 0)
	clean := blend(t, exact, truth)
	r := rand.New(rand.NewPCG(11, 3))
	const trials = 120
	inside, chi := make([]int, 4), 0.0
	for range trials {
		slag, ends := shaken(t, r, clean, 0.03), make([]End, 4)
		for k, e := range exact {
			ends[k] = End{e.Name, e.Kind, shaken(t, r, e.Composition, 0.03)}
		}
		u, err := Unmix(slag, ends, Unmixing{Oxides: strings.Fields(tracerList), Draws: 200, Seed: 5})
		if err != nil {
			t.Fatal(err)
		}
		chi += u.Chi2 / trials
		for k, s := range u.Shares {
			if s.Low <= truth[k] && truth[k] <= s.High {
				inside[k]++
			}
		}
	}
	for k, n := range inside {
		if part := float64(n) / trials; part < 0.88 {
			t.Errorf("%s lies in its interval in %.2f of the trials", exact[k].Name, part)
		}
	}
	if chi < 3 || chi > 7 {
		t.Errorf("mean chi² %.2f with 5 degrees of freedom", chi)
	}
}

func shaken(t testing.TB, r *rand.Rand, c chem.Composition, u float64) chem.Composition {
	t.Helper()
	var parts []chem.Part
	for _, p := range c.Parts {
		x := p.Value * (1 + u*r.NormFloat64())
		parts = append(parts, chem.Part{ID: p.ID, Quantity: quantity.WithU(x, u*p.Value, "wt%", "assumed")})
	}
	out, err := chem.NewComposition(parts...)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// Two splits of one ore cannot be told apart; their sum can. Two sources that
// are alike in everything tell nothing.
func TestAlikeSourcesAreMerged(t *testing.T) {
	ends := fourEnds(t, 0.02)
	truth := []float64{0.55, 0.31, 0.09, 0.05}
	slag := blend(t, ends, truth)
	twin := End{"second split", "ore", sure(t, strings.ReplaceAll(someOre, "SiO2=30", "SiO2=30.2"), 0.02)}
	u, err := Unmix(slag, append(slices.Clone(ends), twin), Unmixing{Oxides: strings.Fields(tracerList), Draws: 100})
	if err != nil {
		t.Fatal(err)
	}
	if len(u.Shares) != 4 || u.Shares[0].Name != "ore + second split" || !slices.Equal(u.Shares[0].Ends, []int{0, 4}) {
		t.Fatalf("%+v", u.Shares)
	}
	checkdata.Near(t, "both", u.Shares[0].Share.Value, 0.55, 0.01)
	if !(u.Inflation[0] > 100 && u.Inflation[4] > 100 && u.Condition > 30) || u.Inflation[2] > 10 {
		t.Errorf("condition %v, inflation %v", u.Condition, u.Inflation)
	}
	if u, err := Unmix(slag, []End{ends[0], {"same", "ore", ends[0].Composition}}, Unmixing{Oxides: strings.Fields(tracerList)}); err == nil {
		t.Errorf("%+v", u.Shares)
	}
}

// A slag with something in it that is in no source misses, and its intervals
// grow.
func TestUnmixMisses(t *testing.T) {
	ends := fourEnds(t, 0.02)
	good := blend(t, ends, []float64{0.55, 0.31, 0.09, 0.05})
	bad := blend(t, append(slices.Clone(ends), End{"chalk", "flux", sure(t, "CaO=100", 0)}), []float64{0.45, 0.31, 0.09, 0.05, 0.10})
	how := Unmixing{Oxides: strings.Fields(tracerList), Model: 0.03, Draws: 200}
	a, err := Unmix(good, ends, how)
	if err != nil {
		t.Fatal(err)
	}
	b, err := Unmix(bad, ends, how)
	if err != nil {
		t.Fatal(err)
	}
	if a.P < 0.5 || b.P > 1e-3 || b.Shares[3].High-b.Shares[3].Low < 2*(a.Shares[3].High-a.Shares[3].Low) {
		t.Errorf("P %v and %v, ash %+v and %+v", a.P, b.P, a.Shares[3], b.Shares[3])
	}
}

func TestUnmixRefuses(t *testing.T) {
	ends := fourEnds(t, 0.01)
	slag := parse(t, "SiO2=40 Al2O3=6 FeO=50 CaO=4")
	for says, f := range map[string]func() error{
		"two sources":    func() error { _, err := Unmix(slag, ends[:1], Unmixing{Oxides: []string{"SiO2"}}); return err },
		"at least 3":     func() error { _, err := Unmix(slag, ends, Unmixing{Oxides: []string{"SiO2", "FeO"}}); return err },
		"traces nothing": func() error { _, err := Unmix(slag, ends[:2], Unmixing{Oxides: []string{"TiO2"}}); return err },
		"nothing is left": func() error {
			_, err := Unmix(parse(t, "Cu=90 S=10"), ends[:2], Unmixing{Oxides: []string{"SiO2"}})
			return err
		},
		"alike in all trace": func() error {
			_, err := Unmix(slag, []End{ends[0], ends[0]}, Unmixing{Oxides: []string{"SiO2"}})
			return err
		},
	} {
		if err := f(); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%v; want %q", err, says)
		}
	}
	got := Choices(CommonOxides(slag, ends))
	if len(got) != 2 || !slices.Equal(got[0].Oxides, []string{"FeO", "SiO2", "Al2O3", "CaO"}) {
		t.Errorf("%+v", got)
	}
	if sand, err := Sand(); err != nil || len(CommonOxides(slag, append(ends, sand))) != 4 {
		t.Error("sand hides oxides", err)
	}
}

func BenchmarkUnmix(b *testing.B) {
	ends := fourEnds(b, 0.01)
	slag := blend(b, ends, []float64{0.55, 0.31, 0.09, 0.05})
	for b.Loop() {
		if _, err := Unmix(slag, ends, Unmixing{Oxides: strings.Fields(tracerList), Draws: 400, Model: 0.05}); err != nil {
			b.Fatal(err)
		}
	}
}
