package plan

import (
	"fmt"
	"strings"

	"smeltbook/phase/charge"
	"smeltbook/phase/slag"
	"smeltbook/report/notebook"
	"smeltbook/report/study"
)

func (t *settler) target() {
	if t.AtC = study.DefaultTC; t.cfg.At != nil {
		t.AtC = *t.cfg.At
	} else {
		t.assume("viscosity and heat at %g °C", t.AtC)
	}
	if !(t.AtC >= 1100 && t.AtC <= 1400) {
		t.fail(t.cfg.Line, "BAD_RANGE", "\"at\" of the target is %g °C; slag is judged from 1100 to 1400", t.AtC)
	}
	if len(t.cfg.Target) == 0 {
		t.Target = []charge.Term{charge.AtMost(charge.Liquidus, usualLiquidus)}
		t.assume("a liquidus of at most %g °C is wanted, for no target is stated", usualLiquidus)
	}
	for _, l := range t.cfg.Target {
		term, err := termOf(l, t.AtC)
		if err == nil {
			err = charge.Check([]charge.Term{term})
		}
		if err != nil {
			t.fail(l.Line, "BAD_TARGET", "%v", err)
			continue
		}
		t.Target = append(t.Target, term)
	}
	if !t.notices.Failed() {
		if err := charge.Check(t.Target); err != nil {
			t.fail(t.cfg.Target[0].Line, "BAD_TARGET", "the target is contradictory: %v; widen one of them", err)
		}
	}
}

// termOf understands what the notebook asks of the slag.
func termOf(l notebook.ChargeLimit, at float64) (charge.Term, error) {
	term := charge.Term{Lo: l.Span.Lo, Hi: l.Span.Hi, AtC: at}
	switch l.Of {
	case "liquidus":
		if term.Of = charge.Liquidus; term.Hi < 900 || term.Hi > 1700 {
			return term, fmt.Errorf("a liquidus of %g °C is no aim for a slag; give 900 to 1700", term.Hi)
		}
		return term, nil
	case "viscosity":
		if term.Of = charge.Viscosity; !(term.Hi > 0) {
			return term, fmt.Errorf("a viscosity of %g Pa·s is impossible; give a number above zero", term.Hi)
		}
		return term, nil
	}
	over, under, ratio := strings.Cut(l.Of, "/")
	var ok bool
	if term.Over, ok = oxide(over); !ok {
		return term, fmt.Errorf("%q is nothing that can be asked of a slag; use liquidus, viscosity, at, an oxide such as SiO2 or a ratio such as FeO/SiO2", l.Of)
	}
	if term.Of = charge.Content; !ratio {
		return term, nil
	}
	term.Of = charge.Ratio
	if term.Under, ok = oxide(under); !ok {
		return term, fmt.Errorf("%q in %q is no oxide of a slag; write as in FeO/SiO2", under, l.Of)
	}
	return term, nil
}

func oxide(name string) (slag.Oxide, bool) {
	for o := slag.Oxide(0); o < slag.NumOxides; o++ {
		if strings.EqualFold(o.String(), strings.TrimSpace(name)) {
			return o, true
		}
	}
	return 0, false
}
