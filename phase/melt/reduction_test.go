package melt

import (
	"errors"
	"math"
	"testing"

	"smeltbook/phase/slag"
)

// TestReductions reduces one slag by hand: 100 g with 30 SiO2, 40 FeO, 8 CaO,
// 10 Al2O3, 4 MgO, 3 MnO, 2 K2O, 2 TiO2, 1 ZnO.
func TestReductions(t *testing.T) {
	w := slag.Wt{slag.SiO2: 30, slag.FeO: 40, slag.CaO: 8, slag.Al2O3: 10, slag.MgO: 4, slag.MnO: 3, slag.K2O: 2, slag.TiO2: 2, slag.ZnO: 1}
	want := map[string][4]float64{ // corners as counted and their sum
		"plain":                          {30, 40, 8, 78},
		"bases to lime":                  {30, 40, 14, 84},
		"alumina to silica":              {42, 40, 8, 90},
		"manganese to iron":              {30, 44, 8, 82},
		"everything to the nearest kind": {42, 44, 14, 100},
		"lime, magnesia and alumina in one corner": {30, 40, 22, 92},
		"plain, with alumina for lime":             {30, 40, 10, 80},
	}
	m := testModel(t)
	s, err := m.Reductions(w)
	if err != nil || len(s.List) != len(want) {
		t.Fatalf("%d recipes, %v", len(s.List), err)
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, r := range s.List {
		x := want[r.Name]
		for i, c := range r.Corners {
			if math.Abs(r.Wt[c]-100*x[i]/x[3]) > 1e-9 {
				t.Errorf("%s: %v %.4f, want %.4f", r.Name, c, r.Wt[c], 100*x[i]/x[3])
			}
		}
		if math.Abs(r.Covered-x[3]/100) > 1e-12 || r.Err != nil {
			t.Errorf("%s: covers %g, want %g (%v)", r.Name, r.Covered, x[3]/100, r.Err)
		}
		l, err := m.Liquidus(r.Wt)
		if err != nil || l.TC != r.Liquidus.TC || r.OffC != l.TC-s.Full.TC {
			t.Errorf("%s: %g °C, %+g, the liquidus is %g (%v)", r.Name, r.Liquidus.TC, r.OffC, l.TC, err)
		}
		low, high = math.Min(low, l.TC), math.Max(high, l.TC)
	}
	if s.LowC != low || s.HighC != high || s.Range != high-low {
		t.Errorf("from %g to %g, range %g; want %g to %g", s.LowC, s.HighC, s.Range, low, high)
	}
}

// TestReductionOfThreeOxides: a melt of the corners alone is what it is under
// every recipe.
func TestReductionOfThreeOxides(t *testing.T) {
	w := slag.Wt{slag.SiO2: 32, slag.FeO: 55, slag.CaO: 13}
	s, err := testModel(t).Reductions(w, StandardReductions()[:6]...)
	if err != nil || s.Range > 1e-6 || math.Abs(s.LowC-s.Full.TC) > 1e-6 {
		t.Errorf("%+v, %v", s, err)
	}
}

// TestReductionIron: iron counts the same however it is stated.
func TestReductionIron(t *testing.T) {
	r := StandardReductions()[0]
	a, _, errA := r.Apply(slag.Wt{slag.SiO2: 32, slag.FeO: 58, slag.CaO: 10})
	// 159.687/(2·71.844) = 1.11134, from CIAAW atomic weights.
	b, _, errB := r.Apply(slag.Wt{slag.SiO2: 32, slag.Fe2O3: 58 * 1.11134, slag.CaO: 10})
	if errA != nil || errB != nil || math.Abs(a[slag.FeO]-b[slag.FeO]) > 1e-3 {
		t.Errorf("%v, %v (%v, %v)", a, b, errA, errB)
	}
}

func TestReductionErrors(t *testing.T) {
	core := [3]slag.Oxide{slag.SiO2, slag.FeO, slag.CaO}
	for name, r := range map[string]Reduction{
		"corner to another corner": {"a", core, map[slag.Oxide]slag.Oxide{slag.FeO: slag.CaO}},
		"into no corner":           {"b", core, map[slag.Oxide]slag.Oxide{slag.MgO: slag.MnO}},
		"two corners alike":        {"c", [3]slag.Oxide{slag.SiO2, slag.SiO2, slag.CaO}, nil},
		"unknown corner":           {"d", [3]slag.Oxide{slag.SiO2, slag.FeO, slag.ZrO2}, nil},
	} {
		if _, _, err := r.Apply(slag.Wt{slag.SiO2: 40, slag.FeO: 60}); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	s, err := testModel(t).Reductions(slag.Wt{slag.MgO: 57, slag.MnO: 43})
	if err != nil || !errors.Is(s.List[0].Err, ErrNoCorner) || s.List[1].Err != nil {
		t.Errorf("%+v, %v", s, err)
	}
}
