package copper

import (
	"fmt"
	"math"

	"smeltbook/assay/source"
	"smeltbook/phase/flow"
	"smeltbook/phase/redox"
)

// Situation is a slag with copper in it at the moment before it froze.
type Situation struct {
	Conditions            // temperature, oxygen potential, activity, capacity
	Slag       *flow.Slag // its viscosity and density
	Entrained  Interval   // metal still in it, wt% Cu
	Drop       float64    // m, diameter of the drops
	Depth      float64    // m, of the slag
	Waited     float64    // s, for which drops had settled already
}

// Lever is one thing that could have been done otherwise and what a unit of it
// would have changed: below zero it would have saved copper.
type Lever struct {
	Key      string
	Change   Interval // wt% Cu of the slag for each Unit
	Unit     string
	Sentence string // in plain words, without full stop
}

// Levers are the answers to whether waiting longer, running hotter or running
// more reducing would have saved copper.
type Levers struct {
	Waiting        Lever    // dCu/dt by settling, wt% a minute
	HotterFixedPO2 Lever    // dCu/dT of dissolved copper at fixed pO2, wt% for 10 °C
	HotterFixedGas Lever    // the same at fixed CO/CO2
	HotterSettling Lever    // dCu/dT of entrained copper, by the thinner slag
	Reducing       Lever    // dCu/d(−log pO2) of dissolved copper, wt% for a decade less oxygen
	GasRatio       Interval // CO/CO2 in balance with the oxygen potential, lower end first
	Notices        source.Notices
}

// All returns the levers in a fixed order.
func (l *Levers) All() []*Lever {
	return []*Lever{&l.Waiting, &l.HotterFixedPO2, &l.HotterFixedGas, &l.HotterSettling, &l.Reducing}
}

// difference is half the step in K over which derivatives are taken; the laws
// are smooth, and over 1 K the error is below a millionth of the derivative.
const difference = 0.5

// tenDegrees is the unit of the levers of temperature.
const tenDegrees = 10.0

// WouldHaveSaved returns the derivatives of the copper in a slag by time,
// temperature and oxygen potential. Entrained metal settles as from a stirred
// bath, dCu/dt = −Cu·v/h, with drops between rigid and mobile; a quiet bath
// loses at least as much until it is clear. Dissolved copper follows the
// quarter-power law between the ends of capacity and oxygen potential. It
// fails on a situation that makes no sense and where the slag does not flow.
func WouldHaveSaved(s Situation) (Levers, error) {
	if err := s.Conditions.check(); err != nil {
		return Levers{}, err
	}
	switch {
	case s.Slag == nil:
		return Levers{}, fmt.Errorf("without the slag's viscosity nothing can be said of settling")
	case !(s.Entrained.Lo >= 0) || s.Entrained.Lo > s.Entrained.Hi:
		return Levers{}, fmt.Errorf("entrained copper from %g to %g wt%% is impossible", s.Entrained.Lo, s.Entrained.Hi)
	case !(s.Waited >= 0):
		return Levers{}, fmt.Errorf("%g s of waiting is impossible", s.Waited)
	}
	out := Levers{}
	if err := out.settling(s); err != nil {
		return Levers{}, err
	}
	if err := out.dissolution(s); err != nil {
		return Levers{}, err
	}
	return out, nil
}

// settling fills in the levers of entrained metal.
func (l *Levers) settling(s Situation) error {
	bath, ns, err := s.Slag.Bath(s.TC)
	if err != nil {
		return err
	}
	now, err := bath.Settle(s.Drop, s.Depth, 1)
	if err != nil {
		return err
	}
	l.Notices.AddNew(ns)
	l.Notices.AddNew(now.Notices)
	rate := func(x flow.Settling, lo, hi float64) Interval { // wt% a second, most negative first
		return Interval{-hi * x.Fast / s.Depth, -lo * x.Slow / s.Depth}
	}
	perMinute := rate(now, s.Entrained.Lo, s.Entrained.Hi)
	perMinute.Lo, perMinute.Hi = 60*perMinute.Lo, 60*perMinute.Hi
	l.Waiting = Lever{Key: "waiting", Change: perMinute, Unit: "wt% Cu for each minute",
		Sentence: fmt.Sprintf("each minute longer would have let %s wt%% of the slag settle out as copper, from drops of %.2g mm through %.0f mm of slag; drops that cling to crystals do not settle",
			span(-perMinute.Hi, -perMinute.Lo), 1e3*s.Drop, 1e3*s.Depth)}
	var slow, fast [2]float64 // m/s, a little colder and a little hotter
	for i, tc := range [2]float64{s.TC - difference, s.TC + difference} {
		bath, _, err := s.Slag.Bath(tc)
		if err != nil {
			return err
		}
		slow[i], fast[i] = bath.Velocity(now.Rigid, s.Drop), bath.Velocity(flow.HadamardRybczynski, s.Drop)
	}
	// dCu/dT = −Cu·(t/h)·dv/dT for what t seconds have left.
	perK := func(cu, dv float64) float64 { return -cu * s.Waited / s.Depth * dv / (2 * difference) * tenDegrees }
	change := Interval{perK(s.Entrained.Hi, fast[1]-fast[0]), perK(s.Entrained.Lo, slow[1]-slow[0])}
	l.HotterSettling = Lever{Key: "hotter_settling", Change: change, Unit: "wt% Cu for each 10 °C",
		Sentence: fmt.Sprintf("10 °C hotter the slag would have been thinner, and within the %.0f minutes it stood %s wt%% more would have settled out", s.Waited/60, span(-change.Hi, -change.Lo))}
	return nil
}

// dissolution fills in the levers of dissolved copper.
func (l *Levers) dissolution(s Situation) error {
	var r [2]float64
	var err error
	for i, p := range []float64{s.LogPO2.Hi, s.LogPO2.Lo} { // more oxygen, less CO
		if r[i], err = redox.GasRatio(p, s.TC); err != nil {
			return err
		}
	}
	l.GasRatio = Interval{r[0], r[1]}
	fixed := func(p float64) func(float64) (float64, error) {
		return func(float64) (float64, error) { return p, nil }
	}
	gas := func(p float64) func(float64) (float64, error) {
		ratio, err := redox.GasRatio(p, s.TC)
		return func(tc float64) (float64, error) {
			if err != nil {
				return 0, err
			}
			return redox.FromGas(ratio, tc)
		}
	}
	if l.HotterFixedPO2.Change, err = s.byTemperature(fixed); err != nil {
		return err
	}
	if l.HotterFixedGas.Change, err = s.byTemperature(gas); err != nil {
		return err
	}
	least, ns := Dissolved(s.TC, s.LogPO2.Lo, s.Activity, s.Capacity.Lo*s.Capacity.Factor)
	l.Notices.AddNew(ns)
	most, ns := Dissolved(s.TC, s.LogPO2.Hi, s.Activity, s.Capacity.Hi*s.Capacity.Factor)
	l.Notices.AddNew(ns)
	slope := math.Ln10 / 4
	c := Interval{-most * slope, -least * slope}
	a, b := l.HotterFixedPO2.Change, l.HotterFixedGas.Change
	l.HotterFixedPO2 = Lever{Key: "hotter_fixed_po2", Change: a, Unit: "wt% Cu for each 10 °C",
		Sentence: fmt.Sprintf("10 °C hotter at the same oxygen potential the slag would have dissolved %s", moreOrLess(a))}
	l.HotterFixedGas = Lever{Key: "hotter_fixed_gas", Change: b, Unit: "wt% Cu for each 10 °C",
		Sentence: fmt.Sprintf("10 °C hotter under the same gas (CO/CO2 %s) the slag would have dissolved %s", span(l.GasRatio.Lo, l.GasRatio.Hi), moreOrLess(b))}
	l.Reducing = Lever{Key: "reducing", Change: c, Unit: "wt% Cu for each decade of pO2 less",
		Sentence: fmt.Sprintf("at a tenth of the oxygen pressure the slag would have dissolved 44 %% less copper, at first by %s wt%% a decade", span(-c.Hi, -c.Lo))}
	if iw, _ := redox.IronWustite().LogFO2(s.TC); s.LogPO2.Lo-1 < iw {
		l.Reducing.Sentence += "; but a decade lower reaches below the balance of iron and wüstite, where iron goes into the copper"
		l.Notices.Add(source.Note, "COPPER_IRON_LIMIT", source.Cell{},
			"below log pO2 %s iron metal forms at %.0f °C; running more reducing than that brings iron into the copper", signed(iw), s.TC)
	}
	return nil
}

// byTemperature returns the change of dissolved copper for 10 °C with the
// oxygen potential held as hold says of each of its ends.
func (s Situation) byTemperature(hold func(logPO2 float64) func(tc float64) (float64, error)) (Interval, error) {
	out := Interval{math.Inf(1), math.Inf(-1)}
	for _, p := range []float64{s.LogPO2.Lo, s.LogPO2.Hi} {
		at := hold(p)
		for _, c := range []float64{s.Capacity.Lo, s.Capacity.Hi} {
			var w [2]float64
			for i, tc := range []float64{s.TC - difference, s.TC + difference} {
				x, err := at(tc)
				if err != nil {
					return Interval{}, err
				}
				w[i], _ = Dissolved(tc, x, s.Activity, c*s.Capacity.Factor)
			}
			d := (w[1] - w[0]) / (2 * difference) * tenDegrees
			out = Interval{min(out.Lo, d), max(out.Hi, d)}
		}
	}
	return out, nil
}

// span prints an interval of positive numbers with two figures.
func span(lo, hi float64) string {
	a, b := fmt.Sprintf("%.2g", lo), fmt.Sprintf("%.2g", hi)
	if a == b {
		return "about " + a
	}
	return a + " to " + b
}

func moreOrLess(i Interval) string {
	switch {
	case i.Lo >= 0:
		return span(i.Lo, i.Hi) + " wt% more copper"
	case i.Hi <= 0:
		return span(-i.Hi, -i.Lo) + " wt% less copper"
	}
	return fmt.Sprintf("anything from %.2g wt%% less to %.2g wt%% more copper", -i.Lo, i.Hi)
}
