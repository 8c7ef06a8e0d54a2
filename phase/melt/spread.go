package melt

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"sync/atomic"

	"smeltbook/assay/quantity/uncertainty"
	"smeltbook/phase/slag"
)

// ErrNoUncertainty tells that no part of a melt carries an uncertainty or a
// detection limit, so that there is nothing to draw from.
var ErrNoUncertainty = errors.New("the composition carries no uncertainty, so the liquidus has no spread from the assay")

// Share is the share of draws, 0 to 1, in which a phase comes first.
type Share struct {
	Phase Phase
	Share float64
}

// Spread is what the uncertainty of the assay does to the liquidus. The
// model's own error (ModelSD) is not in it.
type Spread struct {
	Mean, SD  float64 // °C
	Low, High float64 // °C, the 2.5 and 97.5 percentiles
	First     []Share // largest first
	Draws     int     // draws that have a liquidus
	ByTangent int     // of them, those found from the tangent of the liquidus
	Failed    int     // draws that have none
	WithoutU  []string
}

// Spread draws melts within the uncertainty of the assay (slag.Melt.Draw,
// after JCGM 101:2008) and sums up their liquidus. Every draw has its own
// random stream, made from seed and its number, so the result depends on seed
// and draws alone and not on the number of processors. WithoutU names the
// parts that had no uncertainty and were held fixed.
//
// The first eight draws are searched for in full. Where steps from the tangent
// at the melt itself lead to the same mineral in each of them and to the same
// temperature within 0.05 K, the others are found in that way.
func (m *Model) Spread(ctx context.Context, melt slag.Melt, draws int, seed uint64) (Spread, error) {
	if draws < 2 {
		return Spread{}, fmt.Errorf("a spread needs at least 2 draws, not %d", draws)
	}
	if !melt.HasU() {
		return Spread{}, ErrNoUncertainty
	}
	onsets := make([]onset, draws)
	var s search
	find := m.onset
	n, known := m.around(&s, &melt.Wt)
	if known {
		find = func(s *search, w *slag.Wt) (onset, error) { return m.onsetNear(s, w, &n) }
	}
	draw := func(i int) slag.Wt { return melt.Draw(rand.New(rand.NewPCG(seed, uint64(i)))) }
	whole := func(s *search, i int) {
		w := draw(i)
		o, err := find(s, &w)
		if err != nil {
			o = onset{T: math.NaN()}
		}
		onsets[i] = o
	}
	first := min(tangentTrials, draws)
	if err := inParallel(ctx, first, whole); err != nil {
		return Spread{}, err
	}
	var t tangent
	follows := known
	if follows {
		t, follows = m.tangentAt(&s, &melt.Wt, n.T)
	}
	follows = follows && t.agrees(m, &s, onsets[:first], draw)
	var byTangent atomic.Int64
	err := inParallel(ctx, draws-first, func(s *search, i int) {
		i += first
		if follows {
			w := draw(i)
			if o, ok := t.onset(m, s, &w); ok {
				onsets[i] = o
				byTangent.Add(1)
				return
			}
		}
		whole(s, i)
	})
	if err != nil {
		return Spread{}, err
	}
	sp, err := m.sumUp(onsets, melt.NoU)
	sp.ByTangent = int(byTangent.Load())
	return sp, err
}

const (
	tangentTrials = 8    // draws that are searched for in full
	tangentError  = 0.05 // K
)

// agrees reports whether the tangent gives the draws what they have.
func (t *tangent) agrees(m *Model, s *search, onsets []onset, draw func(int) slag.Wt) bool {
	for i, o := range onsets {
		w := draw(i)
		near, ok := t.onset(m, s, &w)
		if !ok || o.capped || near.solid != o.solid || !(math.Abs(near.T-o.T) < tangentError) {
			return false
		}
	}
	return true
}

func (m *Model) sumUp(onsets []onset, withoutU []string) (Spread, error) {
	sp := Spread{WithoutU: withoutU}
	temperatures := make([]float64, 0, len(onsets))
	counts := map[Phase]int{}
	for _, o := range onsets {
		if math.IsNaN(o.T) {
			sp.Failed++
			continue
		}
		temperatures = append(temperatures, o.tc())
		counts[m.solids[o.solid].phase]++
	}
	sp.Draws = len(temperatures)
	if sp.Draws < 2 {
		return Spread{}, ErrNoSolid
	}
	sum := uncertainty.Summarise(temperatures, 0.95)
	sp.Mean, sp.SD, sp.Low, sp.High = sum.Mean, sum.SD, sum.Low, sum.High
	for phase, n := range counts {
		sp.First = append(sp.First, Share{phase, float64(n) / float64(sp.Draws)})
	}
	slices.SortFunc(sp.First, func(a, b Share) int {
		return cmp.Or(cmp.Compare(b.Share, a.Share), cmp.Compare(a.Phase, b.Phase))
	})
	return sp, nil
}
