package melt

import (
	"errors"
	"math"
	"slices"
	"testing"

	"smeltbook/phase/slag"
)

// TestSolidifyCompounds: a compound that melts congruently freezes at its
// melting point, all of it.
func TestSolidifyCompounds(t *testing.T) {
	m := testModel(t)
	for _, name := range []string{"FeO", "Fa", "Fo", "Te", "C2S", "Pwo", "Cri", "Lim", "An", "Geh", "Ak", "Di", "Lc", "Cor", "MgO"} {
		w := formulaMelt(t, m, map[string]float64{name: 100})
		p, err := m.Solidify(w)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		checkPath(t, w, &p, true)
		last := p.Steps[len(p.Steps)-1]
		if math.Abs(p.SolidusC-p.Liquidus.TC) > 0.05 || p.End != FrozenAtOnce || len(last.Solids) != 1 || math.Abs(last.Solids[0].Share-100) > 1e-6 {
			t.Errorf("%s: from %.3f °C to %.3f °C, %s, %+v", name, p.Liquidus.TC, p.SolidusC, p.End, last.Solids)
		}
	}
}

// TestSolidusOfBinaries: in a system of two oxides without solid solution the
// last liquid freezes at the eutectic, whatever the share of the oxides.
// Published eutectics within the pass rule of the calibration, 25 °C: they are
// among its points, so this tests the freezing and not the model. From memory,
// high confidence.
func TestSolidusOfBinaries(t *testing.T) {
	m := testModel(t)
	for _, c := range []struct {
		w      slag.Wt
		tc     float64
		phases [2]Phase
		source string
	}{
		{slag.Wt{slag.FeO: 90, slag.SiO2: 10}, 1177, [2]Phase{Wustite, Olivine}, "Bowen & Schairer 1932, Am. J. Sci. 24:177-213"},
		{slag.Wt{slag.FeO: 74, slag.SiO2: 26}, 1177, [2]Phase{Wustite, Olivine}, "Bowen & Schairer 1932"},
		{slag.Wt{slag.FeO: 66, slag.SiO2: 34}, 1178, [2]Phase{Olivine, Tridymite}, "Bowen & Schairer 1932"},
		{slag.Wt{slag.FeO: 55, slag.SiO2: 45}, 1178, [2]Phase{Olivine, Tridymite}, "Bowen & Schairer 1932"},
		{slag.Wt{slag.CaO: 42, slag.SiO2: 58}, 1436, [2]Phase{Pseudowollastonite, Tridymite}, "Rankin & Wright 1915, Am. J. Sci. 39:1-79"},
		{slag.Wt{slag.CaO: 34, slag.SiO2: 66}, 1436, [2]Phase{Pseudowollastonite, Tridymite}, "Rankin & Wright 1915"},
	} {
		p, err := m.Solidify(c.w)
		if err != nil {
			t.Errorf("%v: %v", c.w, err)
			continue
		}
		checkPath(t, c.w, &p, true)
		last := p.Steps[len(p.Steps)-1]
		if math.Abs(p.SolidusC-c.tc) > 25 || p.End != FrozenAtOnce || len(last.Solids) != 2 {
			t.Errorf("%v: solidus %.1f °C, %s, %+v; want %g, %s", c.w, p.SolidusC, p.End, last.Solids, c.tc, c.source)
		}
		for _, s := range last.Solids {
			if s.Phase != c.phases[0] && s.Phase != c.phases[1] {
				t.Errorf("%v: %s, want %v", c.w, s.Phase, c.phases)
			}
		}
	}
}

// TestLeverRule derives the amount of wüstite in a melt of FeO and SiO2 from
// the model's own liquidus: the liquid at a temperature is the melt with that
// liquidus, and wüstite holds no silica.
func TestLeverRule(t *testing.T) {
	m := testModel(t)
	const silica = 14.0
	p, err := m.Solidify(slag.Wt{slag.FeO: 100 - silica, slag.SiO2: silica})
	if err != nil {
		t.Fatal(err)
	}
	for tc := p.Liquidus.TC - 5; tc > p.SolidusC+5; tc -= 10 {
		lo, hi := silica, 24.5
		for range 50 {
			mid := (lo + hi) / 2
			l, err := m.Liquidus(slag.Wt{slag.FeO: 100 - mid, slag.SiO2: mid})
			if err != nil {
				t.Fatal(err)
			}
			if l.First == Wustite && l.TC > tc {
				lo = mid
			} else {
				hi = mid
			}
		}
		s := p.At(tc)
		want := silica / lo
		if math.Abs(s.Liquid-want) > 1e-3 || math.Abs(p.FractionLiquid(tc)-want) > 1e-3 || math.Abs(s.Melt[slag.SiO2]-lo) > 0.05 {
			t.Errorf("%.1f °C: %.5f liquid with %.3f %% SiO2, the lever rule gives %.5f with %.3f", tc, s.Liquid, s.Melt[slag.SiO2], want, lo)
		}
		checkBalance(t, &p, &s)
	}
}

// TestMolten: the temperatures at which 90 and 50 % are liquid are those.
func TestMolten(t *testing.T) {
	m := testModel(t)
	for name, w := range benchMelts {
		p, err := m.Solidify(w)
		if err != nil {
			t.Fatal(err)
		}
		for tc, want := range map[float64]float64{p.T90MoltenC: 0.9, p.THalfMoltenC: 0.5, p.Liquidus.TC + 50: 1} {
			if got := p.FractionLiquid(tc); math.Abs(got-want) > 1e-6 || math.Abs(p.At(tc).Liquid-want) > 1e-6 {
				t.Errorf("%s: %.6f liquid at %.2f °C, want %g", name, got, tc, want)
			}
		}
		for fraction, want := range map[float64]float64{0.9: p.T90MoltenC, 0.5: p.THalfMoltenC, 1: p.Liquidus.TC} {
			if got := p.MoltenC(fraction); math.Abs(got-want) > 0.01 {
				t.Errorf("%s: %g liquid at %.3f °C, want %.3f", name, fraction, got, want)
			}
		}
		if got := p.FractionLiquid(p.MoltenC(0.73)); math.Abs(got-0.73) > 1e-9 {
			t.Errorf("%s: %g liquid where 0.73 should be", name, got)
		}
		if !math.IsNaN(p.MoltenC(-1)) {
			t.Errorf("%s: less than no liquid at %g °C", name, p.MoltenC(-1))
		}
		last := p.Steps[len(p.Steps)-1]
		if got := p.At(400); got.Liquid != last.Liquid || p.FractionLiquid(400) != last.Liquid || got.TC != 400 {
			t.Errorf("%s: %+v below the end", name, got)
		}
	}
}

// TestSplitStart: a melt of two liquids starts where silica comes first, with
// a step down at one temperature, and says so.
func TestSplitStart(t *testing.T) {
	m := testModel(t)
	w := slag.Wt{slag.SiO2: 80, slag.CaO: 20}
	p, err := m.Solidify(w)
	if err != nil {
		t.Fatal(err)
	}
	checkPath(t, w, &p, true)
	a, b := p.Steps[0], p.Steps[1]
	if a.TC != b.TC || math.Abs(a.TC-1698) > 1e-6 || a.Liquid != 1 || b.Solids[0].Phase != Cristobalite {
		t.Errorf("%+v, %+v", a, b)
	}
	// Greig 1927: the lime-rich liquid beside silica holds about 72.5 wt% SiO2
	// (a calibration point with 1 wt%; from memory, high confidence).
	if math.Abs(b.Melt[slag.SiO2]-72.5) > 2 {
		t.Errorf("%.1f %% SiO2 in the liquid beside cristobalite", b.Melt[slag.SiO2])
	}
	if got := p.Notices.Codes(); got[0] != "SOLIDIFICATION_TWO_LIQUIDS" {
		t.Errorf("notices %v", got)
	}
}

// TestSolidifyErrors: what has no liquidus has no path.
func TestSolidifyErrors(t *testing.T) {
	m := testModel(t)
	for _, c := range []struct {
		w  slag.Wt
		is error
	}{
		{slag.Wt{}, ErrNoOxide},
		{slag.Wt{slag.K2O: 100}, ErrNoSolid},
		{slag.Wt{slag.SiO2: -1, slag.FeO: 5}, nil},
	} {
		if _, err := m.Solidify(c.w); err == nil || c.is != nil && !errors.Is(err, c.is) {
			t.Errorf("%v: %v", c.w, err)
		}
	}
}

// TestUnhosted: without alumina no mineral takes up potassium; it stays in the
// liquid, and the path says so.
func TestUnhosted(t *testing.T) {
	m := testModel(t)
	for _, c := range []struct {
		w    slag.Wt
		want []slag.Oxide
	}{
		{slag.Wt{slag.FeO: 66, slag.SiO2: 31, slag.K2O: 3}, []slag.Oxide{slag.K2O}},
		{slag.Wt{slag.FeO: 60, slag.SiO2: 31, slag.K2O: 3, slag.Al2O3: 6}, nil},
	} {
		p, err := m.Solidify(c.w)
		if err != nil {
			t.Fatal(err)
		}
		told := slices.Contains(p.Notices.Codes(), "SOLIDIFICATION_UNHOSTED")
		if !slices.Equal(p.Unhosted, c.want) || told != (c.want != nil) {
			t.Errorf("%v: %v, notices %v", c.w, p.Unhosted, p.Notices.Codes())
		}
		last := p.Steps[len(p.Steps)-1]
		if kept := last.Liquid * last.Melt[slag.K2O]; c.want != nil && math.Abs(kept-3) > 1e-6 {
			t.Errorf("%v: %g wt%% K2O in the liquid", c.w, kept)
		}
	}
}

// TestFormula writes end members as mineralogists do.
func TestFormula(t *testing.T) {
	m := testModel(t)
	want := map[string]string{"Fa": "Fe2SiO4", "Kir": "CaFeSiO4", "Hc": "FeAl2O4", "An": "CaAl2Si2O8", "Mul": "Al6Si2O13",
		"Lc": "KAlSi2O6", "Cod": "Fe2Al4Si5O18", "Cor": "Al2O3", "CaOw": "CaO", "Cri": "SiO2", "Rnk": "Ca3Si2O7"}
	for i := range m.members {
		e := &m.members[i]
		if w, ok := want[e.name]; ok && e.formula() != w {
			t.Errorf("%s is written %s, not %s", e.name, e.formula(), w)
		}
	}
}
