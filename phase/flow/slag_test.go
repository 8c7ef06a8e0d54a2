package flow

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"smeltbook/assay/source/checkdata"
	"smeltbook/phase/internal/worked"
	"smeltbook/phase/slag"
)

// The factors of Einstein–Roscoe with 1.35 and 2.5, worked apart.
func TestRoscoe(t *testing.T) {
	for f, want := range map[float64]string{0.1: "1.437", 0.2: "2.196", 0.3: "3.662"} {
		got, err := Roscoe().Factor(f)
		if err != nil {
			t.Fatal(err)
		}
		worked.Printed(t, "factor", got, want)
	}
	if got, err := Spinel().Factor(0.2); err != nil || got < 2.196 {
		t.Errorf("spinel stiffens less than spheres: %v, %v", got, err)
	}
	for _, f := range []float64{0.741, 1, 1.1, -0.1, math.NaN()} {
		if got, err := Roscoe().Factor(f); err == nil || !math.IsNaN(got) {
			t.Errorf("Factor(%v) = %v, want a refusal", f, got)
		}
	}
}

// ramp crystallises in a straight line between two temperatures; its liquid
// keeps the composition of the whole.
type ramp struct {
	solidus, liquidus float64
	w                 slag.Wt
}

func (r ramp) SolidFraction(tc float64) float64 {
	return min(max((r.liquidus-tc)/(r.liquidus-r.solidus), 0), 1)
}

func (r ramp) Liquid(float64) slag.Wt { return r.w }

// byVolume is a ramp that knows its volumes.
type byVolume struct{ ramp }

func (r byVolume) SolidVolume(tc float64) float64 { return r.SolidFraction(tc) }

func mushy(t testing.TB) *Slag {
	t.Helper()
	w := worked.Melt(t, worked.PB31).Wt
	s, err := New(w, Settings{Crystals: byVolume{ramp{1000, 1200, w}}})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestThroughTheMeltingInterval(t *testing.T) {
	s := mushy(t)
	clear, err := New(worked.Melt(t, worked.PB31).Wt, Settings{})
	if err != nil {
		t.Fatal(err)
	}
	for _, tc := range []float64{1300, 1200} {
		a, err := s.At(tc)
		if err != nil {
			t.Fatal(err)
		}
		b, err := clear.At(tc)
		if err != nil {
			t.Fatal(err)
		}
		if a.Eta != b.Eta || a.SolidMass != 0 {
			t.Errorf("at %v °C, all molten: %+v, %+v", tc, a, b)
		}
		checkdata.Near(t, "band", a.Hi/a.Lo, 4, 1e-12)
	}
	v, err := s.At(1180)
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "a tenth of crystals", v.Eta/v.Liquid, 1.437, 0.0005)
	v, err = s.At(1140)
	if err != nil || !strings.Contains(strings.Join(v.Notices.Codes(), " "), "VISCOSITY_LOWER_BOUND") {
		t.Errorf("with 30 vol%% crystals: %v, %v", v.Notices, err)
	}
	if _, err := s.At(1050); err == nil || !strings.Contains(err.Error(), "no longer flows") {
		t.Errorf("with 75 vol%% crystals: %v", err)
	}
	if _, err := s.At(990); err == nil || !strings.Contains(err.Error(), "below its solidus") {
		t.Errorf("below the solidus: %v", err)
	}
}

// Heavier crystals take less volume than mass.
func TestMassToVolume(t *testing.T) {
	w := worked.Melt(t, worked.PB31).Wt
	s, err := New(w, Settings{Crystals: ramp{1000, 1200, w}})
	if err != nil {
		t.Fatal(err)
	}
	v, err := s.At(1140)
	if err != nil {
		t.Fatal(err)
	}
	rho := Density(w, 1140).Value
	checkdata.Near(t, "mass", v.SolidMass, 0.3, 1e-12)
	checkdata.Near(t, "volume", v.SolidVolume, 0.3/4.32/(0.3/4.32+0.7/rho), 1e-12)
}

// The temperature found has the viscosity asked for, is the hottest that has,
// and its band is that of half and double the viscosity.
func TestTemperatureAt(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 1))
	found := 0
	for range 300 {
		w := slag.Wt{slag.SiO2: 20 + 40*r.Float64(), slag.FeO: 60 * r.Float64(), slag.CaO: 30 * r.Float64(), slag.Al2O3: 15 * r.Float64(), slag.K2O: 3 * r.Float64()}
		for _, m := range Models() {
			s, err := New(w, Settings{Model: m})
			if err != nil {
				t.Fatal(err)
			}
			eta := math.Pow(10, 3*r.Float64()-1)
			reach, err := s.TemperatureAt(eta)
			if err != nil {
				continue // too thin or too stiff over the whole span; said below
			}
			found++
			v, err := s.At(reach.TC)
			if err != nil {
				t.Fatalf("%s of %v, %v Pa·s: %v", m.Key(), w, eta, err)
			}
			checkdata.Near(t, m.Key()+" viscosity there", v.Eta/eta, 1, 1e-6)
			if reach.Lo > reach.TC || reach.Hi < reach.TC || reach.Stops {
				t.Errorf("band %+v", reach)
			}
		}
	}
	if found < 1000 {
		t.Errorf("only %d of 1800 temperatures found", found)
	}
}

func TestTemperatureAtThroughCrystals(t *testing.T) {
	s := mushy(t)
	reach, err := s.TemperatureAt(2)
	if err != nil {
		t.Fatal(err)
	}
	v, err := s.At(reach.TC)
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "viscosity", v.Eta, 2, 1e-5)
	if v.SolidVolume < 0.1 {
		t.Errorf("2 Pa·s is reached with %v crystals", v.SolidVolume)
	}
	// Crystals that come all at once: the slag passes every viscosity there.
	w := worked.Melt(t, worked.PB31).Wt
	sudden, err := New(w, Settings{Crystals: ramp{1149.9999999, 1150, w}})
	if err != nil {
		t.Fatal(err)
	}
	if reach, err = sudden.TemperatureAt(50); err != nil || !reach.Stops {
		t.Errorf("%+v, %v", reach, err)
	}
	checkdata.Near(t, "stops at", reach.TC, 1150, 0.001)
	for _, bad := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if _, err := s.TemperatureAt(bad); err == nil {
			t.Errorf("%v Pa·s is accepted", bad)
		}
	}
	if _, err := s.TemperatureAt(1e-9); err == nil || !strings.Contains(err.Error(), "already stiffer") {
		t.Errorf("no melt is that thin: %v", err)
	}
	clear, err := New(w, Settings{})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := clear.TemperatureAt(1e9); err == nil || !strings.Contains(err.Error(), "stays thinner") {
		t.Errorf("no melt is that stiff: %v", err)
	}
}

// badCrystals breaks its word.
type badCrystals struct{ share float64 }

func (b badCrystals) SolidFraction(float64) float64 { return b.share }
func (b badCrystals) Liquid(float64) slag.Wt        { return slag.Wt{} }

func TestRefusals(t *testing.T) {
	w := worked.Melt(t, worked.PB31).Wt
	if _, err := New(slag.Wt{slag.SiO2: -3}, Settings{}); err == nil || !strings.Contains(err.Error(), "negative") {
		t.Errorf("a negative share: %v", err)
	}
	if _, err := New(w, Settings{Suspension: Suspension{A: 0.5, N: 2.5, SolidDensity: 4}}); err == nil {
		t.Error("an impossible suspension is accepted")
	}
	if _, err := New(slag.Wt{slag.SiO2: 100}, Settings{}); err == nil || !strings.Contains(err.Error(), "0/0") {
		t.Errorf("pure silica: %v", err)
	}
	for _, share := range []float64{-0.1, 1.5, math.NaN(), 0.5} {
		s, err := New(w, Settings{Crystals: badCrystals{share}})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := s.At(1200); err == nil {
			t.Errorf("crystals of %v without a liquid are accepted", share)
		}
		if _, err := s.TemperatureAt(1); err == nil {
			t.Errorf("crystals of %v reach a viscosity", share)
		}
	}
	s, err := New(w, Settings{})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.At(math.NaN()); err == nil {
		t.Error("no temperature is accepted")
	}
	if s.Reason == "" || s.Model.Key() != "utigard_warczok_1995" {
		t.Errorf("choice %+v", s.Choice)
	}
}

// A liquid thins as it gets hotter, by every model and for every slag that
// holds some silica.
func TestThinnerWhenHotter(t *testing.T) {
	for _, s := range worked.Slags(t) {
		for _, m := range Models() {
			law, err := m.Law(s.Melt.Wt)
			if err != nil {
				t.Fatal(err)
			}
			last := math.Inf(1)
			for tc := 1000.0; tc <= 1600; tc += 25 {
				eta := law.At(tc)
				if !(eta < last) || !(eta > 0) {
					t.Errorf("%s, %s: %v Pa·s at %v °C after %v", s.ID, m.Key(), eta, tc, last)
				}
				last = eta
			}
		}
	}
}

// The curve is that of At, infinite where At refuses, and rises as it cools
// without a jump at the liquidus.
func TestCurve(t *testing.T) {
	s := mushy(t)
	points, err := s.Curve(950, 1304, 5)
	if err != nil {
		t.Fatal(err)
	}
	if last := points[len(points)-1]; last.TC != 1304 || len(points) != 72 {
		t.Fatalf("%d points to %+v", len(points), last)
	}
	for i, p := range points {
		v, err := s.At(p.TC)
		if err != nil {
			if !math.IsInf(p.Eta, 1) {
				t.Errorf("%+v, but %v", p, err)
			}
			continue
		}
		checkdata.Near(t, "curve", p.Eta/v.Eta, 1, 1e-12)
		if i > 0 && !(points[i-1].Eta > p.Eta) {
			t.Errorf("thinner when colder: %+v, %+v", points[i-1], p)
		}
	}
	a, err := s.Curve(1199.999, 1200.001, 0.001)
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "no jump at the liquidus", a[0].Eta/a[2].Eta, 1, 1e-3)
	for _, bad := range [][3]float64{{1300, 1200, 5}, {1200, 1300, 0}, {1200, 1300, 1e-9}, {math.NaN(), 1300, 5}} {
		if _, err := s.Curve(bad[0], bad[1], bad[2]); err == nil {
			t.Errorf("%v has a curve", bad)
		}
	}
}
