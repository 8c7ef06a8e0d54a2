package melt

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestLiquidsAreNotSupersaturated: the liquid of a step is saturated with every
// solid that is there and supersaturated with none.
func TestLiquidsAreNotSupersaturated(t *testing.T) {
	m := testModel(t)
	r := rand.New(rand.NewPCG(67, 3))
	var space Freezer
	steps := 0
	for range 60 {
		p, err := m.SolidifyIn(&space, smelting(r))
		if err != nil {
			t.Fatal(err)
		}
		for _, st := range p.Steps {
			if st.Liquid == 0 {
				continue
			}
			steps++
			x, _ := cationFractions(st.Melt)
			var s search
			s.start(m, &x)
			s.at(st.TC + celsius)
			there := map[Phase]float64{}
			for _, i := range s.solids[:s.nSolids] {
				v := s.supersaturation(i, st.TC+celsius, lacking)
				if v > 1e-6 {
					t.Errorf("%v at %.3f °C: %s is supersaturated by %g", p.Whole, st.TC, m.solids[i].name, v)
				}
				if old, ok := there[m.solids[i].phase]; !ok || v > old {
					there[m.solids[i].phase] = v
				}
			}
			for _, d := range st.Solids {
				if v, ok := there[d.Phase]; !ok || v < -1e-6 {
					t.Errorf("%v at %.3f °C: %s is there with S = %g", p.Whole, st.TC, d.Mineral, v)
				}
			}
		}
	}
	if steps < 1000 {
		t.Errorf("only %d steps", steps)
	}
}

// TestGrainsAreWhatSaturates: the composition that a grain takes is the one at
// which its mineral has the supersaturation that the liquidus is computed
// from, and the derivatives of that by ln a are the cations in its formula.
func TestGrainsAreWhatSaturates(t *testing.T) {
	m := testModel(t)
	r := rand.New(rand.NewPCG(71, 3))
	checked := map[mixingKind]int{}
	for range 300 {
		x, ok := cationFractions(wide(r))
		if !ok {
			continue
		}
		T := 1300 + 500*r.Float64()
		var s search
		s.start(m, &x)
		s.at(T)
		for _, i := range s.solids[:s.nSolids] {
			list, n := s.branches(i, T)
			g := list[0]
			if n > 1 && list[1].excess > g.excess {
				g = list[1]
			}
			S := s.underAnyName(i, T)
			if math.Abs(S-g.excess) > 1e-8*(1+math.Abs(S)) {
				t.Errorf("%v, %.0f K: %s has S = %.12f, its grain %.12f", x, T, m.solids[i].name, S, g.excess)
			}
			checked[m.solids[i].mixing]++
			if n > 1 {
				continue
			}
			for c, v := range s.lna {
				if v == lacking || x[c] == 0 {
					continue
				}
				const h = 1e-4
				at := func(d float64) float64 {
					probe := s
					probe.lna[c] += d
					for _, e := range probe.here[:probe.nHere] {
						probe.a[e] = m.members[e].activitySum(&probe.lna) + probe.q[e]
					}
					return probe.underAnyName(i, T)
				}
				if slope := (at(h) - at(-h)) / (2 * h); math.Abs(slope-g.cations[c]) > 1e-4 {
					t.Errorf("%v, %.0f K: %s answers to %v with %.6f, its grain holds %.6f", x, T, m.solids[i].name, component(c), slope, g.cations[c])
				}
			}
		}
	}
	for _, k := range []mixingKind{pure, oneSite, wustites, olivines} {
		if checked[k] < 50 {
			t.Errorf("mixing %d was met %d times", k, checked[k])
		}
	}
}
