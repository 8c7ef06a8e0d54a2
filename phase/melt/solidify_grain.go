package melt

import (
	"math"
	"slices"
)

// maxShares is the most members a grain can tell apart: those of the mineral,
// and for olivine CaMnSiO4, which borrows the data of its neighbours.
const maxShares = maxPerMineral + 1

// grain is one solid that takes part in the freezing of a melt. A mineral with
// a gap of miscibility may be there twice, poor and rich in calcium.
type grain struct {
	solid   int
	number  int     // its place in the order of appearance
	calcium float64 // share of calcium on the site that takes it; 0 in other minerals
	amount  float64 // formulae per cation of the whole

	excess  float64 // supersaturation S at the conditions last followed
	share   [maxShares]float64
	cations vector // of each kind in a formula
}

// follow sets the supersaturation and the composition of a grain in
// equilibrium with the liquid of s at T. A mineral with a gap stays on the
// side where its share of calcium was.
//
// The supersaturation is a greatest value over the composition of the solid,
// so its derivatives by the affinities are the shares of the end members.
func (g *grain) follow(s *search, T float64) {
	d := &s.m.solids[g.solid]
	g.share = [maxShares]float64{}
	switch d.mixing {
	case pure:
		g.excess = s.supersaturation(g.solid, T, lacking)
		g.share[0] = 1
	case oneSite:
		g.excess = s.supersaturation(g.solid, T, lacking)
		for i, e := range d.at {
			g.share[i] = math.Exp(s.a[e] - g.excess)
		}
	case wustites:
		g.followWustite(s, d, T)
	case olivines:
		g.followOlivine(s, d, T)
		return
	default:
		g.followPlainly(s, d, T)
	}
	g.cations = vector{}
	for i, e := range d.at {
		if g.share[i] != 0 {
			g.addCations(&s.m.members[e], g.share[i])
		}
	}
}

func (g *grain) addCations(e *endMember, share float64) {
	for i := range e.cats {
		g.cations[e.which[i]] += share * e.count[i]
	}
}

// shareStep is the step in the affinities for the shares of a mineral whose
// mixing is known only through its supersaturation.
const shareStep = 1e-4

// followPlainly finds the shares of any mineral by differences.
func (g *grain) followPlainly(s *search, d *solid, T float64) {
	g.excess = s.underAnyName(g.solid, T)
	var sum float64
	for i, e := range d.at {
		a, q := s.a[e], s.q[e]
		if a == lacking {
			continue
		}
		s.a[e], s.q[e] = a+shareStep, q+shareStep
		up := s.underAnyName(g.solid, T)
		s.a[e], s.q[e] = a-shareStep, q-shareStep
		g.share[i] = (up - s.underAnyName(g.solid, T)) / (2 * shareStep)
		s.a[e], s.q[e] = a, q
		sum += g.share[i]
	}
	for i := range d.at {
		g.share[i] /= sum
	}
}

// sameSolid reports whether two minerals are one solid that goes under two
// names according to its composition.
func (m *Model) sameSolid(i, j int) bool {
	return i == j || slices.Equal(m.solids[i].at, m.solids[j].at)
}

// underAnyName returns S of a solid whatever name its composition gives it.
func (s *search) underAnyName(i int, T float64) float64 {
	top := s.supersaturation(i, T, lacking)
	for j := range s.m.solids {
		if j != i && s.m.sameSolid(i, j) {
			top = max(top, s.supersaturation(j, T, lacking))
		}
	}
	return top
}

// name returns the mineral whose name the grain bears at the conditions last
// set.
func (g *grain) name(s *search, T float64) int {
	best, top := g.solid, s.supersaturation(g.solid, T, lacking)
	for j := range s.m.solids {
		if j != best && s.m.sameSolid(g.solid, j) {
			if v := s.supersaturation(j, T, lacking); v > top {
				best, top = j, v
			}
		}
	}
	return best
}

// wustiteLime is the place of lime among the members of wüstite.
const wustiteLime = 3

// wustiteSite returns the calcium site of wüstite; the rest is ideal. ok is
// false where only one of the two is there.
func wustiteSite(s *search, d *solid, T float64) (site calcicSite, rest float64, ok bool) {
	rest = lacking
	for i, e := range d.at {
		if i != wustiteLime {
			rest = logSum2(rest, s.a[e])
		}
	}
	lime := s.a[d.at[wustiteLime]]
	site = calcicSite{n: 1, r: rest, w: s.m.wustiteCa / (gasConstant * T)}
	site.b[0] = lime
	return site, rest, rest != lacking && lime != lacking
}

func (g *grain) followWustite(s *search, d *solid, T float64) {
	site, rest, ok := wustiteSite(s, d, T)
	switch {
	case ok:
		g.calcium = site.settle(g.calcium)
		g.excess = site.value(g.calcium)
	case rest == lacking:
		g.calcium, g.excess = 1, s.a[d.at[wustiteLime]]
	default:
		g.calcium, g.excess = 0, rest
	}
	for i, e := range d.at {
		if i != wustiteLime && rest != lacking {
			g.share[i] = (1 - g.calcium) * math.Exp(s.a[e]-rest)
		}
	}
	g.share[wustiteLime] = g.calcium
}

// olivineSite returns the calcium site of olivine as in Model.olivine, and
// which of iron, magnesium and manganese (0, 1, 2) stands in each place.
func olivineSite(s *search, d *solid, T float64) (site calcicSite, metal [3]int, calcium bool) {
	fa, fo, kir, mont := d.at[0], d.at[1], d.at[3], d.at[4]
	calcium = s.lna[ca] > lacking && s.lna[si] > lacking
	var gain [3]float64
	if calcium {
		common := s.lna[ca] + 0.5*s.lna[si]
		gain[0] = common + s.q[kir] - s.q[fa]/2
		gain[1] = common + s.q[mont] - s.q[fo]/2
		gain[2] = gain[0]
	}
	for i := range 3 {
		if whole := s.a[d.at[i]]; whole != lacking {
			site.p[site.n], site.b[site.n], metal[site.n] = whole/2, gain[i], i
			site.n++
		}
	}
	if site.n > 0 {
		site.r, _, _ = site.first(0)
	}
	site.w = s.m.olivineCa / (gasConstant * T)
	return site, metal, calcium
}

var olivineMetals = [3]component{fe, mg, mn}

// olivineCaMn is the place of CaMnSiO4 among the shares of olivine.
const olivineCaMn = 5

func (g *grain) followOlivine(s *search, d *solid, T float64) {
	site, metal, calcium := olivineSite(s, d, T)
	if !calcium {
		g.calcium = 0
	} else {
		g.calcium = site.settle(g.calcium)
	}
	c := g.calcium
	g.excess = site.value(c)
	top, _, _ := site.first(c)
	g.cations = vector{si: 1, ca: c}
	for i := range site.n {
		m := metal[i]
		onM1 := math.Exp(site.p[i] + c*site.b[i] - top)
		onM2 := (1 - c) * math.Exp(site.p[i]-site.r)
		g.cations[olivineMetals[m]] += onM1 + onM2
		g.share[m] = ((1-c)*onM1 + onM2) / 2
		withCalcium := [3]int{3, 4, olivineCaMn}[m]
		g.share[withCalcium] = c * onM1
	}
}

const (
	settleRounds    = 3  // that close in on a fixed point to the last digits
	followRounds    = 25 // of Newton's method from a share close by
	longestFollow   = 0.1
	followTolerance = 1e-13
)

// settle returns the fixed point next to start; start itself 0 or 1 stands for
// the outermost one on that side.
func (s *calcicSite) settle(start float64) float64 {
	if c, ok := s.nearby(start); ok {
		return c
	}
	c := s.stationary(start)
	for range settleRounds {
		_, mean, variance := s.first(c)
		next := 1 / (1 + math.Exp(s.r-mean+s.w*(1-2*c)))
		slope := next * (1 - next) * (variance + 2*s.w)
		if slope >= 1 {
			return next
		}
		c = min(max(c+(next-c)/(1-slope), 0), 1)
	}
	return c
}

// nearby follows the fixed point by Newton's method on
//
//	ln c/(1−c) − mean b + r + w(1−2c) = 0
//
// as long as the solid is stable against splitting, which is much faster than
// to iterate where two calcium-bearing solids hardly differ.
func (s *calcicSite) nearby(c float64) (float64, bool) {
	if c <= 0 || c >= 1 {
		return 0, false
	}
	for range followRounds {
		_, mean, variance := s.first(c)
		slope := 1/(c*(1-c)) - variance - 2*s.w
		if !(slope > 0) {
			return 0, false
		}
		step := -(math.Log(c/(1-c)) - mean + s.r + s.w*(1-2*c)) / slope
		step = min(max(step, -longestFollow, -c/2), longestFollow, (1-c)/2)
		c += step
		if math.Abs(step) < followTolerance*min(c, 1-c) || math.Abs(step) < 1e-16 {
			return c, true
		}
	}
	return 0, false
}

// gapWidth is the difference in the share of calcium from which two solids of
// one mineral count as two.
const gapWidth = 0.01

// branches returns the outermost solids of a mineral that a liquid may form:
// one, or two where the mineral has a gap.
func (s *search) branches(i int, T float64) (list [2]grain, n int) {
	list[0].solid, list[1].solid = i, i
	list[1].calcium = 1
	list[0].follow(s, T)
	if k := s.m.solids[i].mixing; k != wustites && k != olivines {
		return list, 1
	}
	list[1].follow(s, T)
	if list[1].calcium-list[0].calcium < gapWidth {
		return list, 1
	}
	return list, 2
}
