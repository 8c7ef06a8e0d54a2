package melt

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"smeltbook/phase/slag"
)

// anything draws a melt over the whole span of what laboratories report of
// slags and linings, with the minor oxides and ferric iron; each oxide is left
// out of one melt in four.
func anything(r *rand.Rand) (w slag.Wt) {
	w = wide(r)
	for _, o := range []struct {
		oxide slag.Oxide
		max   float64
	}{{slag.TiO2, 5}, {slag.P2O5, 5}, {slag.ZnO, 10}, {slag.Fe2O3, 25}} {
		if r.IntN(4) > 0 {
			w[o.oxide] = o.max * r.Float64()
		}
	}
	return w
}

// TestAnythingAnswers: whatever the melt, the answer is a temperature, with a
// warning where the melt is out of range, or a refusal that tells why.
func TestAnythingAnswers(t *testing.T) {
	m := testModel(t)
	r := rand.New(rand.NewPCG(53, 5))
	answered := 0
	for range 3000 {
		w := anything(r)
		l, err := m.Liquidus(w)
		if err != nil {
			if !errors.Is(err, ErrNoOxide) && !errors.Is(err, ErrNoSolid) {
				t.Errorf("%v: %v", w, err)
			}
			continue
		}
		answered++
		if math.IsNaN(l.TC) || l.TC < 400 || l.TC > 2900 || l.First == "" || l.ModelSD <= 0 {
			t.Errorf("%v: %+v", w, l)
		}
		if !l.InRange {
			warned := false
			for _, n := range l.Notices {
				warned = warned || n.Code == "LIQUIDUS_OUT_OF_RANGE"
			}
			if !warned {
				t.Errorf("%v is out of range without a warning", w)
			}
		}
	}
	if answered < 2900 {
		t.Errorf("only %d of 3000 melts had an answer", answered)
	}
}

// TestMinorsAreSmooth: up to 3 wt% of each minor oxide, and up to 10 of Fe2O3,
// the liquidus of ordinary slags goes without jumps.
func TestMinorsAreSmooth(t *testing.T) {
	m := testModel(t)
	r := rand.New(rand.NewPCG(59, 5))
	for range 40 {
		base := smelting(r)
		for _, o := range []struct {
			oxide slag.Oxide
			max   float64
		}{{slag.Na2O, 3}, {slag.TiO2, 3}, {slag.P2O5, 3}, {slag.ZnO, 5}, {slag.Fe2O3, 10}} {
			last := math.NaN()
			for x := 0.0; x <= o.max; x += 0.1 {
				w := base
				w[o.oxide] += x
				l, err := m.Liquidus(w)
				if err != nil {
					t.Fatal(err)
				}
				if math.Abs(l.TC-last) > 20 {
					t.Errorf("%v: from %.0f to %.0f °C at %.1f wt%% %v", base, last, l.TC, x, o.oxide)
				}
				last = l.TC
			}
		}
	}
}
