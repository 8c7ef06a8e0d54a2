package melt

import (
	"cmp"
	"math"
	"slices"
)

// InvariantKind says what happens at a point where three fields meet.
type InvariantKind string

const (
	// EutecticPoint: the temperature rises along all three boundaries away from
	// the point, which is the lowest around. The liquid freezes to all three
	// minerals.
	EutecticPoint InvariantKind = "eutectic"
	// PeritecticPoint: along one boundary at least the temperature falls away
	// from the point. The liquid reacts with a mineral formed before.
	PeritecticPoint InvariantKind = "peritectic"
	// TransitionPoint: the temperature stands still along one boundary, which
	// parts two forms of one compound.
	TransitionPoint InvariantKind = "transition"
)

// Invariant is a point of a map where three fields meet.
type Invariant struct {
	Point
	Phases [3]Phase // in alphabetical order
	TC     float64  // °C
	Kind   InvariantKind

	// Along holds, for each boundary away from the point, the change of the
	// temperature in °C for a hundredth of the side of the triangle. Along[i] is
	// the boundary without Phases[i].
	Along [3]float64

	// Piercing: the section holds other oxides, so that the map shows where lines
	// of a larger system pass through it: freezing goes on below TC with a liquid
	// that leaves the section.
	Piercing bool
}

// Invariants returns the points where three fields of the map meet, solved
// from the equations of the model and not from the grid; hottest first. Where a
// field too small for the map covers such a point, the points around it stand
// in its place. Those of the region of two liquids, which the model does not
// describe, are left out.
func (mp *Map) Invariants() []Invariant {
	var list []Invariant
	var s search
	mp.grid.triangles(func(a, b, c int) {
		v := [3]int{a, b, c}
		phases := [3]Phase{mp.field[a], mp.field[b], mp.field[c]}
		slices.Sort(phases[:])
		if phases[0] == "" || phases[0] == phases[1] || phases[1] == phases[2] || slices.Contains(phases[:], TwoLiquids) {
			return
		}
		at := mp.meeting(&s, v)
		tc, _ := mp.at(&s, at)
		list = mp.addInvariant(&s, list, Invariant{Point: at, Phases: phases, TC: tc, Piercing: mp.Section.held() > 0}, 0)
	})
	slices.SortStableFunc(list, func(a, b Invariant) int {
		return cmp.Or(cmp.Compare(b.TC, a.TC), slices.Compare(a.Phases[:], b.Phases[:]))
	})
	return list
}

// mostCovers is how many small fields may lie on top of each other.
const mostCovers = 2

// addInvariant settles a point and adds it, or those around the field that
// covers it.
func (mp *Map) addInvariant(s *search, list []Invariant, inv Invariant, covers int) []Invariant {
	cover, ok := mp.settle(s, &inv)
	if !ok {
		return list
	}
	if cover == "" {
		same := func(x Invariant) bool {
			return x.Phases == inv.Phases && distance(x.Point, inv.Point) < 1e-4
		}
		if slices.ContainsFunc(list, same) {
			return list
		}
		return append(list, inv)
	}
	if covers == mostCovers || slices.Contains(inv.Phases[:], cover) {
		return list
	}
	for i := range inv.Phases {
		other := inv
		other.Phases[i] = cover
		slices.Sort(other.Phases[:])
		list = mp.addInvariant(s, list, other, covers+1)
	}
	return list
}

// excess returns S of each of the phases at a point and temperature (K), and
// the phase that is more saturated than all of them, if one is; ok is false
// where one of the phases cannot form.
func (mp *Map) excess(s *search, phases *[3]Phase, p Point, T float64) (S [3]float64, cover Phase, ok bool) {
	w := mp.Section.Melt(p)
	x, ok := cationFractions(mp.model.frozen(&w))
	if !ok || T < coldest || T > hottest {
		return S, "", false
	}
	s.start(mp.model, &x)
	s.at(T)
	S = [3]float64{lacking, lacking, lacking}
	top := coverS
	for _, i := range s.solids[:s.nSolids] {
		v := s.supersaturation(i, T, lacking)
		if v > top && !slices.Contains(phases[:], mp.model.solids[i].phase) {
			top, cover = v, mp.model.solids[i].phase
		}
		for k := range phases {
			if mp.model.solids[i].phase == phases[k] {
				S[k] = math.Max(S[k], v)
			}
		}
	}
	return S, cover, S[0] > lacking && S[1] > lacking && S[2] > lacking
}

const (
	invariantRounds = 30
	invariantStep   = 1e-5 // of the derivatives by the shares of the corners
	invariantSolved = 1e-9
	coverS          = 1e-6 // S from which a fourth phase is first
	invariantFar    = 0.05 // how far from the grid's point the solution may lie, in shares
	stillSlope      = 0.02 // °C per hundredth of the side that count as none
)

// settle solves S = 0 for the three phases by Newton's method and tells the
// kind. A fourth phase that is first there covers the point; ok is false where
// the method leads nowhere.
func (mp *Map) settle(s *search, inv *Invariant) (cover Phase, ok bool) {
	z := [3]float64{inv.A, inv.B, (inv.TC + celsius) / 1000}
	from := inv.Point
	var slope [3][3]float64 // of S by A, B and T/1000 K
	for round := 0; ; round++ {
		p := Point{z[0], z[1], 1 - z[0] - z[1]}
		S, cover, ok := mp.excess(s, &inv.Phases, p, z[2]*1000)
		if !ok || min(p.A, p.B, p.C) < 0 || round > invariantRounds {
			return "", false
		}
		for j := range 3 {
			up := z
			up[j] += invariantStep
			Su, _, ok := mp.excess(s, &inv.Phases, Point{up[0], up[1], 1 - up[0] - up[1]}, up[2]*1000)
			if !ok {
				return "", false
			}
			for k := range 3 {
				slope[k][j] = (Su[k] - S[k]) / invariantStep
			}
		}
		if max(math.Abs(S[0]), math.Abs(S[1]), math.Abs(S[2])) < invariantSolved {
			inv.Point, inv.TC = p, z[2]*1000-celsius
			inv.classify(&slope)
			return cover, distance(p, from) < invariantFar
		}
		step, ok := solve3(slope, S)
		if !ok {
			return "", false
		}
		longest := max(math.Abs(step[0]), math.Abs(step[1]), math.Abs(step[2]))
		scale := math.Min(1, 0.02/longest)
		for j := range z {
			z[j] -= scale * step[j]
		}
	}
}

// classify finds how the temperature runs along the boundaries: along the one
// without phase i the other two stay saturated, and away from the point phase
// i is not.
func (inv *Invariant) classify(slope *[3][3]float64) {
	still, falls := false, false
	for i := range 3 {
		a, b := &slope[(i+1)%3], &slope[(i+2)%3]
		d := [3]float64{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
		away := slope[i][0]*d[0] + slope[i][1]*d[1] + slope[i][2]*d[2]
		if away > 0 {
			d = [3]float64{-d[0], -d[1], -d[2]}
		}
		inv.Along[i] = 1000 * d[2] / distance(Point{}, Point{d[0], d[1], -d[0] - d[1]}) / 100
		still = still || math.Abs(inv.Along[i]) < stillSlope
		falls = falls || inv.Along[i] < 0
	}
	switch {
	case still:
		inv.Kind = TransitionPoint
	case falls:
		inv.Kind = PeritecticPoint
	default:
		inv.Kind = EutecticPoint
	}
}

// solve3 solves a·x = r by Cramer's rule.
func solve3(a [3][3]float64, r [3]float64) (x [3]float64, ok bool) {
	det := func(m [3][3]float64) float64 {
		return m[0][0]*(m[1][1]*m[2][2]-m[1][2]*m[2][1]) - m[0][1]*(m[1][0]*m[2][2]-m[1][2]*m[2][0]) + m[0][2]*(m[1][0]*m[2][1]-m[1][1]*m[2][0])
	}
	d := det(a)
	if math.Abs(d) < 1e-12 || math.IsNaN(d) {
		return x, false
	}
	for j := range 3 {
		b := a
		for i := range 3 {
			b[i][j] = r[i]
		}
		x[j] = det(b) / d
	}
	return x, true
}
