package dressing

import (
	"fmt"
	"math"

	"smeltbook/assay/chem"
)

// Mineral is the copper mineral of an ore.
type Mineral struct {
	Name    string
	Formula string
	Density float64 // g/cm³
	Copper  float64 // wt% Cu, from the formula
}

// minerals are copper minerals with formula and density of handbooks of
// mineralogy (from memory).
var minerals = []Mineral{
	{Name: "malachite", Formula: "Cu2CO5H2", Density: 4.0},
	{Name: "azurite", Formula: "Cu3C2O8H2", Density: 3.8},
	{Name: "cuprite", Formula: "Cu2O", Density: 6.1},
	{Name: "tenorite", Formula: "CuO", Density: 6.4},
	{Name: "chalcocite", Formula: "Cu2S", Density: 5.7},
	{Name: "covellite", Formula: "CuS", Density: 4.7},
	{Name: "bornite", Formula: "Cu5FeS4", Density: 5.1},
	{Name: "chalcopyrite", Formula: "CuFeS2", Density: 4.2},
}

// Minerals returns the names of the copper minerals known.
func Minerals() []string {
	var names []string
	for _, m := range minerals {
		names = append(names, m.Name)
	}
	return names
}

// LookupMineral returns a copper mineral by its name.
func LookupMineral(name string) (Mineral, bool) {
	for _, m := range minerals {
		if m.Name != name {
			continue
		}
		f, err := chem.ParseFormula(m.Formula)
		cu, _, ok := chem.AtomicWeight("Cu")
		if err != nil || !ok {
			return Mineral{}, false
		}
		m.Copper = 100 * float64(f["Cu"]) * cu / f.Mass()
		return m, true
	}
	return Mineral{}, false
}

// Sampling is what Gy's formula needs to know of an ore. Sizes are in mm.
//
//	s² = C·d³·(1/M − 1/M₀)    C = f·g·l·m
//	m  = (1 − a)/a·((1 − a)ρ + aγ)    a = grade/copper of the mineral
//	l  = √(L/d), at most 1
//
// s is the relative standard deviation of the grade of a split of mass M from
// a lot M₀ (g), broken to the top size d (cm); after Gy, as taught in courses
// of sampling (course sheet CM3820, 2009).
type Sampling struct {
	Mineral    Mineral
	Gangue     float64 // density in g/cm³
	Liberation float64 // L, size below which grains of the mineral are free, mm
	Shape      float64 // f: 0.5 for most ores, 0.2 for flakes
	Range      float64 // g: 0.25 where sizes spread widely, 1 where all are equal
}

// DefaultSampling is for unsized broken ore of a mineral: shape 0.5, range
// 0.25, gangue of density 2.7 (common practice), free below 0.2 mm (our
// assumption; look at the ore under a lens).
func DefaultSampling(m Mineral) Sampling {
	return Sampling{Mineral: m, Gangue: 2.7, Liberation: 0.2, Shape: 0.5, Range: 0.25}
}

// Constant returns Gy's C in g/cm³ for an ore of a grade (wt% Cu) broken to a
// top size in mm. It fails for a grade that is zero or not below that of the
// mineral.
func (s Sampling) Constant(grade, top float64) (float64, error) {
	a := grade / s.Mineral.Copper
	switch {
	case !(a > 0) || a >= 1:
		return 0, fmt.Errorf("no sampling constant at %g wt%% Cu: the grade lies above zero and below the %.1f wt%% of %s", grade, s.Mineral.Copper, s.Mineral.Name)
	case !(top > 0) || !(s.Liberation > 0) || !(s.Gangue > 0) || !(s.Mineral.Density > 0) || !(s.Shape > 0) || !(s.Range > 0):
		return 0, fmt.Errorf("no sampling constant: sizes, densities and factors are above zero")
	}
	m := (1 - a) / a * ((1-a)*s.Mineral.Density + a*s.Gangue)
	l := math.Min(math.Sqrt(s.Liberation/top), 1)
	return s.Shape * s.Range * l * m, nil
}

// FundamentalSD returns the relative standard deviation that splitting alone
// gives to the assay of a split of mass g (grams) from a lot that is much
// larger: the least error any way of sampling can have.
func (s Sampling) FundamentalSD(grade, top, mass float64) (float64, error) {
	c, err := s.Constant(grade, top)
	if err != nil {
		return 0, err
	}
	if !(mass > 0) {
		return 0, fmt.Errorf("a split of %g g has no assay", mass)
	}
	return math.Sqrt(c * cube(top/10) / mass), nil
}

// MinimumMass returns the grams that a split needs for a relative standard
// deviation.
func (s Sampling) MinimumMass(grade, top, relative float64) (float64, error) {
	c, err := s.Constant(grade, top)
	if err != nil {
		return 0, err
	}
	if !(relative > 0) {
		return 0, fmt.Errorf("no mass gives a standard deviation of %g", relative)
	}
	return c * cube(top/10) / sq(relative), nil
}

func cube(x float64) float64 { return x * x * x }

// WithSampling returns the circuit with the fundamental error of splitting
// added in quadrature to the copper assays whose split and top size the sheet
// states, and how many that were. Use it where the stated uncertainties are
// those of the laboratory alone.
func (c Circuit) WithSampling(s Sampling) (Circuit, int) {
	changed := 0
	add := func(x Stream) Stream {
		out := x
		out.Grades = nil
		for _, g := range x.Grades {
			q := g.Content
			if g.Component == Copper && q.HasU() && x.Sample.Known() && x.Top.Known() {
				if sd, err := s.FundamentalSD(q.Value, x.Top.Value, x.Sample.Value); err == nil {
					q.U = math.Hypot(q.U, sd*q.Value)
					q.UNote += ", with the fundamental error of the split"
					changed++
				}
			}
			out.Grades = append(out.Grades, Grade{g.Component, q})
		}
		return out
	}
	out := Circuit{Name: c.Name, Components: c.Components}
	for _, st := range c.Stages {
		n := Stage{Name: st.Name, At: st.At, Feed: add(st.Feed)}
		for _, p := range st.Products {
			n.Products = append(n.Products, add(p))
		}
		for _, p := range st.Fractions {
			n.Fractions = append(n.Fractions, add(p))
		}
		out.Stages = append(out.Stages, n)
	}
	return out, changed
}
