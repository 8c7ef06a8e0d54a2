package melt

import "math"

// advance goes h along the tangent from p and back to the line.
func (f *freezing) advance(p *place, h float64) bool {
	q := &f.q
	z := p.z
	q.grains, q.warm = p.grains, p.warm
	for j := range q.size() {
		z[j] += h * f.tangent[j]
	}
	q.set(&z)
	return q.correct(&f.row)
}

// between goes to a share of the way from lo to hi, two states on the line near
// p, and back to the line. The closer they are the less is left to correct.
func (f *freezing) between(p *place, lo, hi *unknowns, share float64) bool {
	q := &f.q
	z := *lo
	q.grains = p.grains
	for j := range q.size() {
		z[j] += share * (hi[j] - lo[j])
	}
	q.set(&z)
	return q.correct(&f.row)
}

// down follows the line to its end. Where it cannot be followed the path ends
// at the last step before.
func (f *freezing) down() error {
	err := f.follow()
	if err != nil && len(f.p.Steps) > 1 {
		f.giveUp()
		return nil
	}
	return err
}

func (f *freezing) follow() error {
	h, idle, last := 1.0, 0, f.place()
	f.keep()
	for range mostSteps {
		before := f.place()
		moved, e, err := f.stretch(h)
		if err != nil {
			return err
		}
		if !f.fold.open && f.q.T > before.T()+leastRise {
			f.openFold(before.T())
			if e = f.watch(); e.value >= 0 {
				return freezingError(f.q.T-celsius, "the line of states rises")
			}
		}
		if !f.fold.open {
			f.record()
			f.keep()
		} else if f.fold.steps++; f.fold.steps > longestFold {
			return freezingError(f.q.T-celsius, "the line of states does not come down again")
		}
		h = math.Min(1, math.Max(moved, leastStep)*4)
		if e.value < 0 {
			f.keepDirection()
			continue
		}
		h = 1
		if idle++; last.T()-f.q.T > idleKelvin || last.liquid()-f.q.liquidCations() > idleAmount {
			idle, last = 0, f.place()
		}
		if idle > 2*maxGrains {
			return freezingError(f.q.T-celsius, "the same minerals come and go without end")
		}
		done, err := f.obey(&e)
		if err != nil {
			return err
		}
		if done {
			f.p.SolidusC = f.q.T - celsius
			return nil
		}
		if !f.fold.open {
			f.keep()
		}
	}
	return freezingError(f.q.T-celsius, "too many steps")
}

// stretch goes forward by at most h, to the first event if one comes before.
func (f *freezing) stretch(h float64) (moved float64, e event, err error) {
	if !f.aim() {
		return 0, e, freezingError(f.q.T-celsius, "the solids at hand do not fix a direction")
	}
	from := f.place()
	for ; h >= leastStep; h /= 4 {
		if !f.advance(&from, h) {
			// The factors may be those of the place where the way was lost.
			if !f.back(&from) {
				break
			}
			continue
		}
		if e = f.watch(); e.value < 0 {
			return h, e, nil
		}
		if at, ok := f.halt(&from, h, &e); ok {
			return at, e, nil
		}
		if !f.back(&from) {
			break
		}
	}
	f.advance(&from, 0)
	return 0, e, freezingError(f.q.T-celsius, "no step leads on")
}

// back returns to a place and linearises there.
func (f *freezing) back(p *place) bool {
	f.q.grains, f.q.warm = p.grains, p.warm
	f.q.set(&p.z)
	f.q.measure()
	return f.q.linearise(&f.row)
}

// halt finds the first event within h of the place, e being one that is
// overdue at h, and leaves the state there.
func (f *freezing) halt(from *place, h float64, e *event) (float64, bool) {
	for range 8 {
		high, there := e.value, f.q.state()
		if !f.advance(from, 0) {
			return 0, false
		}
		low := f.again(e)
		if low >= 0 {
			return 0, e.kind == appears
		}
		at, ok := f.rootOf(from, e, h, low, high, there)
		if !ok {
			return 0, false
		}
		earlier := f.watch()
		if earlier.value <= 0 || earlier.kind == e.kind && earlier.grain == e.grain && earlier.next.solid == e.next.solid {
			e.value = 0
			return at, true
		}
		*e, h = earlier, at
	}
	return 0, false
}

// rootOf closes in on the event between 0 and h, where the state is there, by
// false position, the value of a stale end halved, leaving the state at the root
// or just beyond it.
func (f *freezing) rootOf(from *place, e *event, h, low, high float64, there unknowns) (float64, bool) {
	lo, hi, side := 0.0, h, 0
	here := from.z
	for round := range rootRounds {
		at := lo + (hi-lo)*low/(low-high)
		if round%5 == 4 {
			at = (lo + hi) / 2
		}
		if !f.between(from, &here, &there, (at-lo)/(hi-lo)) && !f.advance(from, at) {
			return 0, false
		}
		v := f.again(e)
		if math.Abs(v) < rootValue {
			return at, true
		}
		if hi-lo < rootWidth {
			// A jump and no root: the way back to the line led elsewhere.
			return at, math.Abs(v) < rootJump
		}
		if v > 0 {
			hi, high, there = at, v, f.q.state()
			if side > 0 {
				low /= 2
			}
			side = 1
		} else {
			lo, low, here = at, v, f.q.state()
			if side < 0 {
				high /= 2
			}
			side = -1
		}
	}
	return 0, false
}

const (
	idleKelvin = 1e-5 // K, and cations of the whole, within which many events are
	idleAmount = 1e-7 // too many
	rootValue  = 1e-11
	rootWidth  = 1e-9 // of a unit of step
	rootJump   = 1e-7
)
