package copper

import (
	"fmt"
	"math"

	"smeltbook/assay/quantity"
)

// FiringLoss is the copper that one firing left in its slag.
type FiringLoss struct {
	Copper quantity.Quantity // kg
	Share  quantity.Quantity // of the copper charged, 0 to 1; no number where the charge is unknown
}

// LostInFiring returns the copper lost to slag in a firing from the slag
// weighed (kg), its copper (wt% Cu, prills included) and the copper charged
// (kg):
//
//	lost = slag·w/100,  share = lost/charged
//
// with the three taken as independent. It fails on values that are not known,
// negative, or give a share above 1 by more than twice its uncertainty.
func LostInFiring(slagKg, cu, charged quantity.Quantity) (FiringLoss, error) {
	switch {
	case !slagKg.Known() || slagKg.Value < 0:
		return FiringLoss{}, fmt.Errorf("the mass of slag is not known (%s); weigh all of it in kg", slagKg.Text())
	case !cu.Known() || cu.Value < 0 || cu.Value > 100:
		return FiringLoss{}, fmt.Errorf("the copper of the slag (%s wt%%) is no share of it", cu.Text())
	}
	l := FiringLoss{Copper: product(slagKg, cu.Scale(0.01, "1"), "kg")}
	if !charged.Known() {
		l.Share = quantity.None(quantity.Missing, math.NaN(), "1")
		l.Share.UNote = "the copper charged is not known"
		return l, nil
	}
	if !(charged.Value > 0) {
		return FiringLoss{}, fmt.Errorf("%s kg of copper charged lose no share", charged.Text())
	}
	l.Share = ratio(l.Copper, charged)
	if over := l.Share.Value - 1; over > 0 && !(l.Share.HasU() && over <= coverage*l.Share.U) {
		return l, fmt.Errorf("the slag holds %.3g kg copper, more than the %.3g kg charged; check the masses and the analyses", l.Copper.Value, charged.Value)
	}
	return l, nil
}

func product(a, b quantity.Quantity, unit string) quantity.Quantity {
	return joined(a.Value*b.Value, a, b, unit)
}

func ratio(a, b quantity.Quantity) quantity.Quantity {
	return joined(a.Value/b.Value, a, b, "1")
}

// joined gives a product or quotient the uncertainty of its two factors, taken
// as independent.
func joined(x float64, a, b quantity.Quantity, unit string) quantity.Quantity {
	from := append(a.From[:len(a.From):len(a.From)], b.From...)
	if !a.HasU() || !b.HasU() {
		return quantity.New(x, unit, "none: one of the values it is made of carries none", from...)
	}
	relative := 0.0
	for _, q := range []quantity.Quantity{a, b} {
		if q.Value != 0 {
			relative = math.Hypot(relative, q.U/q.Value)
		}
	}
	return quantity.WithU(x, math.Abs(x)*relative, unit, "from the values it is made of, taken as independent", from...)
}

// Kg returns what a form of copper is in kg in a given mass of slag (kg).
func (f Form) Kg(slagKg float64) Interval {
	return Interval{f.Wt.Lo * slagKg / 100, f.Wt.Hi * slagKg / 100}
}
