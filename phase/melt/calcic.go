package melt

import "math"

// A solution that takes calcium on one of its sites with a regular energy W
// has one unknown, the share c of calcium on that site. Its supersaturation
// is the greatest value over c of
//
//	S(c) = ln Σ_M exp(p_M + c·b_M) + (1−c)·r − c ln c − (1−c) ln(1−c) − w c(1−c)
//
// with w = W/RT. For wüstite, p and b come from lime alone and r = ln Σ exp(A_M).
// For olivine, M1M2SiO4, half the affinity of an M2SiO4 member belongs to each
// site, so p_M = A_MM/2, r = ln Σ_M exp(A_MM/2), and b_M = A_CaM − A_MM/2 is
// what calcium on M2 gains beside M on M1. Where w > 2 two maxima may exist
// (the gap between olivine and kirschsteinite), so the search starts from
// both ends.
type calcicSite struct {
	n    int
	p, b [3]float64
	r, w float64
}

// value returns S(c).
func (s *calcicSite) value(c float64) float64 {
	l, _, _ := s.first(c)
	v := l + (1-c)*s.r - s.w*c*(1-c)
	if c > 0 && c < 1 {
		v -= c*math.Log(c) + (1-c)*math.Log(1-c)
	}
	return v
}

// first returns ln Σ exp(p + c·b) with the mean and the variance of b under
// those weights, which are its first two derivatives.
func (s *calcicSite) first(c float64) (logSum, mean, variance float64) {
	if s.n == 1 {
		return s.p[0] + c*s.b[0], s.b[0], 0
	}
	top := math.Inf(-1)
	for i := range s.n {
		top = max(top, s.p[i]+c*s.b[i])
	}
	var sum, sb, sbb float64
	for i := range s.n {
		e := math.Exp(s.p[i] + c*s.b[i] - top)
		sum += e
		sb += e * s.b[i]
		sbb += e * s.b[i] * s.b[i]
	}
	mean = sb / sum
	return top + math.Log(sum), mean, max(sbb/sum-mean*mean, 0)
}

// bound returns a value that S cannot exceed for w ≥ 0: the sum over p and b is
// convex in c, so it lies below its chord, and an ideal mixture of the two
// ends follows.
func (s *calcicSite) bound() float64 {
	at0, _, _ := s.first(0)
	at1, _, _ := s.first(1)
	return logSum2(at0+s.r, at1)
}

// roughBound is a looser bound on the same for olivine, where r is the sum of
// the p, without an exponential: a sum of n terms is at most n times the
// greatest.
func (s *calcicSite) roughBound() float64 {
	p, pb := lacking, lacking
	for i := range s.n {
		p, pb = max(p, s.p[i]), max(pb, s.p[i]+s.b[i])
	}
	return max(2*p, pb) + slackOf[s.n]
}

// slackOf holds ln 2 + 2 ln n.
var slackOf = [4]float64{0, math.Ln2, 3 * math.Ln2, math.Ln2 + 2*1.0986122886681098}

// best returns the greatest S(c). With w ≤ 2 and b alone there is one maximum.
func (s *calcicSite) best() float64 {
	poor := s.value(s.stationary(0))
	if s.w <= 2 && s.n == 1 {
		return poor
	}
	rich := s.value(s.stationary(1))
	return max(poor, rich)
}

const (
	calcicAbsolute = 1e-9 // on c; S is stationary there, so its error is about the square
	calcicRelative = 1e-5
	calcicRounds   = 200
	newtonGain     = 20.0 // the most by which Newton may stretch a plain step
)

// stationary follows c = 1/(1+exp(−z(c))), z = mean b − r − w(1−2c), from
// start to the nearest fixed point. The map rises with c, convex below ½ and
// concave above, so plain iteration is monotone, and Newton's correction to it
// does not leap over the nearest fixed point to another as long as the slope
// of the map is below 1.
func (s *calcicSite) stationary(start float64) float64 {
	c := start
	for range calcicRounds {
		_, mean, variance := s.first(c)
		next := 1 / (1 + math.Exp(s.r-mean+s.w*(1-2*c)))
		step := next - c
		if math.Abs(step) < calcicAbsolute+calcicRelative*min(c, 1-c) {
			return next
		}
		if slope := next * (1 - next) * (variance + 2*s.w); slope < 1 {
			step *= min(1/(1-slope), newtonGain)
		}
		c = min(max(c+step, 0), 1)
	}
	return c
}

// wustite returns S of the oxides of Fe, Mg, Mn and Ca, with ferric iron.
func (m *Model) wustite(s *solid, a *[maxMembers]float64, T, floor float64) float64 {
	fe, mg, mn, lime := a[s.at[0]], a[s.at[1]], a[s.at[2]], a[s.at[3]]
	greatest := max(fe, mg, mn, lime)
	if len(s.at) > 4 {
		greatest = max(greatest, a[s.at[4]])
	}
	if b := greatest + math.Log(5); b <= floor {
		return b
	}
	top := logSum2(logSum2(fe, mg), mn)
	if len(s.at) > 4 {
		top = logSum2(top, a[s.at[4]])
	}
	if lime == lacking {
		return top
	}
	if top == lacking {
		return lime
	}
	site := calcicSite{n: 1, r: top, w: m.wustiteCa / (gasConstant * T)}
	site.b[0] = lime
	if b := site.bound(); b <= floor {
		return b
	}
	return site.best()
}

// olivine returns S of olivine. Calcium beside manganese on M1 is not among
// the members (glaucochroite was not calibrated); it is taken to gain what it
// gains beside iron, so that S stays continuous as iron goes to nothing.
func (m *Model) olivine(s *solid, a, q *[maxMembers]float64, lna *vector, T, floor float64) float64 {
	fa, fo, te, kir, mont := s.at[0], s.at[1], s.at[2], s.at[3], s.at[4]
	var site calcicSite
	add := func(whole, gain float64) {
		if whole != lacking {
			site.p[site.n], site.b[site.n] = whole/2, gain
			site.n++
		}
	}
	calcium := lna[ca] > lacking && lna[si] > lacking
	var byIron, byMagnesium float64
	if calcium {
		common := lna[ca] + 0.5*lna[si]
		byIron = common + q[kir] - q[fa]/2
		byMagnesium = common + q[mont] - q[fo]/2
	}
	add(a[fa], byIron)
	add(a[fo], byMagnesium)
	add(a[te], byIron)
	if site.n == 0 {
		return lacking
	}
	if b := site.roughBound(); b <= floor {
		return b
	}
	site.r, _, _ = site.first(0)
	if !calcium {
		return 2 * site.r
	}
	site.w = m.olivineCa / (gasConstant * T)
	if b := site.bound(); b <= floor {
		return b
	}
	return site.best()
}
