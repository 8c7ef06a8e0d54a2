package balance

import (
	"fmt"
	"math"
	"math/rand/v2"

	"smeltbook/assay/quantity"
)

// Ratio is one oxide over another in a slag, both in wt%.
type Ratio struct {
	Over, Under string // "CaO", "SiO2"
	Value       float64
}

// FluxFor returns the weight of a flux (kg as weighed, moist as it is) that
// brings a ratio in the slag of a charge to the wanted value. With N and D the
// oxides that the charge brings and n and d those of a kilogram of flux
//
//	x = (Value·D − N)/(n − Value·d)
//
// The flux's own Mass is not looked at. It fails where the flux moves the ratio
// the other way, or the charge is beyond the wanted value already.
func FluxFor(charge []Material, flux Material, want Ratio, how Behaviour) (quantity.Quantity, error) {
	flux.Mass = quantity.WithU(1, 0, "kg", "")
	for _, m := range append(charge[:len(charge):len(charge)], flux) {
		if err := m.check(); err != nil {
			return quantity.Quantity{}, err
		}
	}
	if err := how.check(); err != nil {
		return quantity.Quantity{}, err
	}
	if !(want.Value > 0) || math.IsInf(want.Value, 0) || want.Over == want.Under {
		return quantity.Quantity{}, fmt.Errorf("%s/%s of %g is no ratio to aim at", want.Over, want.Under, want.Value)
	}
	var in []melting
	for _, m := range charge {
		in = append(in, meltingOf(m))
	}
	one := meltingOf(flux)
	x := fluxFor(in, one, want, how.central())
	switch {
	case math.IsNaN(x) || math.IsInf(x, 0):
		return quantity.Quantity{}, fmt.Errorf("%s has %s and %s in just the wanted ratio and cannot move the slag", flux.Name, want.Over, want.Under)
	case x < 0:
		return quantity.Quantity{}, fmt.Errorf("%s cannot bring %s/%s to %g: the charge alone is past it, or the flux moves it the other way", flux.Name, want.Over, want.Under, want.Value)
	}
	n := how.Draws
	if n <= 0 {
		n = defaultDraws
	}
	r := rand.New(rand.NewPCG(how.Seed, 0x666c757800000000)) // "flux"
	var xs []float64
	for range n {
		var some []melting
		for _, m := range in {
			some = append(some, m.draw(r))
		}
		xs = append(xs, fluxFor(some, one.draw(r), want, how.draw(r)))
	}
	return quantity.WithU(x, deviation(xs), "kg", "weights, analyses and behaviour, by Monte Carlo"), nil
}

func fluxFor(in []melting, flux melting, want Ratio, how conduct) float64 {
	without := react(in, how).oxides
	with := react(append(in[:len(in):len(in)], flux), how).oxides
	over, under := without.of(want.Over), without.of(want.Under)
	n, d := with.of(want.Over)-over, with.of(want.Under)-under
	return (want.Value*under - over) / (n - want.Value*d)
}
