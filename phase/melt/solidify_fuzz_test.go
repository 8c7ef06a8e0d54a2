package melt

import (
	"math"
	"testing"

	"smeltbook/phase/slag"
)

// FuzzSolidify: whatever the numbers, the answer is a path or an error, and
// every number of a path is one.
func FuzzSolidify(f *testing.F) {
	f.Add(32.0, 55.0, 13.0, 0.0, 0.0, 0.0, 0.0)
	f.Add(80.0, 1.0, 10.0, 9.0, 0.0, 0.0, 0.0)
	f.Add(1e-300, 1e300, 0.0, 1e-7, 1.0, 0.0, 5.0)
	f.Add(30.0, 50.0, 3e-5, 1e-4, 20.0, 1e-6, 1e-5)
	f.Add(-1.0, math.Inf(1), math.NaN(), 0.0, 0.0, 0.0, 0.0)
	m := testModel(f)
	var space Freezer
	f.Fuzz(func(t *testing.T, si, fe, ca, al, mg, mn, k float64) {
		p, err := m.SolidifyIn(&space, slag.Wt{slag.SiO2: si, slag.FeO: fe, slag.CaO: ca, slag.Al2O3: al, slag.MgO: mg, slag.MnO: mn, slag.K2O: k})
		if err != nil {
			return
		}
		for _, s := range p.Steps {
			sum := s.Liquid
			for _, d := range s.Solids {
				sum += d.Share / 100
			}
			if !(s.TC > 400 && s.TC < 2930) || math.Abs(sum-1) > 1e-9 {
				t.Errorf("%g °C, liquid and solids sum to %g", s.TC, sum)
			}
		}
	})
}
