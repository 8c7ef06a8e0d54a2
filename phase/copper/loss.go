package copper

import (
	"fmt"
	"math"

	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// Conditions are those under which the slag was last liquid beside copper.
type Conditions struct {
	TC       float64  // °C
	LogPO2   Interval // log10 of the oxygen pressure in bar
	Activity float64  // of copper in the metal; 1 for copper, less for an alloy
	Capacity Capacity
}

// UnderCopper returns conditions of an iron silicate slag under copper metal.
func UnderCopper(tc, lo, hi float64) Conditions {
	return Conditions{TC: tc, LogPO2: Interval{lo, hi}, Activity: 1, Capacity: Fayalitic()}
}

// Loss splits the copper of one slag, all in wt% Cu of the analysis.
type Loss struct {
	Total       quantity.Quantity
	Conditions  Conditions
	Equilibrium Interval // what a slag under copper holds in solution at the conditions
	Dissolved   Interval // the part of Total that this explains, never above Total
	Rest        Interval // what it leaves: see RestMayBe
	RestMayBe   []string
	// UpperLogPO2 bounds the oxygen potential from above: at it all of Total
	// would be dissolved. It uses the low end of the capacity, and its
	// uncertainty is that of Total. It holds for a slag that was in balance
	// with copper metal.
	UpperLogPO2 quantity.Quantity
	Notices     source.Notices
}

// restMayBe names the forms that this split cannot tell apart.
var restMayBe = [...]string{"entrained drops of metal", "sulphide (matte)", "ore that was not reduced", "copper brought in or taken out by weathering"}

// TotalCopper returns all copper of an analysis as wt% of the element: the
// element as reported, else the oxides. ok is false where the analysis has no
// copper column.
func TotalCopper(c chem.Composition) (q quantity.Quantity, ok bool) { return c.OfElement("Cu") }

// Split splits the total copper of a slag (wt% Cu, on the basis as reported)
// at the given conditions. A total below its limit of detection gives
// intervals that reach from zero. It fails on conditions that make no sense
// and on a total about which nothing is known.
func Split(total quantity.Quantity, cond Conditions) (Loss, error) {
	l := Loss{Total: total, Conditions: cond, RestMayBe: restMayBe[:]}
	if err := cond.check(); err != nil {
		return Loss{}, err
	}
	lo, hi := total.Bounds()
	if math.IsNaN(lo) || math.IsInf(hi, 1) {
		return Loss{}, fmt.Errorf("the total copper of the slag is not known (%s)", total.Mark())
	}
	capacity := cond.Capacity
	least, ns := Dissolved(cond.TC, cond.LogPO2.Lo, cond.Activity, capacity.Lo*capacity.Factor)
	l.Notices = append(l.Notices, ns...)
	most, ns := Dissolved(cond.TC, cond.LogPO2.Hi, cond.Activity, capacity.Hi*capacity.Factor)
	l.Notices.AddNew(ns)
	l.Equilibrium = Interval{least, most}
	l.Dissolved = Interval{min(least, lo), min(most, hi)}
	l.Rest = Interval{max(lo-most, 0), max(hi-least, 0)}
	if err := l.bound(hi); err != nil {
		return Loss{}, err
	}
	l.explain(hi)
	return l, nil
}

func (c Conditions) check() error {
	switch {
	case math.IsNaN(c.LogPO2.Lo) || math.IsNaN(c.LogPO2.Hi) || c.LogPO2.Lo > c.LogPO2.Hi:
		return fmt.Errorf("log pO2 from %g to %g is no interval; give the lower value first", c.LogPO2.Lo, c.LogPO2.Hi)
	case !(c.Activity > 0) || c.Activity > 1:
		return fmt.Errorf("an activity of copper of %g is impossible; give one above 0 and up to 1", c.Activity)
	case !(c.Capacity.Lo > 0) || c.Capacity.Lo > c.Capacity.Hi || !(c.Capacity.Factor > 0):
		return fmt.Errorf("a copper capacity from %g to %g wt%% with factor %g is impossible", c.Capacity.Lo, c.Capacity.Hi, c.Capacity.Factor)
	}
	return nil
}

// bound sets the upper limit of the oxygen potential from the greatest copper
// content the analysis allows.
func (l *Loss) bound(hi float64) error {
	c := l.Conditions
	if !(hi > 0) {
		l.UpperLogPO2 = quantity.None(quantity.Missing, math.NaN(), "log bar")
		l.UpperLogPO2.UNote = "the analysis holds no copper to bound it with"
		return nil
	}
	x, err := LogPO2(c.TC, hi, c.Activity, c.Capacity.Lo*c.Capacity.Factor)
	if err != nil {
		return err
	}
	if l.Total.HasU() && l.Total.Value > 0 {
		l.UpperLogPO2 = quantity.WithU(x, 4/math.Ln10*l.Total.U/l.Total.Value, "log bar", "uncertainty of the copper analysis alone")
	} else {
		l.UpperLogPO2 = quantity.New(x, "log bar", "none: the copper analysis carries no uncertainty")
	}
	l.UpperLogPO2.From = l.Total.From
	return nil
}

// explain adds what the split means where it is not plain.
func (l *Loss) explain(hi float64) {
	margin := 0.0
	if l.Total.HasU() {
		margin = 2 * l.Total.U
	}
	switch {
	case hi+margin < l.Equilibrium.Lo:
		l.Notices.Add(source.Warning, "COPPER_BELOW_EQUILIBRIUM", source.Cell{},
			"the slag holds less copper than one under copper metal would at these conditions (at least %.2f wt%%): it was more reduced or hotter than assumed, or had no copper metal beside it. If copper metal was there, log pO2 was below %s",
			l.Equilibrium.Lo, signed(l.UpperLogPO2.Value))
	case l.Rest.Lo-margin > 0:
		l.Notices.Add(source.Note, "COPPER_NOT_DISSOLVED", source.Cell{},
			"at least %.2f wt%% copper cannot have been dissolved at these conditions", l.Rest.Lo)
	}
}
