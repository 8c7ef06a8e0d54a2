package melt

import (
	"math"

	"smeltbook/phase/slag"
)

// neighbourhood lets the search for the liquidus of melts close to a known one
// start just above that one's liquidus in place of 3200 K.
type neighbourhood struct {
	T     float64              // K, the liquidus of the known melt
	guard float64              // K, on the grid of the search
	most  [maxMinerals]float64 // the most that S of a neighbour may be there, by place in Model.solids
}

// guardAbove is how far above the known liquidus the search of neighbours
// starts, in K; a neighbour that is hotter is searched for from the top.
const guardAbove = 60.0

// around prepares the search near w; ok is false where each melt has to be
// searched for from the top. Half of what keeps a mineral of the known melt
// from saturation anywhere from the guard up is left to the neighbours: what sets
// two melts apart counts less the hotter they are, so a neighbour that keeps
// within that at the guard is not saturated above it (TestNearAgainstWhole).
func (m *Model) around(s *search, w *slag.Wt) (n neighbourhood, ok bool) {
	o, err := m.onset(s, w)
	if err != nil || o.capped {
		return n, false
	}
	n.T = o.T
	n.guard = hottest - scanStep*math.Floor((hottest-o.T-guardAbove)/scanStep)
	var top [maxMinerals]float64
	for i := range n.most {
		n.most[i], top[i] = lacking, lacking
	}
	for T := n.guard; T <= hottest; T += scanStep {
		s.at(T)
		for _, i := range s.solids[:s.nSolids] {
			S := s.supersaturation(i, T, lacking)
			top[i] = max(top[i], S)
			if T == n.guard {
				n.most[i] = S
			}
		}
	}
	for _, i := range s.solids[:s.nSolids] {
		if top[i] >= 0 {
			return n, false
		}
		n.most[i] -= top[i] / 2
	}
	return n, n.guard < hottest
}

// onsetNear is onset for a melt near the known one, by the short way where
// that is safe.
func (m *Model) onsetNear(s *search, w *slag.Wt, n *neighbourhood) (onset, error) {
	x, ok := cationFractions(m.restated(*w))
	if !ok {
		return onset{}, ErrNoOxide
	}
	s.start(m, &x)
	if s.within(n) {
		T, at, ok := s.liquidusFrom(n.guard)
		if ok && !(m.solids[at].phase.silica() && T > silicaCeiling(x[si])) {
			return onset{T: T, solid: at}, nil
		}
	}
	return m.onset(s, w)
}

// within reports whether no mineral is nearer to saturation at the guard than a
// neighbour may be.
func (s *search) within(n *neighbourhood) bool {
	s.at(n.guard)
	for _, i := range s.solids[:s.nSolids] {
		if s.supersaturation(i, n.guard, n.most[i]) > n.most[i] {
			return false
		}
	}
	return true
}
