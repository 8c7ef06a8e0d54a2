package chem

import (
	"math"

	"smeltbook/assay/quantity"
)

// Iron is the form in which all iron of a composition is stated.
type Iron string

const (
	AsFeO   Iron = "FeO"   // reduced slags
	AsFe2O3 Iron = "Fe2O3" // ores, clays, fired lining
)

// TotalIron returns all iron stated as the given oxide: a stated total, else
// ferrous and ferric iron together, else the element. FeO beside a total is a
// share of it (ferrous iron by titration) and is not added. ok is false where
// the composition has no iron column at all; q holds no number where it has
// one but nothing was measured. Metallic iron is not in the oxides; a total
// holds it, unless the laboratory took it out.
func (c Composition) TotalIron(iron Iron) (q quantity.Quantity, ok bool) {
	for _, id := range c.forms("Fe") {
		part, _ := c.Get(id)
		part = convert(Part{id, part}, string(iron)).Quantity
		switch {
		case !ok:
			q = part
		case !part.Known():
		case !q.Known():
			q = part
		default:
			q = combined(q, part)
		}
		ok = true
	}
	return q, ok
}

func combined(a, b quantity.Quantity) quantity.Quantity {
	note := "ferrous and ferric iron combined, taken as independent"
	if !a.HasU() || !b.HasU() {
		note = "none: ferrous or ferric iron carries no uncertainty"
	}
	sum := quantity.WithU(a.Value+b.Value, math.Hypot(a.U, b.U), "wt%", note)
	sum.From = append(append(sum.From, a.From...), b.From...)
	return sum
}

// FerricByDifference returns Fe2O3 in wt% where total iron and titrated FeO
// are stated but no ferric iron:
//
//	Fe2O3 = Fe2O3T − M(Fe2O3)/(2 M(FeO)) · FeO
//
// with total and FeO taken as independent. A negative result is returned as it
// is: within twice its uncertainty it means that all iron is ferrous, beyond
// it that one of the two analyses is wrong or that the total misses iron. ok is
// false where one of the two is not a number or ferric iron is stated.
func (c Composition) FerricByDifference() (q quantity.Quantity, ok bool) {
	ferrous, _ := c.Get("FeO")
	if stated, _ := c.Get("Fe2O3"); !ferrous.Known() || stated.Known() {
		return quantity.Quantity{}, false
	}
	forms := c.forms("Fe")
	total, _ := c.Get(forms[0])
	if forms[0] == "FeO" || !total.Known() {
		return quantity.Quantity{}, false
	}
	all := convert(Part{forms[0], total}, string(AsFe2O3)).Quantity
	share := convert(Part{"FeO", ferrous}, string(AsFe2O3)).Quantity
	note := "total iron and titrated FeO, taken as independent"
	if !all.HasU() || !share.HasU() {
		note = "none: total iron or FeO carries no uncertainty"
	}
	q = quantity.WithU(all.Value-share.Value, math.Hypot(all.U, share.U), "wt%", note)
	q.From = append(append(q.From, total.From...), ferrous.From...)
	return q, true
}

// ironTotal reports whether what stands for the iron of c is a total, which
// holds metallic iron too.
func (c Composition) ironTotal() bool {
	for _, id := range c.forms("Fe") {
		if a := analyte(id); a.Kind == OxideTotal || a.Kind == Element {
			return true
		}
	}
	return false
}

// metalApart takes metallic iron out of total iron, stated as the given oxide:
//
//	Fe(total) = Fe(metal) + 0.77731 FeO + 0.69943 Fe2O3
//
// ok is false where the metal would be more than the total; the total is then
// returned as it is.
func (c Composition) metalApart(total quantity.Quantity, iron Iron) (q quantity.Quantity, ok bool) {
	metal, _ := c.Get("Fe_met")
	if !metal.Known() || !total.Known() || !c.ironTotal() {
		return total, true
	}
	share := convert(Part{"Fe_met", metal}, string(iron)).Quantity
	if share.Value > total.Value {
		return total, false
	}
	note := "total iron less metallic iron, taken as independent"
	if !total.HasU() || !share.HasU() {
		note = "none: total or metallic iron carries no uncertainty"
	}
	q = quantity.WithU(total.Value-share.Value, math.Hypot(total.U, share.U), "wt%", note)
	q.From = append(append(q.From, total.From...), metal.From...)
	return q, true
}

// MetalAboveTotal returns metallic and total iron, as the element, where the
// first is more than the second, which cannot be.
func (c Composition) MetalAboveTotal() (metal, total float64, yes bool) {
	all, ok := c.TotalIron(AsFeO)
	m, _ := c.Get("Fe_met")
	if !ok || !all.Known() || !m.Known() || !c.ironTotal() {
		return 0, 0, false
	}
	total = all.Value * factorOf("FeO", "Fe")
	return m.Value, total, m.Value > total
}
