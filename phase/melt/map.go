package melt

import (
	"context"
	"fmt"
	"math"
	"slices"
	"sync"

	"smeltbook/phase/slag"
)

// Section is a triangle of compositions: three oxides share what the oxides
// held constant leave of 100 wt%.
type Section struct {
	A, B, C  slag.Oxide
	Constant slag.Wt // wt% of the whole melt; zero for A, B and C
}

// Point is a place in a section: the shares of the corners, which sum to 1.
type Point struct{ A, B, C float64 }

// Melt returns the composition at p, in wt%.
func (s Section) Melt(p Point) slag.Wt {
	w := s.Constant
	rest := 100 - s.held()
	w[s.A] += rest * p.A
	w[s.B] += rest * p.B
	w[s.C] += rest * p.C
	return w
}

// PointOf returns where a melt falls in the section when only its amounts of
// the three corners count; ok is false where it holds none of them. The other
// oxides of the melt need not be those that the section holds.
func (s Section) PointOf(w slag.Wt) (p Point, ok bool) {
	w = w.AllFeO()
	sum := w[s.A] + w[s.B] + w[s.C]
	if !(sum > 0) {
		return Point{}, false
	}
	return Point{w[s.A] / sum, w[s.B] / sum, w[s.C] / sum}, true
}

func (s Section) held() (sum float64) {
	for _, x := range s.Constant {
		sum += x
	}
	return sum
}

func (s Section) check() error {
	if s.A == s.B || s.B == s.C || s.A == s.C {
		return fmt.Errorf("the corners of a section must differ: %v, %v, %v", s.A, s.B, s.C)
	}
	for _, corner := range []slag.Oxide{s.A, s.B, s.C} {
		if !slices.ContainsFunc(modelled, func(o modelledOxide) bool { return o.oxide == corner }) {
			return fmt.Errorf("%v cannot be a corner: the liquidus model does not know it", corner)
		}
		if s.Constant[corner] != 0 {
			return fmt.Errorf("%v is a corner of the section and cannot be held constant", corner)
		}
	}
	if err := checkMelt(s.Constant); err != nil {
		return err
	}
	if h := s.held(); h >= 100 {
		return fmt.Errorf("the oxides held constant sum to %g wt%% and leave nothing for the corners", h)
	}
	return nil
}

// Map is the liquidus over a section, on a triangular grid. It may be used by
// any number of goroutines and never changes.
type Map struct {
	Section Section
	Step    float64 // wt%, the spacing of the grid along a side

	grid       grid
	model      *Model
	tc         []float64 // °C at each vertex; NaN where there is no liquidus
	first      []Phase   // first phase or TwoLiquids; empty without a liquidus
	field      []Phase   // the same without specks
	boundaries func() []Boundary
}

const (
	finestStep   = 0.2
	coarsestStep = 20.0
)

// Map computes the liquidus over a section on a grid of about step wt% of the
// share of the corners (0.2 to 20), rounded so that the side holds a whole
// number of steps.
func (m *Model) Map(ctx context.Context, s Section, step float64) (*Map, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	if !(step >= finestStep && step <= coarsestStep) {
		return nil, fmt.Errorf("the grid of a map must be between %g and %g wt%%, not %g", finestStep, coarsestStep, step)
	}
	g := grid{n: int(math.Round(100 / step))}
	mp := &Map{Section: s, Step: 100 / float64(g.n), grid: g, model: m,
		tc: make([]float64, g.size()), first: make([]Phase, g.size())}
	err := inParallel(ctx, g.size(), func(work *search, v int) {
		mp.tc[v], mp.first[v] = mp.at(work, g.point(v))
	})
	if err != nil {
		return nil, err
	}
	var work search
	mp.field = mp.grid.withoutSpecks(mp.first, func(v int, among []Phase) Phase {
		_, phase := mp.atAmong(&work, mp.grid.point(v), among)
		return phase
	})
	mp.boundaries = sync.OnceValue(mp.trace)
	return mp, nil
}

// at returns the liquidus and the field at p.
func (mp *Map) at(s *search, p Point) (float64, Phase) { return mp.atAmong(s, p, nil) }

// atAmong returns the same as if only the given phases could form; nil stands
// for all.
func (mp *Map) atAmong(s *search, p Point, phases []Phase) (float64, Phase) {
	w := mp.Section.Melt(p)
	o, err := mp.model.onsetAmong(s, &w, phases)
	switch {
	case err != nil:
		return math.NaN(), ""
	case o.split:
		return o.tc(), TwoLiquids
	}
	return o.tc(), mp.model.solids[o.solid].phase
}

// Node is one vertex of the grid of a map.
type Node struct {
	Point
	TC    float64 // °C; NaN where the model has no liquidus
	First Phase   // TwoLiquids where the melt splits; empty without a liquidus
}

// Nodes returns the vertices of the grid, row by row from A = 0.
func (mp *Map) Nodes() []Node {
	list := make([]Node, mp.grid.size())
	for v := range list {
		list[v] = Node{mp.grid.point(v), mp.tc[v], mp.first[v]}
	}
	return list
}

// Range returns the vertices with the lowest and the highest liquidus; their
// TC is NaN where no vertex has one.
func (mp *Map) Range() (lowest, highest Node) {
	lowest, highest = Node{TC: math.NaN()}, Node{TC: math.NaN()}
	for v, t := range mp.tc {
		if math.IsNaN(t) {
			continue
		}
		if !(t >= lowest.TC) {
			lowest = Node{mp.grid.point(v), t, mp.first[v]}
		}
		if !(t <= highest.TC) {
			highest = Node{mp.grid.point(v), t, mp.first[v]}
		}
	}
	return lowest, highest
}
