package phase

import (
	"smeltbook/phase/flow"
	"smeltbook/phase/melt"
	"smeltbook/phase/slag"
)

// Crystals tells the flow models what the slag holds at a temperature, from
// its path of freezing; nil where that could not be followed.
func (e Estimate) Crystals() flow.Crystals {
	if e.Path == nil {
		return nil
	}
	return crystals{path: e.Path, rest: restOf(e.Melt.Wt, e.Path.Whole)}
}

// crystals is a path of freezing together with the oxides that the melting
// model does not know. They stay in the liquid.
type crystals struct {
	path *melt.Path
	rest slag.Wt // wt% of the whole slag
}

// restOf returns the oxides of a melt that a path leaves out.
func restOf(whole, modelled slag.Wt) slag.Wt {
	whole = whole.Normalise()
	var rest slag.Wt
	for o, x := range whole {
		if modelled[o] == 0 && slag.Oxide(o) != slag.Fe2O3 { // ferric iron may have been restated
			rest[o] = x
		}
	}
	return rest
}

// known returns the share of the slag that the melting model knows, 0 to 1.
func (c crystals) known() float64 {
	share := 1.0
	for _, x := range c.rest {
		share -= x / 100
	}
	return share
}

// SolidFraction returns the mass share of crystals at a temperature in °C.
func (c crystals) SolidFraction(tc float64) float64 {
	return c.known() * (1 - c.path.FractionLiquid(tc))
}

// Liquid returns the liquid that is left at a temperature in °C, in wt%.
func (c crystals) Liquid(tc float64) slag.Wt {
	state := c.path.At(tc)
	w := c.rest
	for o, x := range state.Melt {
		w[o] += x * state.Liquid * c.known()
	}
	return w.Normalise()
}
