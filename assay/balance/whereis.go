package balance

import (
	"math"

	"smeltbook/assay/quantity"
)

// Whereabouts is an element of a firing by where it ended.
type Whereabouts struct {
	Element string
	Charged quantity.Quantity // kg that went in
	Places  []Place           // what came out, stream by stream, then what is unaccounted for
	// Won is the share of the charged element in metal and prills, 0 to 1: the
	// yield on what was there to be won, not on the ore.
	Won quantity.Quantity
	// Ingot is the part of it in the metal as it came from the furnace.
	Ingot quantity.Quantity
}

// UnaccountedFor is the name of the place of what was not found again. It is
// negative where more came out than went in.
const UnaccountedFor = "unaccounted for"

// Whereabouts tells where an element went, in kg and as shares of what went in.
func (f Firing) Whereabouts(element string) (Whereabouts, error) {
	b, err := f.Close(element)
	if err != nil {
		return Whereabouts{}, err
	}
	w := Whereabouts{Element: element, Charged: b.In}
	var won, ingot parts
	for _, s := range f.Streams {
		x, u, dof, _ := s.content(element)
		one := part{s, x, u, dof}
		if s.Kind == "metal" || s.Kind == "prill" {
			won = append(won, one)
		}
		if s.Kind == "metal" {
			ingot = append(ingot, one)
		}
	}
	for i, s := range f.Streams {
		if s.Out {
			w.Places = append(w.Places, Place{s.Name, b.Kg[i], quantity.Ratio(b.Kg[i], b.In, "1")})
		}
	}
	missing := quantity.Difference(quantity.WithU(1, 0, "1", ""), b.OutIn)
	if !missing.Known() {
		missing = quantity.None(quantity.Missing, math.NaN(), "1")
	}
	w.Places = append(w.Places, Place{UnaccountedFor, b.Unaccounted, missing})
	w.Won = quantity.Ratio(won.sum(nil), b.In, "1")
	w.Ingot = quantity.Ratio(ingot.sum(nil), b.In, "1")
	return w, nil
}
