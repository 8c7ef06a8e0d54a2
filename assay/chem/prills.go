package chem

import (
	"fmt"
	"math"

	"smeltbook/assay/quantity"
	"smeltbook/assay/quantity/uncertainty"
)

// Prills is the metal in a slag.
type Prills struct {
	Metal  quantity.Quantity // wt% of the slag with its metal
	Copper quantity.Quantity // wt% of the metal
	Iron   quantity.Quantity // wt% of the metal; no number counts as none
}

// WithoutPrills turns the analysis of a slag with its metal into that of the
// slag around it. With f the mass fraction of metal
//
//	x(matrix) = (x(bulk) − f·x(metal))/(1 − f)
//
// where x(metal) is the metal's copper and iron, restated like the part, and
// zero for all else. It refuses a fraction that would leave less than no copper
// or iron.
func (c Composition) WithoutPrills(p Prills) (Composition, error) {
	if err := p.check(); err != nil {
		return Composition{}, err
	}
	return c.restated(p, func(x []float64) float64 { return (x[0] - x[1]/100*x[2]) / (1 - x[1]/100) })
}

// WithPrills turns the analysis of a powder from which the metal was sieved
// into that of the slag with its metal, the head grade:
//
//	x(head) = f·x(metal) + (1 − f)·x(powder)
//
// Iron of the metal is counted with the iron of the slag, restated like it.
func (c Composition) WithPrills(p Prills) (Composition, error) {
	if err := p.check(); err != nil {
		return Composition{}, err
	}
	return c.restated(p, func(x []float64) float64 { return x[1]/100*x[2] + (1-x[1]/100)*x[0] })
}

func (p Prills) check() error {
	in := func(q quantity.Quantity, most float64) bool { return q.Known() && q.Value >= 0 && q.Value <= most }
	switch {
	case !in(p.Metal, 99):
		return fmt.Errorf("metal of %s wt%% of the slag is impossible; give a share from 0 to 99", p.Metal.Text())
	case !in(p.Copper, 100), p.Iron.Known() && !in(p.Iron, 100), p.Copper.Value+p.Iron.Or(0) > 100.5:
		return fmt.Errorf("metal with %s wt%% copper and %s wt%% iron is impossible", p.Copper.Text(), p.Iron.Text())
	}
	return nil
}

// restated applies f(part, metal share, content of the metal) to every part.
func (c Composition) restated(p Prills, f uncertainty.Function) (Composition, error) {
	out := Composition{Parts: make([]Part, len(c.Parts))}
	for i, part := range c.Parts {
		metal := quantity.WithU(0, 0, "wt%", "")
		a := analyte(part.ID)
		if oxideOrElement := a.Kind == Oxide || a.Kind == OxideTotal || a.Kind == Element; oxideOrElement && c.Counts(part.ID) {
			switch {
			case a.Element == "Cu":
				metal = p.Copper.Scale(factorOf("Cu", part.ID), "wt%")
			case a.Element == "Fe" && p.Iron.Known() && !c.Counts("Fe_met"):
				metal = p.Iron.Scale(factorOf("Fe", part.ID), "wt%")
			}
		}
		if part.ID == "Fe_met" && c.Counts(part.ID) && p.Iron.Known() {
			metal = p.Iron
		}
		out.Parts[i] = part
		if !part.Known() {
			out.Parts[i].Limit = f([]float64{part.Limit, p.Metal.Value, metal.Value})
			if metal.Value > 0 {
				return Composition{}, fmt.Errorf("%s is %s, so the metal's share of it cannot be reckoned", part.ID, part.Text())
			}
			continue
		}
		b, err := uncertainty.Propagate([]uncertainty.Input{
			{Name: part.ID, Value: part.Value, U: exactAsZero(part.U)},
			{Name: "metal", Value: p.Metal.Value, U: exactAsZero(p.Metal.U)},
			{Name: "metal's " + part.ID, Value: metal.Value, U: exactAsZero(metal.U)}}, nil, f)
		if err != nil {
			return Composition{}, err
		}
		if b.Value < 0 && part.Value >= 0 {
			return Composition{}, fmt.Errorf("%.3g wt%% of metal holds more %s than the %.3g wt%% found in the slag; the share of metal is too large", p.Metal.Value, a.Element, part.Value)
		}
		out.Parts[i].Quantity = quantity.WithU(b.Value, b.U, "wt%", part.UNote+"; with that of the metal's share", part.From...)
		if !part.HasU() {
			out.Parts[i].U, out.Parts[i].UNote = math.NaN(), part.UNote
		}
	}
	return out, nil
}

func factorOf(from, to string) float64 {
	f, err := Factor(from, to)
	if err != nil {
		panic(fmt.Sprintf("chem: %v", err)) // both are of one element
	}
	return f
}

func exactAsZero(u float64) float64 {
	if math.IsNaN(u) {
		return 0
	}
	return u
}
