package melt

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"smeltbook/phase/slag"
)

// smelting draws a slag of the kind that furnaces give, for which the model is
// meant.
func smelting(r *rand.Rand) (w slag.Wt) {
	w[slag.SiO2] = 25 + 20*r.Float64()
	w[slag.CaO] = 20 * r.Float64()
	w[slag.Al2O3] = 12 * r.Float64()
	w[slag.MgO] = 6 * r.Float64()
	w[slag.MnO] = 4 * r.Float64()
	w[slag.K2O] = 3 * r.Float64()
	w[slag.FeO] = 100 - w[slag.SiO2] - w[slag.CaO] - w[slag.Al2O3] - w[slag.MgO] - w[slag.MnO] - w[slag.K2O]
	return w
}

// TestInvariance: neither the sum of the analysis nor a trace of another oxide
// changes the answer.
func TestInvariance(t *testing.T) {
	m := testModel(t)
	r := rand.New(rand.NewPCG(19, 3))
	for range 300 {
		w := smelting(r)
		base, err := m.Liquidus(w)
		if err != nil {
			t.Fatal(err)
		}
		changed := map[string]slag.Wt{}
		scaled := w
		for o := range scaled {
			scaled[o] *= 0.37
		}
		changed["scaled"] = scaled
		for _, o := range []slag.Oxide{slag.Na2O, slag.K2O, slag.MgO, slag.MnO, slag.TiO2, slag.Cu2O} {
			more := w
			more[o] += 1e-9
			changed["a trace of "+o.String()] = more
		}
		for how, v := range changed {
			l, err := m.Liquidus(v)
			if err != nil || math.Abs(l.TC-base.TC) > 0.05 || l.First != base.First {
				t.Errorf("%v %s: %.3f °C %s, before %.3f °C %s (%v)", w, how, l.TC, l.First, base.TC, base.First, err)
			}
		}
	}
}

// TestTraceContinuity: an oxide enters the melt without a jump, from nothing
// through the amount below which it is dropped.
func TestTraceContinuity(t *testing.T) {
	m := testModel(t)
	r := rand.New(rand.NewPCG(23, 3))
	for range 100 {
		w := smelting(r)
		for _, o := range []slag.Oxide{slag.CaO, slag.MgO, slag.MnO, slag.K2O, slag.Al2O3} {
			w[o] = 0
			without, err := m.Liquidus(w)
			if err != nil {
				t.Fatal(err)
			}
			for _, trace := range []float64{1e-6, 1e-5, 1e-4} {
				w[o] = trace
				with, err := m.Liquidus(w)
				if err != nil || math.Abs(with.TC-without.TC) > 0.1 {
					t.Errorf("%v: %g wt%% %v moves the liquidus from %.3f to %.3f °C (%v)", w, trace, o, without.TC, with.TC, err)
				}
			}
		}
	}
}

// TestContinuity walks along straight lines between slags in steps of 0.1 wt%
// or less: the temperature never jumps, not even where the first phase changes.
func TestContinuity(t *testing.T) {
	m := testModel(t)
	r := rand.New(rand.NewPCG(29, 3))
	lines := 200
	if testing.Short() {
		lines = 20
	}
	changes := 0
	var s search
	for range lines {
		a, b := smelting(r), smelting(r)
		var longest float64
		for o := range a {
			longest = math.Max(longest, math.Abs(a[o]-b[o]))
		}
		n := int(longest/0.1) + 1
		var last onset
		for i := 0; i <= n; i++ {
			f := float64(i) / float64(n)
			var w slag.Wt
			for o := range w {
				w[o] = a[o] + f*(b[o]-a[o])
			}
			o, err := m.onset(&s, &w)
			if err != nil {
				t.Fatal(err)
			}
			if i > 0 {
				if math.Abs(o.T-last.T) >= 20 {
					t.Errorf("%v: from %.1f to %.1f °C within 0.1 wt%%", w, last.tc(), o.tc())
				}
				if o.solid != last.solid {
					changes++
				}
			}
			last = o
		}
	}
	if changes == 0 {
		t.Error("the first phase never changed, so the lines tested nothing")
	}
}

// TestChangeOfPhaseIsContinuous closes in on changes of first phase and checks
// that the temperature is the same on both sides.
func TestChangeOfPhaseIsContinuous(t *testing.T) {
	m := testModel(t)
	r := rand.New(rand.NewPCG(31, 3))
	var s search
	closed := 0
	for range 300 {
		a, b := smelting(r), smelting(r)
		at := func(f float64) (slag.Wt, onset) {
			var w slag.Wt
			for o := range w {
				w[o] = a[o] + f*(b[o]-a[o])
			}
			o, err := m.onset(&s, &w)
			if err != nil {
				t.Fatal(err)
			}
			return w, o
		}
		lo, hi := 0.0, 1.0
		_, first := at(lo)
		if _, last := at(hi); first.solid == last.solid {
			continue
		}
		for range 40 {
			mid := (lo + hi) / 2
			if _, o := at(mid); o.solid == first.solid {
				lo = mid
			} else {
				hi = mid
			}
		}
		w, before := at(lo)
		if _, after := at(hi); math.Abs(before.T-after.T) > 0.05 {
			t.Errorf("%v: %.3f °C %s beside %.3f °C %s", w, before.tc(), m.solids[before.solid].name, after.tc(), m.solids[after.solid].name)
		}
		closed++
	}
	if closed < 50 {
		t.Errorf("only %d changes of phase were met", closed)
	}
}

// TestNothingHot: ordinary slags melt between 1000 and 1500 °C, and above the
// liquidus nothing is saturated.
func TestNothingHot(t *testing.T) {
	m := testModel(t)
	r := rand.New(rand.NewPCG(37, 3))
	for range 250 {
		w := smelting(r)
		l, err := m.Liquidus(w)
		if err != nil {
			t.Fatal(err)
		}
		if w[slag.SiO2] <= 42 && w[slag.FeO]+w[slag.CaO] >= 50 && (l.TC <= 1000 || l.TC >= 1500) {
			t.Errorf("%v: %.0f °C %s", w, l.TC, l.First)
		}
		x, _ := cationFractions(w)
		var s search
		s.start(m, &x)
		for T := l.TC + celsius + 0.1; T < hottest; T += 2 {
			if f, i := s.greatest(T); f >= 0 {
				t.Errorf("%v: %s saturated at %.0f °C, above the liquidus of %.0f °C", w, m.solids[i].name, T-celsius, l.TC)
				break
			}
		}
	}
}

// TestRobustness: any melt has an answer or an error, never a number that is
// none, and never a silica liquidus above the melting point of cristobalite.
func TestRobustness(t *testing.T) {
	m := testModel(t)
	r := rand.New(rand.NewPCG(41, 3))
	for range 4000 {
		w := wide(r)
		l, err := m.Liquidus(w)
		if err != nil {
			if !errors.Is(err, ErrNoOxide) && !errors.Is(err, ErrNoSolid) {
				t.Errorf("%v: %v", w, err)
			}
			continue
		}
		switch {
		case math.IsNaN(l.TC) || l.TC < 400 || l.TC > 2900:
			t.Errorf("%v: %g °C", w, l.TC)
		case l.First == "" || l.ModelSD <= 0:
			t.Errorf("%v: incomplete answer %+v", w, l)
		case l.First.silica() && l.TC > 1726.01:
			t.Errorf("%v: silica at %.1f °C", w, l.TC)
		case l.TwoLiquids && math.Abs(l.TC-1698) > 1e-6:
			t.Errorf("%v: two liquids at %.1f °C", w, l.TC)
		}
		for _, n := range l.Near {
			if n.TC > l.TC+1e-6 || n.TC < l.TC-nearWindow-1e-6 || n.Phase == l.First {
				t.Errorf("%v: first %s at %.2f °C, near %+v", w, l.First, l.TC, n)
			}
		}
	}
}

// TestRiseIsBounded checks the bound on which the search relies to leap over
// steps: with half of it to spare at furnace temperatures.
func TestRiseIsBounded(t *testing.T) {
	m := testModel(t)
	r := rand.New(rand.NewPCG(43, 3))
	check := func(x vector) {
		var s search
		s.start(m, &x)
		var before [maxMinerals]float64
		for T := hottest; T >= coldest; T -= scanStep {
			s.at(T)
			saturated := false
			for _, i := range s.solids[:s.nSolids] {
				S := s.supersaturation(i, T, lacking)
				rise := (S - before[i]) / math.Log((T+scanStep)/T) / m.solids[i].cations
				limit := fastestRise
				if T > 1300 {
					limit *= 0.6
				}
				if T < hottest && rise > limit {
					t.Errorf("%v: %s rises by %.1f per cation at %.0f K", x, m.solids[i].name, rise, T)
				}
				before[i] = S
				saturated = saturated || S >= 0
			}
			if saturated {
				return
			}
		}
	}
	for i := range m.members {
		check(m.members[i].composition())
	}
	for range 1500 {
		if x, ok := cationFractions(wide(r)); ok {
			check(x)
		}
	}
}

// FuzzLiquidus: whatever the numbers, the answer is a temperature or an error.
func FuzzLiquidus(f *testing.F) {
	f.Add(32.0, 55.0, 13.0, 0.0, 0.0, 0.0, 0.0, 0.0)
	f.Add(0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 1.0, 0.0)
	f.Add(1e-300, 1e300, 0.0, 1e-7, 1.0, 0.0, 0.0, 5.0)
	f.Add(-1.0, math.Inf(1), math.NaN(), 0.0, 0.0, 0.0, 0.0, 0.0)
	m := testModel(f)
	f.Fuzz(func(t *testing.T, si, fe, ca, al, mg, mn, k, na float64) {
		l, err := m.Liquidus(slag.Wt{slag.SiO2: si, slag.FeO: fe, slag.CaO: ca, slag.Al2O3: al, slag.MgO: mg, slag.MnO: mn, slag.K2O: k, slag.Na2O: na})
		if err == nil && !(l.TC > 400 && l.TC < 2900) {
			t.Errorf("%g °C, %s", l.TC, l.First)
		}
	})
}
