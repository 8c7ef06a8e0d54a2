package melt

import (
	"math"

	"smeltbook/phase/slag"
)

// tangent is the liquidus near a known melt, for melts that differ from it a
// little: S of each mineral changes in proportion to the logarithms of the
// cations and to the temperature, and the hottest root is the liquidus. Where
// two minerals come almost together it has the kink that the liquidus has.
type tangent struct {
	T     float64 // K, the liquidus of the known melt
	x     vector
	lines [maxMinerals]tangentLine
	n     int
}

// tangentLine is S of a mineral at the known liquidus and its derivatives.
type tangentLine struct {
	solid int
	s     float64
	byT   float64
	by    vector // by ln of the cations
}

const (
	tangentReach = 40.0 // K, beyond which it is not trusted
	tangentStep  = 1e-4 // of ln
	tangentWarm  = 1.0  // K
	tangentApart = 10.0 // K, by which a mineral may be misplaced against another
	tangentSteps = 4
	tangentNear  = 0.2 // K, a step after which the next is nothing
)

// tangentAt returns the tangent at w, whose liquidus is T in K; ok is false where
// there is none.
func (m *Model) tangentAt(s *search, w *slag.Wt, T float64) (t tangent, ok bool) {
	t.T = T
	t.x, _ = cationFractions(m.restated(*w))
	// A mineral that cannot be saturated within reach is left out.
	far := -fastestRise * math.Log1p(2*tangentReach/t.T)
	s.start(m, &t.x)
	s.at(t.T)
	for _, i := range s.solids[:s.nSolids] {
		if S := s.supersaturation(i, t.T, lacking); S > far*m.solids[i].cations {
			t.lines[t.n] = tangentLine{solid: i, s: S}
			t.n++
		}
	}
	s.at(t.T + tangentWarm)
	for l := range t.lines[:t.n] {
		line := &t.lines[l]
		line.byT = (s.supersaturation(line.solid, t.T+tangentWarm, lacking) - line.s) / tangentWarm
		if !(line.byT < 0) {
			return t, false
		}
	}
	for c, own := range t.x {
		if own <= 0 {
			continue
		}
		x := t.x
		x[c] *= 1 + tangentStep
		for i := range x {
			x[i] /= 1 + own*tangentStep
		}
		s.start(m, &x)
		s.at(t.T)
		for l := range t.lines[:t.n] {
			line := &t.lines[l]
			line.by[c] = (s.supersaturation(line.solid, t.T, lacking) - line.s) / math.Log1p(tangentStep)
		}
	}
	return t, t.n > 0
}

// onset finds where crystallisation of w starts: from the tangent by Newton's
// steps on the minerals that it puts at the top. ok is false where w is too far
// from the known melt.
func (t *tangent) onset(m *Model, s *search, w *slag.Wt) (o onset, ok bool) {
	x, ok := cationFractions(m.restated(*w))
	if !ok {
		return o, false
	}
	var ln vector
	for c, known := range t.x {
		switch {
		case known > 0 && x[c] > 0:
			ln[c] = math.Log(x[c] / known)
		case known > 0 || x[c] > 0:
			return o, false
		}
	}
	var at [maxMinerals]float64
	for l := range t.lines[:t.n] {
		line := &t.lines[l]
		S := line.s
		for c, d := range ln {
			S += line.by[c] * d
		}
		at[l] = t.T - S/line.byT
		o.T = max(o.T, at[l])
	}
	lowest := o.T - tangentApart
	s.start(m, &x)
	for range tangentSteps {
		if math.Abs(o.T-t.T) > tangentReach {
			return o, false
		}
		from := o.T
		s.at(from)
		o.T = 0
		for l := range t.lines[:t.n] {
			if at[l] < lowest {
				continue
			}
			line := &t.lines[l]
			if T := from - s.supersaturation(line.solid, from, lacking)/line.byT; T > o.T {
				o.T, o.solid = T, line.solid
			}
		}
		if math.Abs(o.T-from) < tangentNear {
			break
		}
	}
	return o, math.Abs(o.T-t.T) < tangentReach
}
