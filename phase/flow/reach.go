package flow

import (
	"fmt"
	"math"
)

// Reach is the temperature at which a slag, cooling, reaches a viscosity.
type Reach struct {
	Eta    float64 // Pa·s, as asked
	TC     float64 // °C
	Lo, Hi float64 // °C, within the factor Band of the viscosity; an end that is not reached is NaN
	Stops  bool    // the slag passes Eta only by ceasing to flow, when its crystals touch or its liquid ends
}

// The temperatures between which a viscosity is looked for, in °C, and the
// width at which the search ends.
const (
	reachLo, reachHi = 600.0, 2000.0
	reachStep        = 20.0  // where crystals may come at any temperature
	reachStepLiquid  = 200.0 // a liquid alone turns at most once
	reachTo          = 1e-6
)

// TemperatureAt returns the highest temperature from 600 to 2000 °C at which
// the slag is as stiff as eta, in Pa·s. It fails where the slag never is.
func (s *Slag) TemperatureAt(eta float64) (Reach, error) {
	if !(eta > 0) || math.IsInf(eta, 1) {
		return Reach{}, fmt.Errorf("a viscosity of %g Pa·s is impossible; give one above 0", eta)
	}
	r := Reach{Eta: eta, Lo: math.NaN(), Hi: math.NaN()}
	var err error
	if r.TC, r.Stops, err = s.cool(eta); err != nil {
		return r, err
	}
	if tc, _, err := s.cool(eta * Band); err == nil {
		r.Lo = tc
	}
	if tc, _, err := s.cool(eta / Band); err == nil {
		r.Hi = tc
	}
	return r, nil
}

// cool goes down from the hottest temperature to the first at which the slag
// is at least as stiff as eta. stops tells that it jumps past eta there.
func (s *Slag) cool(eta float64) (tc float64, stops bool, err error) {
	target := math.Log(eta)
	over := func(tc float64) (float64, error) {
		x, err := s.logEta(tc)
		return x - target, err
	}
	hi, step := reachHi, reachStep
	if s.crystals == nil {
		step = reachStepLiquid
	}
	fhi, err := over(hi)
	if err != nil {
		return 0, false, err
	}
	if fhi >= 0 {
		return 0, false, fmt.Errorf("at %.0f °C the slag is already stiffer than %g Pa·s", reachHi, eta)
	}
	for hi > reachLo {
		lo := max(hi-step, reachLo)
		flo, err := over(lo)
		if err != nil {
			return 0, false, err
		}
		if flo >= 0 {
			return bracketed(over, lo, hi, flo, fhi)
		}
		hi, fhi = lo, flo
	}
	return 0, false, fmt.Errorf("down to %.0f °C the slag stays thinner than %g Pa·s by this model", reachLo, eta)
}

// bracketed finds the zero of f between lo, where it is not below zero and may
// be infinite, and hi, where it is below. It takes the secant's point where
// both ends are finite and that point is well inside, else the middle, so that
// a jump is closed in on as surely as a zero.
func bracketed(f func(float64) (float64, error), lo, hi, flo, fhi float64) (x float64, stops bool, err error) {
	for i := 0; hi-lo > reachTo; i++ {
		x = (lo + hi) / 2
		if i%3 != 2 && !math.IsInf(flo, 0) {
			margin := 0.01 * (hi - lo)
			x = min(max(lo+(hi-lo)*flo/(flo-fhi), lo+margin), hi-margin)
		}
		fx, err := f(x)
		switch {
		case err != nil:
			return 0, false, err
		case math.Abs(fx) < 1e-12:
			return x, false, nil
		case fx > 0:
			lo, flo = x, fx
		default:
			hi, fhi = x, fx
		}
	}
	return hi, math.IsInf(flo, 0) || flo-fhi > 0.1, nil
}
