package chem

import (
	"fmt"
	"math"

	"smeltbook/assay/quantity"
)

// IgnitionGain returns what one wt% of a substance gains when it is ignited in
// air to a product, by their common element; a loss is negative.
func IgnitionGain(substance, product, element string) (float64, error) {
	s, err := ParseFormula(substance)
	if err != nil {
		return 0, err
	}
	p, err := ParseFormula(product)
	if err != nil {
		return 0, err
	}
	if s[element] == 0 || p[element] == 0 {
		return 0, fmt.Errorf("%s and %s do not both hold %s", substance, product, element)
	}
	return p.Mass()/p[element]*s[element]/s.Mass() - 1, nil
}

func mustGain(substance, product, element string) float64 {
	g, err := IgnitionGain(substance, product, element)
	if err != nil {
		panic(fmt.Sprintf("chem: %v", err))
	}
	return g
}

// GainOnIgnition returns the wt% that a slag or clay of the given composition
// gains when all its ferrous iron, iron and copper metal, cuprous oxide and
// manganous oxide are oxidised in air (to Fe2O3, CuO and Mn3O4), less what its
// sulphide, taken as FeS, loses. ferrous is all ferrous iron as FeO. A coarse or
// glassy slag oxidises in part only: this is the upper bound. Volatiles are not
// in it.
func (c Composition) GainOnIgnition(ferrous quantity.Quantity, sulphide bool) quantity.Quantity {
	sum, u2 := 0.0, 0.0
	add := func(q quantity.Quantity, slope float64) {
		if q.Known() {
			sum += slope * q.Value
		}
		if q.HasU() {
			u2 += slope * q.U * slope * q.U
		}
	}
	iron := mustGain("FeO", "Fe2O3", "Fe")
	add(ferrous, iron)
	for _, x := range []struct{ id, substance, product, element string }{
		{"Fe_met", "Fe", "Fe2O3", "Fe"}, {"Cu_met", "Cu", "CuO", "Cu"}, {"Cu2O", "Cu2O", "CuO", "Cu"}, {"MnO", "MnO", "Mn3O4", "Mn"},
	} {
		q, _ := c.Get(x.id)
		add(q, mustGain(x.substance, x.product, x.element))
	}
	if s, _ := c.Get("S"); sulphide {
		// Iron bound to sulphur is stated as FeO but is none.
		feo, fes := weightOf("Fe")+weightOf("O"), weightOf("Fe")+weightOf("S")
		add(s, (fes*mustGain("FeS", "Fe2O3", "Fe")-feo*iron)/weightOf("S"))
	}
	return quantity.WithU(sum, math.Sqrt(u2), "wt%", "full oxidation in air, the upper bound; parts taken as independent")
}

// WithVolatiles replaces the ignition loss, or gain, of c by the volatiles that
// it leaves when the gain from oxidation is added back:
//
//	volatiles = loss observed + gain
//
// ok is false where no ignition loss was measured.
func (c Composition) WithVolatiles(gain quantity.Quantity) (out Composition, ok bool) {
	loi, _ := c.Get("LOI")
	if !loi.Known() {
		return c, false
	}
	note := "loss observed and gain from oxidation, taken as independent; upper bound, for oxidation may be partial"
	q := quantity.WithU(loi.Value+gain.Value, math.Hypot(loi.U, gain.U), "wt%", note, loi.From...)
	if !loi.HasU() {
		q = quantity.New(q.Value, "wt%", "none: the loss on ignition carries none", loi.From...)
	}
	out = Composition{Parts: append([]Part(nil), c.Parts...), cov: c.cov}
	i := out.place("LOI")
	out.Parts[i].Quantity = q
	if out.cov != nil {
		out.cov = out.Covariance()
		out.cov[i][i] = q.U * q.U
	}
	return out, true
}

// FromIgnited states parts that were measured on ignited powder per 100 g of
// the dry sample, x(dry) = x(ignited)·(100 − LOI)/100, with LOI on the dry
// basis; a gain on ignition makes them larger. Iron in ignited powder is all
// ferric: it is total iron, never to be added to FeO of the raw powder.
func FromIgnited(x, loi quantity.Quantity) quantity.Quantity {
	f := (100 - loi.Value) / 100
	out := x.Scale(f, x.Unit)
	if x.HasU() && loi.HasU() {
		out.U = math.Hypot(out.U, x.Value/100*loi.U)
		out.UNote += "; measured on ignited powder, with the uncertainty of the loss on ignition"
	}
	return out
}
