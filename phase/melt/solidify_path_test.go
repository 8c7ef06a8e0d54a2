package melt

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"smeltbook/phase/slag"
)

// retrograde is how much liquid, as a fraction, a slag may gain in one step on
// cooling: solids that change their composition can give some back.
const retrograde = 1e-3

// checkPath tests what must hold for every path; falls: the liquid must not
// grow on cooling, as long as it does not split.
func checkPath(t *testing.T, w slag.Wt, p *Path, falls bool) {
	t.Helper()
	first := p.Steps[0]
	if math.Abs(first.TC-p.Liquidus.TC) > 0.01 || math.Abs(first.Liquid-1) > 1e-9 {
		t.Errorf("%v: starts at %.3f °C with %.9f liquid, the liquidus is %.3f", w, first.TC, first.Liquid, p.Liquidus.TC)
	}
	if p.Minerals[0].Phase != p.Liquidus.First {
		t.Errorf("%v: %s forms first, the liquidus says %s", w, p.Minerals[0].Phase, p.Liquidus.First)
	}
	last := first
	allowed := math.Inf(1)
	if falls {
		allowed = retrograde
	}
	for i, s := range p.Steps {
		checkBalance(t, p, &s)
		if s.TC > last.TC+leastRise || s.Liquid > last.Liquid+1e-9+allowed && !(s.TC <= p.SplitsC) {
			t.Errorf("%v: step %d goes from %.6f °C, %.9f liquid to %.6f °C, %.9f", w, i, last.TC, last.Liquid, s.TC, s.Liquid)
		}
		last = s
	}
	if last.TC != p.SolidusC {
		t.Errorf("%v: ends at %g °C, solidus %g", w, last.TC, p.SolidusC)
	}
	for i, s := range p.Minerals {
		if s.VanishesC > s.AppearsC+shortStay || i > 0 && s.AppearsC > p.Minerals[i-1].AppearsC+leastRise {
			t.Errorf("%v: minerals out of order: %+v %v", w, p.Minerals, p.SplitsC)
		}
	}
	switch p.End {
	case FrozenAtOnce:
		if last.Liquid != 0 {
			t.Errorf("%v: %g liquid at the solidus", w, last.Liquid)
		}
	case LastLiquid:
		if math.Abs(last.Liquid-lastLiquid) > 1e-6 && math.IsNaN(p.SplitsC) {
			t.Errorf("%v: %g liquid at the end", w, last.Liquid)
		}
	case LimitReached:
		if math.Abs(last.TC-900) > 1e-4 {
			t.Errorf("%v: the limit is met at %g °C", w, last.TC)
		}
	}
}

// checkBalance: no amount is negative, and liquid and solids add up to the
// whole, oxide by oxide.
func checkBalance(t *testing.T, p *Path, s *State) {
	t.Helper()
	sum := s.Melt
	total := s.Liquid
	for o := range sum {
		sum[o] *= s.Liquid
	}
	for _, d := range s.Solids {
		if d.Share < -1e-7 {
			t.Errorf("%v at %.3f °C: %g wt%% of %s", p.Whole, s.TC, d.Share, d.Mineral)
		}
		var fractions float64
		for _, x := range d.Members {
			fractions += x.Fraction
			if !(x.Fraction >= 0) {
				t.Errorf("%v at %.3f °C: %v of %s", p.Whole, s.TC, x, d.Mineral)
			}
		}
		if math.Abs(fractions-1) > 1e-6 {
			t.Errorf("%v at %.3f °C: the end members of %s sum to %g", p.Whole, s.TC, d.Mineral, fractions)
		}
		for o := range sum {
			sum[o] += d.Share / 100 * d.Wt[o]
		}
		total += d.Share / 100
	}
	if math.Abs(total-1) > 1e-9 {
		t.Errorf("%v at %.3f °C: liquid and solids sum to %.12f", p.Whole, s.TC, total)
	}
	for o := range sum {
		if math.Abs(sum[o]-p.Whole[o]) > 1e-9*p.Whole[o]+1e-11+100*traceFraction*boolTo(p.Whole[o] < 1e-4) {
			t.Errorf("%v at %.3f °C: %g wt%% %v, not %g", p.Whole, s.TC, sum[o], slag.Oxide(o), p.Whole[o])
		}
	}
}

func boolTo(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// TestSolidifySlags follows ordinary slags, and feeds the liquid of each step
// back: it must have that temperature as its own liquidus.
func TestSolidifySlags(t *testing.T) {
	m := testModel(t)
	r := rand.New(rand.NewPCG(53, 3))
	n := 150
	if testing.Short() {
		n = 30
	}
	var space Freezer
	steps := 0
	for range n {
		w := smelting(r)
		p, err := m.SolidifyIn(&space, w)
		if err != nil {
			t.Errorf("%v: %v", w, err)
			continue
		}
		checkPath(t, w, &p, true)
		if p.End == LostTrack {
			t.Errorf("%v: %v", w, p.Notices)
		}
		for _, s := range p.Steps {
			if s.Liquid == 0 {
				continue
			}
			steps++
			if l, err := m.Liquidus(s.Melt); err != nil || math.Abs(l.TC-s.TC) > 1 {
				t.Errorf("%v: the liquid at %.2f °C has a liquidus of %.2f, %s (%v)", w, s.TC, l.TC, l.First, err)
			}
		}
	}
	if steps < 20*n {
		t.Errorf("only %d steps", steps)
	}
}

// TestSolidifyAnything: any melt gives a path that holds together, or an error
// that says why not. That the liquid never grows is not asked of it: far from
// slags the model knows solids that give liquid on cooling.
func TestSolidifyAnything(t *testing.T) {
	m := testModel(t)
	r := rand.New(rand.NewPCG(59, 3))
	n := 400
	if testing.Short() {
		n = 100
	}
	failed := 0
	var space Freezer
	for range n {
		w := wide(r)
		p, err := m.SolidifyIn(&space, w)
		switch {
		case err == nil:
			checkPath(t, w, &p, false)
			if p.End == LostTrack {
				failed++
				t.Logf("%v: %v", w, p.Notices)
			}
		case errors.Is(err, ErrFreezing):
			failed++
			t.Logf("%v: %v", w, err)
		case !errors.Is(err, ErrSplit) && !errors.Is(err, ErrNoOxide) && !errors.Is(err, ErrNoSolid):
			t.Errorf("%v: %v", w, err)
		}
	}
	if failed*200 > n {
		t.Errorf("%d of %d paths failed", failed, n)
	}
}
