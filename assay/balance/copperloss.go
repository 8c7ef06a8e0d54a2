package balance

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
	l := FiringLoss{Copper: quantity.Product(slagKg, cu.Scale(0.01, "1"), "kg")}
	if !charged.Known() {
		l.Share = quantity.None(quantity.Missing, math.NaN(), "1")
		l.Share.UNote = "the copper charged is not known"
		return l, nil
	}
	if !(charged.Value > 0) {
		return FiringLoss{}, fmt.Errorf("%s kg of copper charged lose no share", charged.Text())
	}
	l.Share = quantity.Ratio(l.Copper, charged, "1")
	if over := l.Share.Value - 1; over > 0 && !(l.Share.HasU() && over <= 2*l.Share.U) {
		return l, fmt.Errorf("the slag holds %.3g kg copper, more than the %.3g kg charged; check the masses and the analyses", l.Copper.Value, charged.Value)
	}
	return l, nil
}
