package redox

import (
	"math"
	"strings"
	"testing"
)

// The lines of Myers & Eugster lie 0.1 to 0.6 above those of O'Neill
// between 1000 and 1140 °C, worked apart.
func TestSourcesOfOneBuffer(t *testing.T) {
	for _, pair := range [][2]string{{"iw", "iw_myers_eugster"}, {"qfi", "qif_myers_eugster"}, {"qfm_oneill", "qfm_myers_eugster"}} {
		first, ok := ByID(pair[0])
		other, also := ByID(pair[1])
		if !ok || !also {
			t.Fatalf("no buffers %v", pair)
		}
		for tc := 1000.0; tc <= 1140; tc += 20 {
			if d := at(t, other, tc) - at(t, first, tc); d < 0.05 || d > 0.65 {
				t.Errorf("%v at %v °C: %.3f above", pair, tc, d)
			}
		}
	}
	for _, b := range AllBuffers() {
		for _, o := range AllBuffers() {
			if b.Family != o.Family || b.Label == o.Label && b.Reaction == o.Reaction {
				continue
			}
			t.Errorf("%s and %s are one family but not one reaction", b.ID, o.ID)
		}
	}
}

// The pieces of O'Neill's iron–fayalite line meet within 50 J of oxygen
// potential.
func TestIronFayalitePiecesMeet(t *testing.T) {
	for _, T := range []float64{1042, 1184} {
		tc := T - zeroCelsius
		d := at(t, QuartzFayaliteIron(), tc+1e-7) - at(t, QuartzFayaliteIron(), tc-1e-7)
		if j := d * gasConstant * T * math.Ln10; math.Abs(j) > 50 {
			t.Errorf("jump of %.0f J at %v K", j, T)
		}
	}
}

// The order of the buffers at furnace temperatures, and that magnetite and
// haematite lie highest of the iron buffers (common practice).
func TestOrderOfAll(t *testing.T) {
	for tc := 900.0; tc <= 1180; tc += 20 {
		qfi, iw, nno, mh := at(t, QuartzFayaliteIron(), tc), at(t, IronWustite(), tc), at(t, NickelBunsenite(), tc), at(t, MagnetiteHaematite(), tc)
		wm, qfm := at(t, WustiteMagnetite(), tc), at(t, FayaliteMagnetite(), tc)
		if !(qfi < iw && iw < wm && wm < qfm && qfm < nno && nno < mh) {
			t.Errorf("%v °C: %v %v %v %v %v %v", tc, qfi, iw, wm, qfm, nno, mh)
		}
		bed := at(t, CharcoalGas(), tc)
		if !(bed < qfi) {
			t.Errorf("charcoal at %v °C does not reduce iron", tc)
		}
	}
}

func TestSpread(t *testing.T) {
	lo, hi, ns := IronWustite().Spread(1100)
	if ns.Failed() || !(hi-lo > 0.05 && hi-lo < 0.6) || lo > at(t, IronWustite(), 1100) || hi < at(t, IronWustite(), 1100) {
		t.Errorf("%v to %v, %v", lo, hi, ns)
	}
	// Only Myers & Eugster reach 1250 °C beside O'Neill & Pownceby.
	if _, _, ns := IronWustite().Spread(1250); ns[0].Message[0] != '3' && ns[0].Message[0] != '2' {
		t.Errorf("%v", ns)
	}
	if _, _, ns := FayaliteMagnetite().Spread(1300); strings.Join(ns.Codes(), " ") != "BUFFER_RANGE BUFFER_SOURCES" {
		t.Errorf("%v", ns)
	}
	if lo, hi, _ := CarbonMonoxide().Spread(1200); lo != hi {
		t.Errorf("one source spreads from %v to %v", lo, hi)
	}
	if _, _, ns := IronWustite().Spread(-300); !ns.Failed() {
		t.Error("no temperature has a spread")
	}
	if _, ok := ByID("unknown"); ok {
		t.Error("an unknown buffer is found")
	}
}
