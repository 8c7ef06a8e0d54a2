package furnace

import (
	"fmt"

	"smeltbook/assay/quantity"
	"smeltbook/assay/quantity/uncertainty"
	"smeltbook/assay/source"
)

// Budget sets the air of a log against the charcoal it says was burnt.
type Budget struct {
	Monoxide quantity.Quantity // share of the carbon that left as CO, as the two together have it
	Least    quantity.Quantity // L/min that this charcoal asks for at least, burning to CO
	Most     quantity.Quantity // L/min where all burns to CO2
	Holds    bool              // the share lies from 0 to 1 within two standard uncertainties
	Notices  source.Notices
}

// BudgetOf computes the share of carbon that left as CO from the air (L/min at 0
// °C and 1 atm), the hours of blowing, the kilograms of charcoal burnt and its
// share of fixed carbon. Carbon and oxygen fix it:
//
//	y = 2 (1 − oxygen/carbon), in moles
//
// A share below 0 means more air than the charcoal could use, above 1 less than
// it needs. Draught while nobody blew is not counted.
func BudgetOf(air, hours, charcoal, carbon quantity.Quantity) (Budget, error) {
	var in []uncertainty.Input
	for _, x := range []struct {
		name string
		q    quantity.Quantity
		most float64
	}{{"air", air, 1e5}, {"hours of blowing", hours, 1000}, {"charcoal burnt", charcoal, 1e5}, {"fixed carbon", carbon, 1}} {
		if !x.q.Known() || !(x.q.Value > 0 && x.q.Value <= x.most) {
			return Budget{}, fmt.Errorf("the %s (%s) has to be known and above 0 for a budget of air", x.name, x.q.Text())
		}
		i := uncertainty.Input{Name: x.name, Value: x.q.Value}
		if x.q.HasU() {
			i.U = x.q.U
		}
		in = append(in, i)
	}
	of := func(unit string, f uncertainty.Function) (quantity.Quantity, error) {
		b, err := uncertainty.Propagate(in, nil, f)
		return quantity.WithU(b.Value, b.U, unit, "from those of air, time, charcoal and its carbon"), err
	}
	var b Budget
	var err error
	if b.Monoxide, err = of("1", func(x []float64) float64 { return 2 * (1 - x[0]*x[1]/(x[2]*x[3])*BurntByAir(1, 0)) }); err != nil {
		return b, err
	}
	if b.Least, err = of("L/min", func(x []float64) float64 { return x[2] * x[3] / x[1] / BurntByAir(1, 1) }); err != nil {
		return b, err
	}
	if b.Most, err = of("L/min", func(x []float64) float64 { return x[2] * x[3] / x[1] / BurntByAir(1, 0) }); err != nil {
		return b, err
	}
	y, u := b.Monoxide.Value, b.Monoxide.U
	b.Holds = y >= -2*u && y <= 1+2*u
	switch {
	case y < -2*u:
		b.Notices.Add(source.Warning, "AIR_OVER_CHARCOAL", source.Cell{},
			"%s L/min for %s h is more air than %s kg of charcoal can burn in, even all to CO2 (%s L/min); air that leaks away or blows through the bed, or charcoal not counted, would explain it", air.Text(), hours.Text(), charcoal.Text(), b.Most.Text())
	case y > 1+2*u:
		b.Notices.Add(source.Warning, "CHARCOAL_OVER_AIR", source.Cell{},
			"%s kg of charcoal need at least %s L/min for %s h, burning to CO alone, but only %s L/min are recorded; draught between, charcoal lost or left over, or a flow that was underrated would explain it", charcoal.Text(), b.Least.Text(), hours.Text(), air.Text())
	}
	return b, nil
}
