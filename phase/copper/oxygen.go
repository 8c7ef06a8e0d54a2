package copper

import (
	"fmt"
	"math"

	"smeltbook/assay/quantity"
	"smeltbook/phase/redox"
)

const dissolvedSource = "quarter-power law of dissolved copper over the line of O'Neill & Pownceby 1993"

// OxygenFromDissolved returns what the copper dissolved in a slag under copper
// metal, from w.Lo to w.Hi wt%, says of the oxygen potential at a temperature
// in °C: from the least copper at the greatest capacity to the most at the
// least. With w.Lo zero it bounds from above alone.
func OxygenFromDissolved(tc float64, w Interval, activity float64, c Capacity) (redox.Bound, error) {
	if !(w.Lo >= 0) || !(w.Hi > 0) || w.Lo > w.Hi {
		return redox.Bound{}, fmt.Errorf("dissolved copper from %g to %g wt%% is impossible; give the lower value first, not below 0", w.Lo, w.Hi)
	}
	if !(c.Lo > 0) || c.Lo > c.Hi || !(c.Factor > 0) {
		return redox.Bound{}, fmt.Errorf("a copper capacity from %g to %g wt%% with factor %g is impossible", c.Lo, c.Hi, c.Factor)
	}
	b := redox.Bound{Low: math.Inf(-1), Source: dissolvedSource,
		Reason: fmt.Sprintf("%.2f to %.2f wt%% copper were dissolved in a slag that dissolves %.3g to %.3g wt%% at unit activity", w.Lo, w.Hi, c.Lo*c.Factor, c.Hi*c.Factor)}
	var err error
	if b.High, err = LogPO2(tc, w.Hi, activity, c.Lo*c.Factor); err != nil {
		return redox.Bound{}, err
	}
	if w.Lo > 0 {
		if b.Low, err = LogPO2(tc, w.Lo, activity, c.Hi*c.Factor); err != nil {
			return redox.Bound{}, err
		}
	}
	_, b.Notices = Dissolved(tc, b.High, activity, c.Lo*c.Factor)
	return b, nil
}

// OxygenFromTotal is OxygenFromDissolved where only the total copper of the
// slag is known (wt% Cu): no more than that was dissolved, so it bounds from
// above.
func OxygenFromTotal(tc float64, total quantity.Quantity, activity float64, c Capacity) (redox.Bound, error) {
	i, ok := bounds(total)
	if !ok || !(i.Hi > 0) {
		return redox.Bound{}, fmt.Errorf("the total copper of the slag (%s) bounds no oxygen potential", total.Text())
	}
	b, err := OxygenFromDissolved(tc, Interval{0, i.Hi}, activity, c)
	b.Reason = fmt.Sprintf("no more than the %.2f wt%% copper found can have been dissolved under copper metal", i.Hi)
	return b, err
}
