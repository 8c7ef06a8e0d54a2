package refit

import (
	"math"
	"slices"

	"smeltbook/phase/melt"
	"smeltbook/phase/slag"
)

// Score is how a model does at one point.
type Score struct {
	Point Point
	TC    float64 // °C; NaN where the model has no answer
	First melt.Phase
	Pass  bool
	Right bool // the first phase is one of those published
}

const (
	passWithin = 25.0 // °C
	leastReach = 1.0  // wt%
	reachStep  = 0.05 // wt%
)

// Judge compares a model with points. A point passes within 25 °C at the
// stated composition, or where the model has the published temperature
// somewhere within the uncertainty of the composition (at least 1 wt%) along
// one oxide that the point holds, the others giving way in proportion.
func Judge(m *melt.Model, points []Point) []Score {
	list := make([]Score, len(points))
	for i, p := range points {
		s := Score{Point: p, TC: math.NaN()}
		if l, err := m.Liquidus(p.W); err == nil {
			s.TC, s.First = l.TC, l.First
			s.Right = p.holds(l.First)
			s.Pass = passes(m, &p, l.TC)
		}
		list[i] = s
	}
	return list
}

func passes(m *melt.Model, p *Point, tc float64) bool {
	if math.Abs(tc-p.TC) <= passWithin {
		return true
	}
	reach := max(p.SigmaWt, leastReach)
	for o, x := range p.W {
		if x == 0 {
			continue
		}
		for _, sign := range []float64{-1, 1} {
			for n := 1.0; n*reachStep <= reach+1e-9; n++ {
				share := min(max(x+sign*n*reachStep, 0), 100)
				l, err := m.Liquidus(withOxide(p.W, slag.Oxide(o), share))
				if err == nil && (l.TC-p.TC)*(tc-p.TC) <= 0 {
					return true
				}
			}
		}
	}
	return false
}

// Summary sums up a set of scores.
type Summary struct {
	N                        int
	Pass, Right, Median, RMS float64 // per cent, per cent, °C, °C
	P68                      float64 // °C; two thirds of the points are nearer
	Signed                   float64 // °C; median of the model less the published value
}

// Sum sums up the scores that belong to a set.
func Sum(scores []Score, in func(*Point) bool) (s Summary) {
	var d, signed []float64
	var squares float64
	for i := range scores {
		c := &scores[i]
		if !in(&c.Point) {
			continue
		}
		s.N++
		if c.Pass {
			s.Pass++
		}
		if c.Right {
			s.Right++
		}
		e := math.Abs(c.TC - c.Point.TC)
		if math.IsNaN(e) {
			e = 1000
		}
		d, signed = append(d, e), append(signed, c.TC-c.Point.TC)
		squares += e * e
	}
	if s.N == 0 {
		return s
	}
	slices.Sort(d)
	slices.Sort(signed)
	n := len(d)
	s.Signed = (signed[(n-1)/2] + signed[n/2]) / 2
	s.P68 = d[min(int(0.68*float64(n)), n-1)]
	s.Median, s.RMS = (d[(n-1)/2]+d[n/2])/2, math.Sqrt(squares/float64(n))
	s.Pass, s.Right = 100*s.Pass/float64(n), 100*s.Right/float64(n)
	return s
}

// Set is a group of points under one heading.
type Set struct {
	Name string
	In   func(*Point) bool
}

// Sets are the groups of the report.
var Sets = []Set{
	{"all", func(*Point) bool { return true }},
	{"CaO–FeO–SiO2", func(p *Point) bool { return Stage(p.W) == 0 }},
	{"with Al2O3", func(p *Point) bool { return p.W[slag.Al2O3] > 0 }},
	{"with MgO, no Al2O3", func(p *Point) bool { return p.W[slag.MgO] > 0 && p.W[slag.Al2O3] == 0 }},
	{"with MnO, K2O or Na2O", func(p *Point) bool { return p.W[slag.MnO]+p.W[slag.K2O]+p.W[slag.Na2O] > 0 }},
	{"with Fe2O3", func(p *Point) bool { return p.W[slag.Fe2O3] > 0 }},
	{"with ZnO", func(p *Point) bool { return p.W[slag.ZnO] > 0 }},
	{"melting points", func(p *Point) bool { return p.Type == "melting" }},
	{"one mineral, melting points apart", func(p *Point) bool { return len(p.Phases) == 1 && p.Type != "melting" }},
	{"two minerals", func(p *Point) bool { return len(p.Phases) == 2 }},
	{"three minerals", func(p *Point) bool { return len(p.Phases) == 3 }},
}
