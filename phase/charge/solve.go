package charge

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"smeltbook/phase/slag"
)

// Bound is what may be taken of a stock: of an ore its share of all ore, 0 to
// 1; of a flux the kg for a kilogram of ore.
type Bound struct{ Lo, Hi float64 }

// Problem asks for a mixture: ores that sum to one kilogram, and fluxes beside
// them.
type Problem struct {
	Ores   []Bound
	Fluxes []Bound
	// Slag returns the slag in wt% of a mixture (kg of the ores, then of the
	// fluxes) and what the mixture costs in the sense of the aim: of mixtures
	// that meet the target the one that costs least is taken.
	Slag   func(kg []float64) (w slag.Wt, cost float64, err error)
	Target []Term
	Model  Model
	Seed   uint64
}

// Solution is a mixture with what its slag is like.
type Solution struct {
	Kg      []float64 // ores that sum to 1, then fluxes
	Wt      slag.Wt
	Cost    float64
	Verdict Verdict // Met tells whether it is a solution or only the nearest mixture
}

// Solve returns the cheapest mixture that meets the target or, where none
// does, the one whose worst miss is least. It fails on bounds that leave no
// mixture, on a target that contradicts itself, where the slag is not known
// and when ctx ends.
func (p Problem) Solve(ctx context.Context) (Solution, error) {
	if err := p.check(); err != nil {
		return Solution{}, err
	}
	s := search{Problem: p, ctx: ctx, r: rand.New(rand.NewPCG(p.Seed, 0x6d69787475726500))} // "mixture"
	s.best = Solution{Cost: math.Inf(1), Verdict: Verdict{Worst: math.Inf(1)}}
	s.sow()
	s.shrink()
	s.slide()
	s.polish()
	if s.err != nil {
		return Solution{}, s.err
	}
	if s.best.Kg == nil {
		return Solution{}, fmt.Errorf("no mixture within the limits gives a slag that the models can judge")
	}
	s.best.Verdict = Judge(p.Model, s.best.Wt, p.Target)
	return s.best, nil
}

func (p Problem) check() error {
	if len(p.Ores) == 0 {
		return fmt.Errorf("a charge needs an ore")
	}
	lo, hi := 0.0, 0.0
	for _, b := range append(slices.Clone(p.Ores), p.Fluxes...) {
		if !(b.Lo >= 0 && b.Lo <= b.Hi) || math.IsInf(b.Hi, 1) {
			return fmt.Errorf("limits from %g to %g leave nothing to choose; give two numbers of zero or more, the lower first", b.Lo, b.Hi)
		}
	}
	for _, b := range p.Ores {
		lo, hi = lo+b.Lo, hi+b.Hi
	}
	if lo > 1+1e-12 || hi < 1-1e-12 {
		return fmt.Errorf("the shares of the ores sum to at least %g and at most %g, but a charge needs 1", lo, hi)
	}
	return Check(p.Target)
}

// search keeps the best mixture found. Random points in a box that shrinks
// about the best one (after Luus & Jaakola 1973, AIChE Journal 19:760, from
// memory) bear the kinks of a liquidus surface, where slopes mislead.
type search struct {
	Problem
	ctx  context.Context
	r    *rand.Rand
	best Solution
	err  error
}

// Numbers of the search: points sown and points a round for each thing that is
// free, rounds, and what each leaves of the box.
const (
	sown, aRound, rounds, left = 40, 8, 26, 0.75
)

func (s *search) free() int { return max(len(s.Ores)-1+len(s.Fluxes), 1) }

// sow tries the ends of the fluxes and points all over.
func (s *search) sow() {
	even := make([]float64, len(s.Ores)+len(s.Fluxes))
	for i := range s.Ores {
		even[i] = 1 / float64(len(s.Ores))
	}
	for _, f := range []float64{0, 0.5, 1} {
		for i, b := range s.Fluxes {
			even[len(s.Ores)+i] = b.Lo + f*(b.Hi-b.Lo)
		}
		s.try(even)
	}
	x := make([]float64, len(even))
	for range sown * s.free() {
		for i := range x {
			b := s.bound(i)
			x[i] = b.Lo + s.r.Float64()*(b.Hi-b.Lo)
		}
		s.try(x)
	}
}

func (s *search) shrink() {
	if s.best.Kg == nil {
		return
	}
	x := make([]float64, len(s.best.Kg))
	for width, k := 0.5, 0; k < rounds; width, k = width*left, k+1 {
		for range aRound * s.free() {
			for i := range x {
				b := s.bound(i)
				x[i] = s.best.Kg[i] + width*(2*s.r.Float64()-1)*(b.Hi-b.Lo)
			}
			s.try(x)
		}
	}
}

// slide walks along the edge of what meets the target, where a step at random
// nearly always falls off: every step, in a box that shrinks, is brought back to
// the edge by the least factor on all fluxes with which the target is met.
func (s *search) slide() {
	if s.best.Kg == nil || !s.best.Verdict.Met() || len(s.Fluxes) == 0 {
		return
	}
	n := len(s.Ores)
	for width := 0.3; width > 3e-4; width *= 0.7 {
		for range aRound * s.free() / 2 {
			x := slices.Clone(s.best.Kg)
			for i := range x {
				b := s.bound(i)
				x[i] += width * s.r.NormFloat64() * (b.Hi - b.Lo)
			}
			x = s.within(x)
			scaled := func(f float64) []float64 {
				y := slices.Clone(x)
				for i := n; i < len(y); i++ {
					y[i] *= f
				}
				return s.within(y)
			}
			lo, hi := 0.5, 1.5
			if !s.meets(scaled(hi)) {
				continue
			}
			for range 14 {
				if mid := (lo + hi) / 2; s.meets(scaled(mid)) {
					hi = mid
				} else {
					lo = mid
				}
			}
			s.try(scaled(hi))
		}
	}
}

// meets reports whether a mixture within the limits meets the target.
func (s *search) meets(kg []float64) bool {
	w, _, err := s.Slag(kg)
	if err != nil {
		return false
	}
	_, whole := judge(s.Model, w, s.Target, tolerance)
	return whole
}

// polish goes from a mixture that meets the target as far as it can along each
// flux and each exchange of ores, as long as that is cheaper.
func (s *search) polish() {
	if s.best.Kg == nil || !s.best.Verdict.Met() {
		return
	}
	for range 3 {
		for _, d := range s.directions() {
			far := 1.0
			for range 40 {
				x := slices.Clone(s.best.Kg)
				for i := range x {
					x[i] += far * d[i]
				}
				if !s.try(x) {
					far /= 2
				}
				if far < 1e-7 {
					break
				}
			}
		}
	}
}

func (s *search) directions() (out [][]float64) {
	n := len(s.Ores) + len(s.Fluxes)
	for i := range n {
		width := s.bound(i).Hi - s.bound(i).Lo
		for j := range len(s.Ores) {
			if i < len(s.Ores) && i != j {
				d := make([]float64, n)
				d[i], d[j] = width, -width
				out = append(out, d)
			}
		}
		if i >= len(s.Ores) {
			for _, sign := range []float64{-1, 1} {
				d := make([]float64, n)
				d[i] = sign * width
				out = append(out, d)
			}
		}
	}
	return out
}

func (s *search) bound(i int) Bound {
	if i < len(s.Ores) {
		return s.Ores[i]
	}
	return s.Fluxes[i-len(s.Ores)]
}

// try takes a mixture, brought within its limits, where it is better than the
// best so far.
func (s *search) try(x []float64) bool {
	if s.err == nil {
		s.err = s.ctx.Err()
	}
	if s.err != nil {
		return false
	}
	kg := s.within(x)
	w, cost, err := s.Slag(kg)
	if err != nil {
		return false
	}
	met := s.best.Verdict.Met()
	if met && !(cost < s.best.Cost) {
		return false
	}
	enough := s.best.Verdict.Worst
	if met {
		enough = tolerance
	}
	v, whole := judge(s.Model, w, s.Target, enough)
	if !whole || !met && !v.Met() && !(v.Worst < s.best.Verdict.Worst) {
		return false
	}
	s.best = Solution{Kg: kg, Wt: w, Cost: cost, Verdict: v}
	return true
}

// within returns the mixture brought within its limits.
func (p Problem) within(x []float64) []float64 {
	kg := slices.Clone(x)
	for i, b := range p.Fluxes {
		k := len(p.Ores) + i
		kg[k] = min(max(kg[k], b.Lo), b.Hi)
	}
	copy(kg, shares(kg[:len(p.Ores)], p.Ores))
	return kg
}

// shares are the nearest shares within their limits that sum to one: all are
// moved by the same amount and held at their limits.
func shares(x []float64, bounds []Bound) []float64 {
	out := make([]float64, len(x))
	moved := func(by float64) (sum float64) {
		for i, b := range bounds {
			out[i] = min(max(x[i]+by, b.Lo), b.Hi)
			sum += out[i]
		}
		return sum
	}
	lo, hi := -2.0, 2.0
	for _, v := range x {
		lo, hi = min(lo, -v-2), max(hi, 2-v)
	}
	for range 60 {
		if mid := (lo + hi) / 2; moved(mid) < 1 {
			lo = mid
		} else {
			hi = mid
		}
	}
	moved(hi)
	return out
}
