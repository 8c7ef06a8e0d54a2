package melt

import (
	"context"
	"math"
	"slices"
	"testing"

	"smeltbook/phase/slag"
)

// checkInvariants: at each point the three phases are first at once, around it
// they share the plane, and the temperature runs along the boundaries as told.
func checkInvariants(t *testing.T, mp *Map, list []Invariant) {
	t.Helper()
	var s search
	for i, inv := range list {
		if i > 0 && inv.TC > list[i-1].TC {
			t.Errorf("%+v is not in order", inv)
		}
		if !inside(inv.Point) {
			t.Errorf("%+v lies outside", inv)
		}
		tc, first := mp.at(&s, inv.Point)
		if math.Abs(tc-inv.TC) > 0.02 || first != inv.Phases[0] && first != inv.Phases[1] && first != inv.Phases[2] {
			t.Errorf("%v: %.3f °C, the liquidus is %.3f, %s", inv.Phases, inv.TC, tc, first)
		}
		const r = 2e-3
		met := map[Phase]bool{}
		lowest := math.Inf(1)
		const directions = 1200 // close enough to meet a valley that falls by 0.5 °C per wt% only
		for k := range directions {
			a := 2 * math.Pi * float64(k) / directions
			u, v := r*math.Cos(a), r*math.Sin(a)
			p := Point{inv.A + u, inv.B - u/2 + v*math.Sqrt(3)/2, inv.C - u/2 - v*math.Sqrt(3)/2}
			if min(p.A, p.B, p.C) < 0 {
				continue
			}
			tc, first := mp.at(&s, p)
			met[first] = true
			lowest = math.Min(lowest, tc)
		}
		for _, p := range inv.Phases {
			if !met[p] {
				t.Errorf("%v at %.1f °C: no %s around it, %v", inv.Phases, inv.TC, p, met)
			}
		}
		if falls := lowest < inv.TC-0.01; falls != (inv.Kind == PeritecticPoint) && inv.Kind != TransitionPoint {
			t.Errorf("%v at %.1f °C is called %s, the lowest liquidus around is %.2f, along the boundaries %v", inv.Phases, inv.TC, inv.Kind, lowest, inv.Along)
		}
	}
}

// TestInvariantsOfTheCore: the lowest melt between olivine, wollastonite and
// tridymite, 1105 °C (Bowen, Schairer & Posnjak 1933, Am. J. Sci. 26:193–284; a
// calibration point with 15 °C; from memory, high confidence), within the pass
// rule of the calibration. The model has a sliver of pyroxene there.
func TestInvariantsOfTheCore(t *testing.T) {
	mp := coreMap(t, 2)
	list := mp.Invariants()
	checkInvariants(t, mp, list)
	found := false
	for _, inv := range list {
		t.Logf("%v %.1f °C %s at %.1f SiO2 %.1f FeO %.1f CaO, along %.1f", inv.Phases, inv.TC, inv.Kind, 100*inv.A, 100*inv.B, 100*inv.C, inv.Along)
		if inv.Kind == EutecticPoint && slices.Contains(inv.Phases[:], Olivine) && slices.Contains(inv.Phases[:], Tridymite) {
			found = math.Abs(inv.TC-1105) < 25
		}
		if inv.Piercing {
			t.Errorf("%v pierces a section that holds nothing", inv.Phases)
		}
	}
	if !found {
		t.Error("no eutectic of olivine and tridymite near 1105 °C")
	}
}

// TestInvariantsOfLimeAluminaSilica compares with Rankin & Wright 1915, Am. J.
// Sci. 39:1–79 (from memory, high confidence). The second was not among the
// calibration points; it has to lie within twice the standard deviation that
// the model states for itself, the others within the pass rule, 25 °C. The
// liquid at 1345 °C, 70.4 % SiO2, 19.8 % Al2O3 and 9.8 % CaO, is by mass balance
// 49 % anorthite, 3 % mullite and 48 % silica, so the point is a eutectic.
// Tridymite and cristobalite part at 1470 °C.
func TestInvariantsOfLimeAluminaSilica(t *testing.T) {
	mp, err := testModel(t).Map(context.Background(), Section{A: slag.SiO2, B: slag.Al2O3, C: slag.CaO}, 2)
	if err != nil {
		t.Fatal(err)
	}
	list := mp.Invariants()
	checkInvariants(t, mp, list)
	for _, inv := range list {
		t.Logf("%v %.1f °C %s at %.1f SiO2 %.1f Al2O3 %.1f CaO, along %.1f", inv.Phases, inv.TC, inv.Kind, 100*inv.A, 100*inv.B, 100*inv.C, inv.Along)
	}
	for _, c := range []struct {
		phases  [3]Phase
		tc, tol float64
		kind    InvariantKind
	}{
		{[3]Phase{Anorthite, Pseudowollastonite, Tridymite}, 1170, 25, EutecticPoint},
		{[3]Phase{Anorthite, Melilite, Pseudowollastonite}, 1265, 2 * ModelSD(slag.Wt{slag.SiO2: 42, slag.Al2O3: 20, slag.CaO: 38}), EutecticPoint},
		{[3]Phase{Melilite, Pseudowollastonite, Rankinite}, 1310, 25, EutecticPoint},
		{[3]Phase{Anorthite, Mullite, Tridymite}, 1345, 25, EutecticPoint},
		{[3]Phase{Anorthite, Corundum, Mullite}, 1512, 25, PeritecticPoint},
		{[3]Phase{Anorthite, Corundum, Melilite}, 1380, 25, EutecticPoint},
		{[3]Phase{Cristobalite, Mullite, Tridymite}, 1470, 2, TransitionPoint},
	} {
		found := false
		for _, inv := range list {
			if inv.Phases == c.phases {
				found = true
				if math.Abs(inv.TC-c.tc) > c.tol || inv.Kind != c.kind {
					t.Errorf("%v: %.1f °C, %s; want %g, %s", c.phases, inv.TC, inv.Kind, c.tc, c.kind)
				}
			}
		}
		if !found {
			t.Errorf("no point of %v", c.phases)
		}
	}
}

// TestInvariantsOfASection: with alumina held constant the points are where
// lines of the larger system pierce the section.
func TestInvariantsOfASection(t *testing.T) {
	mp, err := testModel(t).Map(context.Background(), Section{A: slag.SiO2, B: slag.FeO, C: slag.CaO, Constant: slag.Wt{slag.Al2O3: 8}}, 2)
	if err != nil {
		t.Fatal(err)
	}
	list := mp.Invariants()
	checkInvariants(t, mp, list)
	if len(list) < 4 {
		t.Errorf("%d points", len(list))
	}
	for _, inv := range list {
		t.Logf("%v %.1f °C %s at %.1f SiO2 %.1f FeO %.1f CaO, along %.1f", inv.Phases, inv.TC, inv.Kind, 100*inv.A, 100*inv.B, 100*inv.C, inv.Along)
		if !inv.Piercing {
			t.Errorf("%v does not pierce", inv.Phases)
		}
	}
}
