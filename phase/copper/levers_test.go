package copper

import (
	"math"
	"strings"
	"testing"

	"smeltbook/assay/chem"
	"smeltbook/assay/source/checkdata"
	"smeltbook/phase/flow"
	"smeltbook/phase/redox"
	"smeltbook/phase/slag"
)

func runny(t testing.TB) *flow.Slag {
	t.Helper()
	c, err := chem.ParseComposition("SiO2=34.4 TiO2=0.5 Al2O3=6.8 FeO=49.0 MnO=2.2 MgO=1.2 CaO=1.6 K2O=1.2 CuO=3.0")
	if err != nil {
		t.Fatal(err)
	}
	m, err := slag.FromComposition(c)
	if err != nil {
		t.Fatal(err)
	}
	s, err := flow.New(m.Wt, flow.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func situation(t testing.TB, tc, lo, hi float64) Situation {
	return Situation{Conditions: UnderCopper(tc, lo, hi), Slag: runny(t), Entrained: Interval{0.5, 1}, Drop: 1e-4, Depth: 0.05, Waited: 600}
}

// Dissolved copper at a fixed CO/CO2 of 9, capacity 35, worked apart: 0.18,
// 0.23, 0.28, 0.34 wt% at 1150 to 1300 °C. At fixed oxygen potential it falls.
func TestDissolvedAtFixedGas(t *testing.T) {
	for tc, want := range map[float64]float64{1150: 0.18, 1200: 0.23, 1250: 0.28, 1300: 0.34} {
		p, err := redox.FromGas(9, tc)
		if err != nil {
			t.Fatal(err)
		}
		w, _ := Dissolved(tc, p, 1, 35)
		checkdata.Near(t, "copper under CO/CO2 9", w, want, 0.00501)
	}
}

// The derivatives against finite differences of the worked tables: between
// 1200 and 1300 °C at log pO2 −10, (0.86 − 1.19)/10 for each 10 °C; between
// 1200 and 1300 °C at CO/CO2 9, (0.34 − 0.23)/10; a decade at −10 and 1250 °C
// lies between the differences to −11 and to −9.
func TestLevers(t *testing.T) {
	s := situation(t, 1250, -10, -10)
	s.Capacity.Lo = 35
	l, err := WouldHaveSaved(s)
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "hotter at fixed pO2", l.HotterFixedPO2.Change.Lo, (0.86-1.19)/10, 0.0015)
	checkdata.Near(t, "one value at one pO2 and capacity", l.HotterFixedPO2.Change.Hi, l.HotterFixedPO2.Change.Lo, 1e-12)
	if d := -l.Reducing.Change.Lo; d < 1.00-0.56 || d > 1.79-1.00 {
		t.Errorf("a decade less: %v", d)
	}
	checkdata.Near(t, "a decade less", l.Reducing.Change.Lo, -1.00*math.Ln10/4, 0.003)

	p, err := redox.FromGas(9, 1250)
	if err != nil {
		t.Fatal(err)
	}
	s = situation(t, 1250, p, p)
	s.Capacity.Lo = 35
	l, err = WouldHaveSaved(s)
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "hotter under the same gas", l.HotterFixedGas.Change.Lo, (0.34-0.23)/10, 0.001)
	checkdata.Near(t, "the gas", l.GasRatio.Lo, 9, 1e-9)
	if !strings.Contains(l.HotterFixedGas.Sentence, "more copper") || !strings.Contains(l.HotterFixedPO2.Sentence, "less copper") {
		t.Errorf("%q, %q", l.HotterFixedGas.Sentence, l.HotterFixedPO2.Sentence)
	}
	if !strings.Contains(l.Reducing.Sentence, "iron goes into the copper") {
		t.Errorf("%q", l.Reducing.Sentence)
	}
}

// Settling against its own law: a stirred bath followed a little longer,
// and one a little hotter.
func TestSettlingLevers(t *testing.T) {
	s := situation(t, 1250, -10, -9)
	l, err := WouldHaveSaved(s)
	if err != nil {
		t.Fatal(err)
	}
	left := func(tc, seconds float64, law flow.Drag) float64 {
		b, _, err := s.Slag.Bath(tc)
		if err != nil {
			t.Fatal(err)
		}
		return b.Left(law, s.Drop, s.Depth, seconds, true)
	}
	// What is there now is what 600 s have left.
	rigid := left(1250, 600.6, flow.Stokes)/left(1250, 600, flow.Stokes) - 1 // a hundredth of a minute
	checkdata.Near(t, "a minute, rigid drops", l.Waiting.Change.Hi/(0.5*100*rigid), 1, 0.01)
	mobile := left(1250, 600.6, flow.HadamardRybczynski)/left(1250, 600, flow.HadamardRybczynski) - 1
	checkdata.Near(t, "a minute, mobile drops", l.Waiting.Change.Lo/(100*mobile), 1, 0.01)
	hot := left(1251, 600, flow.HadamardRybczynski)/left(1250, 600, flow.HadamardRybczynski) - 1
	checkdata.Near(t, "ten degrees, mobile drops", l.HotterSettling.Change.Lo/(10*hot), 1, 0.05)
	if !(l.Waiting.Change.Lo < l.Waiting.Change.Hi && l.Waiting.Change.Hi < 0 && l.HotterSettling.Change.Hi < 0) {
		t.Errorf("%+v", l)
	}
	for _, x := range l.All() {
		if x.Key == "" || x.Unit == "" || x.Sentence == "" || strings.HasSuffix(x.Sentence, ".") || x.Change.Lo > x.Change.Hi {
			t.Errorf("%+v", x)
		}
	}
}

func TestLeversRefuse(t *testing.T) {
	for what, spoil := range map[string]func(*Situation){
		"no slag":            func(s *Situation) { s.Slag = nil },
		"no drops":           func(s *Situation) { s.Drop = 0 },
		"no depth":           func(s *Situation) { s.Depth = 0 },
		"entrained reversed": func(s *Situation) { s.Entrained = Interval{2, 1} },
		"negative waiting":   func(s *Situation) { s.Waited = -1 },
		"pO2 reversed":       func(s *Situation) { s.LogPO2 = Interval{-9, -10} },
		"no temperature":     func(s *Situation) { s.TC = -400 },
	} {
		s := situation(t, 1250, -10, -9)
		spoil(&s)
		if l, err := WouldHaveSaved(s); err == nil {
			t.Errorf("%s: %+v", what, l)
		}
	}
}
