package chem

import (
	"math"

	"smeltbook/assay/quantity"
)

// OfElement returns all of an element in wt% of the composition: as the
// element or from its oxides, whichever stand for it (see Counts). Where an
// oxide is known and another lies below its limit, the known one alone counts.
// ok is false where the analysis has no column of the element.
func (c Composition) OfElement(element string) (q quantity.Quantity, ok bool) {
	q = quantity.None(quantity.Missing, math.NaN(), "wt%")
	for _, id := range c.forms(element) {
		part, _ := c.Get(id)
		f, err := Factor(id, element)
		if err != nil {
			continue // unreachable: the forms of an element hold it
		}
		x := part.Scale(f, "wt%")
		switch {
		case !ok || !q.Known():
			q = x
		case x.Known():
			sum := quantity.WithU(q.Value+x.Value, math.Hypot(q.U, x.U), "wt%", "oxides combined, taken as independent")
			sum.From = append(append(sum.From, q.From...), x.From...)
			q = sum
		}
		ok = true
	}
	return q, ok
}

// Elements returns the elements that the composition says something about, in
// conventional order; those of water and ignition loss are left out.
func (c Composition) Elements() []string {
	var out []string
	seen := map[string]bool{}
	for _, p := range c.Parts {
		a := analyte(p.ID)
		if a.Element == "" || seen[a.Element] || isVolatile(a) {
			continue
		}
		switch a.Kind {
		case Oxide, OxideTotal, Element:
			seen[a.Element] = true
			out = append(out, a.Element)
		}
	}
	return out
}
