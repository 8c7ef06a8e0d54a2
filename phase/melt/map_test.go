package melt

import (
	"context"
	"errors"
	"math"
	"reflect"
	"runtime"
	"testing"

	"smeltbook/phase/slag"
)

var coreSection = Section{A: slag.SiO2, B: slag.FeO, C: slag.CaO}

func coreMap(t testing.TB, step float64) *Map {
	t.Helper()
	mp, err := testModel(t).Map(context.Background(), coreSection, step)
	if err != nil {
		t.Fatal(err)
	}
	return mp
}

func inside(p Point) bool {
	return p.A >= -1e-12 && p.B >= -1e-12 && p.C >= -1e-12 && math.Abs(p.A+p.B+p.C-1) < 1e-9
}

// TestGrid checks the numbering of the vertices and the areas.
func TestGrid(t *testing.T) {
	g := grid{n: 7}
	var area float64
	seen := map[Point]bool{}
	for v := range g.size() {
		i, j := g.place(v)
		if g.vertex(i, j) != v {
			t.Errorf("vertex %d is at %d, %d, which is vertex %d", v, i, j, g.vertex(i, j))
		}
		area += g.area(v)
		seen[g.point(v)] = true
	}
	count := 0
	g.triangles(func(a, b, c int) { count++ })
	if math.Abs(area-1) > 1e-12 || len(seen) != g.size() || count != 49 {
		t.Errorf("area %g, %d places, %d triangles", area, len(seen), count)
	}
}

// TestIsothermsLieOnTheLiquidus solves the model at every point of the lines.
func TestIsothermsLieOnTheLiquidus(t *testing.T) {
	m, mp := testModel(t), coreMap(t, 1)
	lines := mp.Isotherms([]float64{1150, 1200, 1300, 1500, math.NaN()})
	total, far, far10 := 0, 0, 0
	for _, l := range lines {
		if len(l.Points) < 2 || l.Closed != (l.Points[0] == l.Points[len(l.Points)-1] && len(l.Points) > 3) {
			t.Errorf("%g °C: a line of %d points, closed %v", l.TC, len(l.Points), l.Closed)
		}
		for _, p := range l.Points {
			if !inside(p) {
				t.Fatalf("%g °C: %v is not in the triangle", l.TC, p)
			}
			at, err := m.Liquidus(coreSection.Melt(p))
			if err != nil {
				t.Fatal(err)
			}
			total++
			if d := math.Abs(at.TC - l.TC); d > 2 {
				far++
				if d > 10 {
					far10++
				}
			}
		}
	}
	if total < 500 || far*50 > total || far10*200 > total {
		t.Errorf("of %d points %d are more than 2 °C off and %d more than 10", total, far, far10)
	}
}

// TestBoundariesSeparateTheirFields: on either side of a boundary lie its two
// phases, and at its points both come within a few degrees.
func TestBoundariesSeparateTheirFields(t *testing.T) {
	m, mp := testModel(t), coreMap(t, 0.5) // the field of rankinite is less than 1 wt% wide
	var s search
	total, off := 0, 0
	for _, b := range mp.Boundaries() {
		if b.Phases[0] >= b.Phases[1] {
			t.Errorf("phases %v are not in order", b.Phases)
		}
		for _, p := range b.Points {
			if !inside(p) {
				t.Fatalf("%v: %v is not in the triangle", b.Phases, p)
			}
			if b.Phases[0] == TwoLiquids || b.Phases[1] == TwoLiquids {
				continue
			}
			w := coreSection.Melt(p)
			x, _ := cationFractions(w)
			o, err := m.onset(&s, &w)
			if err != nil {
				t.Fatal(err)
			}
			s.start(m, &x)
			s.at(o.T)
			for _, phase := range b.Phases {
				top := lacking
				for _, i := range s.solids[:s.nSolids] {
					if m.solids[i].phase == phase {
						top = max(top, s.supersaturation(i, o.T, lacking))
					}
				}
				total++
				if top < -0.02 {
					off++
				}
			}
		}
	}
	if total < 1000 || off*20 > total {
		t.Errorf("of %d pairs of point and phase %d are not saturated", total, off)
	}
}

// TestFields: the fields cover the triangle, the expected ones are there, and
// each label stands in its own field.
func TestFields(t *testing.T) {
	m, mp := testModel(t), coreMap(t, 1)
	var share float64
	found := map[Phase]bool{}
	for _, f := range mp.Fields() {
		share += f.Share
		found[f.Phase] = true
		if f.Share < speck || !inside(f.Label) || f.Room <= 0 {
			t.Errorf("%+v", f)
		}
		var s search
		w := coreSection.Melt(f.Label)
		o, err := m.onset(&s, &w)
		if err != nil {
			t.Fatal(err)
		}
		if at := m.solids[o.solid].phase; at != f.Phase && !(o.split && f.Phase == TwoLiquids) {
			t.Errorf("the label of %s stands in %s", f.Name, at)
		}
	}
	if math.Abs(share-1) > 1e-9 {
		t.Errorf("the fields cover %g of the triangle", share)
	}
	// Osborn & Muan 1960, plates of CaO–FeO–SiO2: the fields a chart shows.
	for _, p := range []Phase{Olivine, Wustite, Lime, DicalciumSilicate, Pseudowollastonite, Wollastonite, Tridymite, Cristobalite, TwoLiquids} {
		if !found[p] {
			t.Errorf("no field of %s", p)
		}
	}
}

// TestMapIsDeterministic: the same bits on one processor and on all.
func TestMapIsDeterministic(t *testing.T) {
	run := func(procs int) (any, any, any, any) {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(procs))
		mp := coreMap(t, 4)
		return mp.Nodes(), mp.Boundaries(), mp.Fields(), mp.Isotherms([]float64{1200, 1400})
	}
	n1, b1, f1, i1 := run(1)
	n4, b4, f4, i4 := run(4)
	if !reflect.DeepEqual(n1, n4) || !reflect.DeepEqual(b1, b4) || !reflect.DeepEqual(f1, f4) || !reflect.DeepEqual(i1, i4) {
		t.Error("the map depends on the number of processors")
	}
}

// TestMapWithHoles: a corner that never freezes leaves a hole, not a NaN in a
// line.
func TestMapWithHoles(t *testing.T) {
	m := testModel(t)
	mp, err := m.Map(context.Background(), Section{A: slag.SiO2, B: slag.FeO, C: slag.K2O}, 5)
	if err != nil {
		t.Fatal(err)
	}
	holes := 0
	for _, n := range mp.Nodes() {
		if math.IsNaN(n.TC) {
			holes++
		}
	}
	if holes == 0 {
		t.Fatal("no hole at pure K2O")
	}
	for _, l := range mp.Isotherms([]float64{1000, 1200}) {
		for _, p := range l.Points {
			if !inside(p) {
				t.Errorf("%v", p)
			}
		}
	}
	for _, b := range mp.Boundaries() {
		for _, p := range b.Points {
			if !inside(p) {
				t.Errorf("%v", p)
			}
		}
	}
	lo, hi := mp.Range()
	if !(lo.TC < hi.TC) {
		t.Errorf("range %v to %v", lo, hi)
	}
}

func TestMapRefuses(t *testing.T) {
	m := testModel(t)
	for name, c := range map[string]struct {
		s    Section
		step float64
	}{
		"equal corners":        {Section{A: slag.SiO2, B: slag.SiO2, C: slag.CaO}, 5},
		"unknown corner":       {Section{A: slag.SiO2, B: slag.Cu2O, C: slag.CaO}, 5},
		"corner held":          {Section{A: slag.SiO2, B: slag.FeO, C: slag.CaO, Constant: slag.Wt{slag.FeO: 3}}, 5},
		"nothing left":         {Section{A: slag.SiO2, B: slag.FeO, C: slag.CaO, Constant: slag.Wt{slag.Al2O3: 100}}, 5},
		"negative":             {Section{A: slag.SiO2, B: slag.FeO, C: slag.CaO, Constant: slag.Wt{slag.Al2O3: -1}}, 5},
		"step of nothing":      {coreSection, 0},
		"step that is no step": {coreSection, math.NaN()},
	} {
		if _, err := m.Map(context.Background(), c.s, c.step); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := m.Map(ctx, coreSection, 1); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
}

// TestSectionPoints: melts and points are inverse to each other, whatever is
// held constant.
func TestSectionPoints(t *testing.T) {
	s := Section{A: slag.SiO2, B: slag.FeO, C: slag.CaO, Constant: slag.Wt{slag.Al2O3: 8, slag.MgO: 2}}
	p := Point{0.35, 0.5, 0.15}
	w := s.Melt(p)
	q, ok := s.PointOf(w)
	if !ok || distance(p, q) > 1e-12 || math.Abs(w[slag.SiO2]-0.35*90) > 1e-12 {
		t.Errorf("%v became %v (%v) by way of %v", p, q, ok, w)
	}
	if _, ok := s.PointOf(slag.Wt{slag.Al2O3: 100}); ok {
		t.Error("a melt without any corner has a place")
	}
}
