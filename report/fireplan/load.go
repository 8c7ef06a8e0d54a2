package fireplan

import (
	"fmt"
	"math"

	"smeltbook/assay"
	"smeltbook/assay/quantity"
	"smeltbook/phase/charge"
	"smeltbook/phase/heat"
	"smeltbook/report/caution"
	"smeltbook/report/plan"
)

// Load is what is charged, ore and flux together.
type Load struct {
	Kg        float64
	HeatMJ    float64
	From      string            // in words, where it comes from
	LiquidusC quantity.Quantity // of the slag; no number where it is not known
	Charcoal  float64           // kg planned with the charge; 0 where none is
	Cautions  []caution.Caution // of the charge
}

// LoadOfCharge is the load of a charge that was planned.
func LoadOfCharge(c *plan.Plan) Load {
	l := Load{HeatMJ: c.Heat.Need.Value, Charcoal: c.Fuel.Total.Value, Cautions: c.Cautions, LiquidusC: quantity.None(quantity.Missing, 0, "°C")}
	for _, w := range c.Weights {
		l.Kg += w.Total.Value
	}
	l.From = fmt.Sprintf("the charge of the notebook, %d batches", c.Batches)
	if !c.Met {
		l.From += ", the nearest mixture to a target that is out of reach"
	}
	for _, o := range c.Outcomes {
		if o.Term.Of == charge.Liquidus {
			l.LiquidusC = quantity.WithU(o.Value, math.Hypot(o.SD, o.Model), "°C", "stocks, weights, furnace and model")
		}
	}
	return l
}

// heatedTo is the temperature for which the heat of a stated load is taken.
const heatedTo = 1250.0

// LoadOf is a load of which only the weight is stated: a kilogram of ore and
// flux with a tenth of copper as malachite and a fifth of iron as ferric oxide,
// that gives three quarters of a kilogram of slag.
func LoadOf(kg float64) (Load, error) {
	if !(kg >= 0 && kg <= 500) {
		return Load{}, fmt.Errorf("a load of %g kg is impossible; give 0 to 500", kg)
	}
	need, err := heat.Need(heat.Charge{Carbonate: 0.1 * kg, Ferric: 0.2 * kg, Slag: 0.75 * kg, Copper: 0.1 * kg}, heatedTo)
	if err != nil {
		return Load{}, err
	}
	return Load{Kg: kg, HeatMJ: need.Value, LiquidusC: quantity.None(quantity.Missing, 0, "°C"),
		From: "stated by weight; its heat is that of a tenth copper as malachite and a fifth iron as ferric oxide"}, nil
}

// LoadOfLog is the load of the last firing that the field sheets record with its
// ore; nothing where they record none.
func LoadOfLog(c *assay.Campaign) (Load, error) {
	for i := len(c.Runs) - 1; i >= 0; i-- {
		kg, ok := c.Runs[i].Mass("ore")
		if !ok || !(kg.Value > 0) {
			continue
		}
		sum := kg.Value
		for _, more := range []string{"second ore", "flux", "second flux"} {
			if q, ok := c.Runs[i].Mass(more); ok {
				sum += q.Value
			}
		}
		l, err := LoadOf(sum)
		l.From = fmt.Sprintf("as firing %s had it; its heat is that of a tenth copper as malachite and a fifth iron as ferric oxide", c.Runs[i].ID)
		return l, err
	}
	l, err := LoadOf(0)
	l.From = "no charge is planned, no load is stated, and no firing is recorded with its ore"
	return l, err
}
