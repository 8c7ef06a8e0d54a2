package melt

import (
	"errors"
	"math"
	"slices"
	"testing"

	"smeltbook/phase/slag"
)

// TestNotices: what has to be told is told, and nothing else.
func TestNotices(t *testing.T) {
	m := testModel(t)
	for _, c := range []struct {
		name    string
		w       slag.Wt
		want    []string
		inRange bool
	}{
		{"plain slag", slag.Wt{slag.SiO2: 32, slag.FeO: 58, slag.CaO: 10}, []string{"LIQUIDUS_FERRIC_IRON"}, true},
		{"little ferric iron", slag.Wt{slag.SiO2: 32, slag.FeO: 57, slag.Fe2O3: 1, slag.CaO: 10}, []string{"LIQUIDUS_FERRIC_IRON"}, true},
		{"copper left out", slag.Wt{slag.SiO2: 32, slag.FeO: 56, slag.CaO: 8, slag.Cu2O: 4}, []string{"LIQUIDUS_FERRIC_IRON", "LIQUIDUS_OXIDES_LEFT_OUT"}, true},
		{"much left out", slag.Wt{slag.SiO2: 32, slag.FeO: 50, slag.CaO: 8, slag.Cu2O: 10}, []string{"LIQUIDUS_FERRIC_IRON", "LIQUIDUS_OXIDES_LEFT_OUT", "LIQUIDUS_OUT_OF_RANGE"}, false},
		{"many traces left out", slag.Wt{slag.SiO2: 32, slag.FeO: 56, slag.CaO: 10, slag.ZrO2: 0.7, slag.Cr2O3: 0.7, slag.BaO: 0.6}, []string{"LIQUIDUS_FERRIC_IRON", "LIQUIDUS_OXIDES_LEFT_OUT"}, true},
		{"soda", slag.Wt{slag.SiO2: 36, slag.FeO: 52, slag.CaO: 8, slag.Na2O: 2}, []string{"LIQUIDUS_FERRIC_IRON"}, true},
		{"titania", slag.Wt{slag.SiO2: 32, slag.FeO: 56, slag.CaO: 10, slag.TiO2: 1.5, slag.P2O5: 0.5}, []string{"LIQUIDUS_FERRIC_IRON", "LIQUIDUS_DILUENTS"}, true},
		{"zinc", slag.Wt{slag.SiO2: 32, slag.FeO: 54, slag.CaO: 10, slag.ZnO: 4}, []string{"LIQUIDUS_FERRIC_IRON", "LIQUIDUS_ZINC"}, true},
		{"iron as Fe2O3 alone", slag.Wt{slag.SiO2: 32, slag.Fe2O3: 58, slag.CaO: 10}, []string{"LIQUIDUS_FERRIC_IRON"}, true},
		{"alkalis", slag.Wt{slag.SiO2: 40, slag.FeO: 42, slag.CaO: 8, slag.Al2O3: 5, slag.K2O: 5}, []string{"LIQUIDUS_FERRIC_IRON", "LIQUIDUS_ALKALI"}, true},
		{"alumina", slag.Wt{slag.SiO2: 42, slag.CaO: 20, slag.Al2O3: 38}, []string{"LIQUIDUS_OUT_OF_RANGE", "LIQUIDUS_ALUMINA_RICH"}, false},
		{"lime and FeO", slag.Wt{slag.SiO2: 4, slag.FeO: 74, slag.CaO: 22}, []string{"LIQUIDUS_FERRIC_IRON", "LIQUIDUS_OUT_OF_RANGE"}, false},
		{"kirschsteinite", slag.Wt{slag.SiO2: 31.96, slag.FeO: 38.21, slag.CaO: 29.83}, []string{"LIQUIDUS_FERRIC_IRON", "LIQUIDUS_NEAR_CAFESIO4"}, true},
		{"early anorthite", slag.Wt{slag.SiO2: 40, slag.FeO: 35, slag.CaO: 14, slag.Al2O3: 11}, []string{"LIQUIDUS_FERRIC_IRON", "LIQUIDUS_ANORTHITE_EARLY"}, true},
		{"two liquids", slag.Wt{slag.SiO2: 75, slag.CaO: 25}, []string{"LIQUIDUS_TWO_LIQUIDS"}, true},
		{"magnetite", slag.Wt{slag.SiO2: 30, slag.FeO: 50, slag.Fe2O3: 12, slag.CaO: 8}, []string{"LIQUIDUS_FERRIC_IRON", "LIQUIDUS_MAGNETITE"}, true},
		{"much ferric iron", slag.Wt{slag.SiO2: 25, slag.FeO: 35, slag.Fe2O3: 32, slag.CaO: 8}, []string{"LIQUIDUS_FERRIC_IRON", "LIQUIDUS_OUT_OF_RANGE", "LIQUIDUS_MAGNETITE"}, false},
	} {
		l, err := m.Liquidus(c.w)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if got := l.Notices.Codes(); !slices.Equal(got, c.want) || l.InRange != c.inRange {
			t.Errorf("%s: in range %v, notices %v; want %v, %v", c.name, l.InRange, got, c.inRange, c.want)
		}
	}
}

// TestIronForms: the same iron gives the same liquidus whether it is stated as
// FeO or as Fe2O3.
func TestIronForms(t *testing.T) {
	m := testModel(t)
	ferrous := slag.Wt{slag.SiO2: 32, slag.FeO: 58, slag.CaO: 10}
	ferric := ferrous
	ferric[slag.FeO] = 0
	// 159.687/(2·71.844) = 1.11134, from CIAAW atomic weights.
	ferric[slag.Fe2O3] = 58 * 1.11134
	a, errA := m.Liquidus(ferrous)
	b, errB := m.Liquidus(ferric)
	if errA != nil || errB != nil || math.Abs(a.TC-b.TC) > 0.05 {
		t.Errorf("%.3f °C as FeO, %.3f as Fe2O3 (%v, %v)", a.TC, b.TC, errA, errB)
	}
}

// TestFerricIron: a trace of Fe2O3 changes nothing, and with much of it
// magnetite comes first, ever hotter (common practice: slags rich in ferric
// iron start to crystallise with magnetite).
func TestFerricIron(t *testing.T) {
	m := testModel(t)
	ferrous := slag.Wt{slag.SiO2: 28, slag.FeO: 62, slag.CaO: 5, slag.Al2O3: 5}
	base, err := m.Liquidus(ferrous)
	if err != nil {
		t.Fatal(err)
	}
	trace := ferrous
	trace[slag.Fe2O3] = 1e-9
	if l, err := m.Liquidus(trace); err != nil || math.Abs(l.TC-base.TC) > 0.05 || l.First != base.First {
		t.Errorf("a trace of Fe2O3: %.3f °C %s, before %.3f °C %s (%v)", l.TC, l.First, base.TC, base.First, err)
	}
	last := base.TC
	for _, ferric := range []float64{12, 20, 30} {
		w := ferrous
		w[slag.FeO] -= ferric
		w[slag.Fe2O3] = ferric
		l, err := m.Liquidus(w)
		if err != nil || l.First != Magnetite || l.TC <= last {
			t.Errorf("%g wt%% Fe2O3: %.1f °C %s after %.1f °C (%v)", ferric, l.TC, l.First, last, err)
		}
		last = l.TC
	}
}

func TestErrors(t *testing.T) {
	m := testModel(t)
	for _, c := range []struct {
		name string
		w    slag.Wt
		is   error
	}{
		{"empty", slag.Wt{}, ErrNoOxide},
		{"unknown oxides only", slag.Wt{slag.ZrO2: 60, slag.Cu2O: 40}, ErrNoOxide},
		{"potash alone", slag.Wt{slag.K2O: 100}, ErrNoSolid},
		{"negative", slag.Wt{slag.SiO2: 50, slag.FeO: -1}, nil},
		{"not a number", slag.Wt{slag.SiO2: math.NaN(), slag.FeO: 50}, nil},
		{"infinite", slag.Wt{slag.SiO2: math.Inf(1), slag.FeO: 50}, nil},
	} {
		l, err := m.Liquidus(c.w)
		if err == nil || (c.is != nil && !errors.Is(err, c.is)) {
			t.Errorf("%s: %+v, %v; want %v", c.name, l, err, c.is)
		}
		if _, err := m.Slopes(c.w); err == nil {
			t.Errorf("%s: slopes without an error", c.name)
		}
	}
}

// TestNear: at a eutectic the second mineral is near the first.
func TestNear(t *testing.T) {
	m := testModel(t)
	// The lowest point found lies within a quarter of a per cent of the eutectic.
	_, at, w := lowest(t, m, "FeO", "Cri", 31, 45)
	l, err := m.Liquidus(w)
	for share := at - 0.25; share < at+0.25 && len(l.Near) == 0 && err == nil; share += 0.02 {
		l, err = m.Liquidus(formulaMelt(t, m, map[string]float64{"FeO": 100 - share, "Cri": share}))
	}
	if err != nil || len(l.Near) == 0 {
		t.Fatalf("%+v, %v: nothing near the fayalite–tridymite eutectic", l, err)
	}
	both := []Phase{l.First, l.Near[0].Phase}
	if !slices.Contains(both, Olivine) || !slices.Contains(both, Tridymite) {
		t.Errorf("fayalite–tridymite eutectic: first %s, near %v", l.First, l.Near)
	}
}

// TestModelSD pins the choice that the doc comment states.
func TestModelSD(t *testing.T) {
	for _, c := range []struct {
		w    slag.Wt
		want float64
	}{
		{slag.Wt{slag.SiO2: 32, slag.FeO: 58, slag.CaO: 10}, sdCore},
		{slag.Wt{slag.SiO2: 32, slag.FeO: 57, slag.CaO: 10, slag.Al2O3: 0.5}, sdCore},
		{slag.Wt{slag.SiO2: 32, slag.FeO: 52, slag.CaO: 8, slag.Al2O3: 8}, max(sdCore, sdAlumina)},
		{slag.Wt{slag.SiO2: 32, slag.FeO: 54, slag.CaO: 10, slag.MgO: 4}, max(sdCore, sdMagnesia)},
		{slag.Wt{slag.SiO2: 32, slag.FeO: 56, slag.CaO: 8, slag.Al2O3: 8, slag.MgO: 4}, max(sdAlumina, sdMagnesia)},
		{slag.Wt{slag.SiO2: 32, slag.FeO: 54, slag.CaO: 10, slag.K2O: 2}, math.Hypot(sdCore, 2*perAlkali*100/98)},
		{slag.Wt{slag.SiO2: 32, slag.FeO: 50, slag.CaO: 10, slag.Fe2O3: 5}, math.Hypot(sdCore, 5*perFerric*100/97)},
		{slag.Wt{slag.SiO2: 32, slag.FeO: 40, slag.Al2O3: 28}, max(sdOutside, sdAlumina)},
	} {
		if got := ModelSD(c.w); math.Abs(got-c.want) > 0.1 {
			t.Errorf("%v: %g, want %g", c.w, got, c.want)
		}
	}
}

// TestSlopes compares the slopes with the liquidus itself and the rise with
// MgO with what the forsterite–fayalite loop asks for: about 20 to 25 °C per
// wt% where olivine is first (Bowen & Schairer 1935, from memory).
func TestSlopes(t *testing.T) {
	m := testModel(t)
	w := slag.Wt{slag.SiO2: 31, slag.FeO: 63, slag.CaO: 3, slag.MgO: 3}
	s, err := m.Slopes(w)
	if err != nil || len(s.Slopes) != len(modelled) {
		t.Fatalf("%+v, %v", s, err)
	}
	l, err := m.Liquidus(w)
	if err != nil || l.First != Olivine {
		t.Fatalf("%+v, %v: want olivine first", l, err)
	}
	for _, slope := range s.Slopes {
		if slope.Oxide == slag.MgO && (slope.PerWt < 15 || slope.PerWt > 30) {
			t.Errorf("MgO raises the liquidus by %.1f °C per wt%%", slope.PerWt)
		}
	}
	steep, err := m.Slopes(slag.Wt{slag.SiO2: 43, slag.CaO: 57})
	if err != nil || !steep.VerySensitive || len(steep.Notices) != 1 {
		t.Errorf("the dicalcium silicate cliff: %+v, %v", steep, err)
	}
}
