package melt

import "math"

// search looks for the liquidus of one melt. It holds all working space, so
// that nothing is allocated on the way.
type search struct {
	m       *Model
	mix     mixture
	lna     vector
	a, q    [maxMembers]float64
	here    [maxMembers]int // end members whose cations are all in the melt
	nHere   int
	of      [maxMembers]int // end members of the minerals below, there or not
	nOf     int
	solids  [maxMinerals]int // minerals with at least one such member
	nSolids int
}

// start prepares the search for the cation fractions x.
func (s *search) start(m *Model, x *vector) {
	s.m, s.nHere, s.nSolids = m, 0, 0
	s.mix.prepare(m.terms, x)
	for i := range s.lna {
		s.lna[i] = lacking
	}
	for e := range m.members {
		s.a[e] = lacking
		if m.members[e].presentIn(x) {
			s.here[s.nHere] = e
			s.nHere++
		}
	}
	s.nOf = 0
	for _, i := range m.byCost {
		for _, e := range m.solids[i].at {
			if m.members[e].presentIn(x) {
				s.solids[s.nSolids] = i
				s.nSolids++
				if m.solids[i].phase != Magnetite { // those of spinel
					s.nOf += copy(s.of[s.nOf:], m.solids[i].at)
				}
				break
			}
		}
	}
}

// keep leaves in the search only the minerals whose phase is wanted.
func (s *search) keep(wanted func(Phase) bool) {
	n := 0
	for _, i := range s.solids[:s.nSolids] {
		if wanted(s.m.solids[i].phase) {
			s.solids[n] = i
			n++
		}
	}
	s.nSolids = n
}

// at sets the affinities of all end members present at T (K).
func (s *search) at(T float64) {
	s.mix.activities(T, &s.lna)
	s.m.refs.of(T, s.of[:s.nOf], &s.q)
	s.affinities()
}

// affinities sets the affinities of all end members present from the
// activities and references at hand.
func (s *search) affinities() {
	for _, e := range s.here[:s.nHere] {
		s.a[e] = s.m.members[e].activitySum(&s.lna) + s.q[e]
	}
}

// supersaturation returns S of a mineral at the temperature last set; see
// solid.supersaturation about floor.
func (s *search) supersaturation(i int, T, floor float64) float64 {
	return s.m.solids[i].supersaturation(s.m, &s.a, &s.q, &s.lna, T, floor)
}

// greatest returns the greatest S at T and the mineral that has it.
func (s *search) greatest(T float64) (float64, int) {
	s.at(T)
	top, at := lacking, -1
	for _, i := range s.solids[:s.nSolids] {
		if v := s.supersaturation(i, T, top); v > top {
			top, at = v, i
		}
	}
	return top, at
}

const (
	rootTolerance = 1e-3 // K
	maxRootSteps  = 60
	// fastestRise bounds how fast a melt nears saturation as it cools:
	// −dS/d ln T for each cation in the mineral's formula. By its size this is
	// the entropy of fusion per cation in units of R, 1 to 3 for silicates;
	// the most seen in random melts is below 6 above 1300 K and about 8 below.
	fastestRise = 10.0
	longestLeap = 0.2 // of ln T
)

// liquidus goes down from 3200 K in steps of 20 K to the first temperature at
// which a mineral is saturated, and then closes in on the root in the last
// step; steps that fastestRise rules out are leapt over. It returns T in K and
// the mineral. Going down matters: S need not fall steadily with T. ok is
// false where nothing forms above 700 K, or where something is solid at 3200 K
// already, which the parameters rule out.
func (s *search) liquidus() (T float64, at int, ok bool) { return s.liquidusFrom(hottest) }

// liquidusFrom does the same from another temperature of the grid down, at
// which nothing may be saturated.
func (s *search) liquidusFrom(start float64) (T float64, at int, ok bool) {
	for T = start; s.nSolids > 0 && T >= coldest; {
		leap := s.leap(T)
		if leap < 0 {
			if T == start {
				break
			}
			T, at = s.refine(T, T+scanStep)
			return T, at, true
		}
		T -= scanStep * max(1, math.Floor(T*(1-math.Exp(-leap))/scanStep))
	}
	return 0, 0, false
}

// leap returns by how much ln T may fall before any mineral can be saturated;
// it is negative where one is saturated at T.
func (s *search) leap(T float64) float64 {
	s.at(T)
	leap := longestLeap
	for _, i := range s.solids[:s.nSolids] {
		scale := fastestRise * s.m.solids[i].cations
		switch S := s.supersaturation(i, T, -leap*scale); {
		case S >= 0:
			return -1
		case -S < leap*scale:
			leap = -S / scale
		}
	}
	return leap
}

// refine finds the root of the greatest S between lo, where it is not
// negative, and hi, where it is: false position with the value at a stale end
// halved (the Illinois rule), and bisection after three stale rounds. The root
// depends on the melt and the step alone, to the last bit, and not on the way
// there.
func (s *search) refine(lo, hi float64) (float64, int) {
	s.mix.state.seen = 0
	fLo, at := s.greatest(lo)
	fHi, _ := s.greatest(hi)
	side, stale := 0, 0
	for range maxRootSteps {
		width := hi - lo
		if width < rootTolerance || fLo == 0 {
			break
		}
		T := lo + width*fLo/(fLo-fHi)
		if stale >= 3 {
			T, stale = lo+width/2, 0
		}
		// Keep off the ends, so that the bracket closes from both sides.
		T = min(max(T, lo+rootTolerance/4), hi-rootTolerance/4)
		f, i := s.greatest(T)
		now := 1
		if f < 0 {
			now = -1
		}
		if now == side {
			stale++
		}
		if now > 0 {
			if side > 0 {
				fHi /= 2
			}
			lo, fLo, at = T, f, i
		} else {
			if side < 0 {
				fLo /= 2
			}
			hi, fHi = T, f
		}
		side = now
	}
	return lo, at
}
