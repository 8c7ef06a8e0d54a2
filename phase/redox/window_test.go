package redox

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"smeltbook/assay/source/checkdata"
	"smeltbook/phase/internal/worked"
	"smeltbook/phase/slag"
)

func window(t *testing.T, w slag.Wt, tc float64, e Evidence) Window {
	t.Helper()
	win, err := WindowOf(w, tc, e)
	if err != nil {
		t.Fatal(err)
	}
	return win
}

func TestWindow(t *testing.T) {
	w := worked.Melt(t, worked.PB31).Wt
	bed, cu, iw := at(t, CharcoalGas(), 1200), at(t, CopperCuprite(), 1200), at(t, IronWustite(), 1200)
	half := w.Mol()[slag.FeO] / 2

	none := window(t, w, 1200, Evidence{})
	checkdata.Near(t, "charcoal bounds from below", none.Low, bed, 1e-12)
	if !math.IsInf(none.High, 1) || none.FromHigh != -1 {
		t.Errorf("an upper end from nothing: %+v", none)
	}
	metal := window(t, w, 1200, Evidence{CopperMetal: Present, IronMetal: Absent})
	checkdata.Near(t, "copper metal", metal.High, cu, 1e-12)
	checkdata.Near(t, "no iron metal", metal.Low, iw+2*math.Log10(half), 1e-12)
	if !strings.Contains(metal.Bounds[metal.FromHigh].Reason, "copper metal") || !strings.Contains(metal.Bounds[metal.FromLow].Reason, "no iron metal") {
		t.Errorf("reasons %+v", metal)
	}
	alloy := window(t, w, 1200, Evidence{CopperMetal: Present, CopperActivity: 0.5})
	checkdata.Near(t, "impure copper lets more oxygen in", alloy.High-cu, 4*math.Log10(2), 1e-12)
	iron := window(t, w, 1200, Evidence{IronMetal: Present, FeOActivity: [2]float64{0.3, 0.5}})
	checkdata.Near(t, "iron metal", iron.High, iw+2*math.Log10(0.5), 1e-12)
	checkdata.Near(t, "its lower end stays that of charcoal", iron.Low, bed, 1e-12)
	absent := window(t, w, 1200, Evidence{CopperMetal: Absent})
	if !math.IsInf(absent.High, 1) {
		t.Error("copper metal that is absent bounds nothing: it may have sunk")
	}
}

// Ferric iron narrows the window where it fits and is left out, with a word,
// where firm observations exclude it.
func TestFerricIronInWindow(t *testing.T) {
	w := worked.Melt(t, worked.PB31).Wt
	fits, err := SplitIron(w, 1200, -9)
	if err != nil {
		t.Fatal(err)
	}
	e := Evidence{CopperMetal: Present, IronMetal: Absent, FerricShare: [2]float64{0.8 * fits.FerricShare, 1.2 * fits.FerricShare}}
	win := window(t, w, 1200, e)
	if !(win.Low < -9 && win.Low > -11 && win.High > -9 && win.High < -8) || !strings.Contains(strings.Join(win.Notices.Codes(), " "), "IRON_AFTER_COOLING") {
		t.Errorf("%+v", win)
	}
	e.FerricShare = [2]float64{0.3, 0.4} // weathered
	win = window(t, w, 1200, e)
	checkdata.Near(t, "upper end as if not analysed", win.High, at(t, CopperCuprite(), 1200), 1e-12)
	if !strings.Contains(strings.Join(win.Notices.Codes(), " "), "OXYGEN_BOUND_IGNORED") || win.Contradicted {
		t.Errorf("%+v", win)
	}
	e.FerricShare = [2]float64{0, 0.02}
	if win = window(t, w, 1200, e); !math.IsInf(win.Bounds[3].Low, -1) {
		t.Errorf("an upper limit of ferric iron bounds from below: %+v", win)
	}
}

func TestContradiction(t *testing.T) {
	a := Bound{Low: -9, High: -8, Reason: "one thing"}
	b := Bound{Low: -12, High: -10, Reason: "another"}
	w := Join(1200, a, b, Bound{Low: -9.5, High: -9.4, Soft: true})
	if !w.Contradicted || strings.Join(w.Notices.Codes(), " ") != "OXYGEN_CONTRADICTION" {
		t.Fatalf("%+v", w)
	}
	for _, s := range []string{"one thing", "another", "−9.0", "−10.0", "1200 °C"} {
		if !strings.Contains(w.Notices[0].Message, s) {
			t.Errorf("%q lacks %q", w.Notices[0].Message, s)
		}
	}
}

func TestWindowRefuses(t *testing.T) {
	w := worked.Melt(t, worked.PB31).Wt
	for what, e := range map[string]Evidence{
		"activity of copper":    {CopperMetal: Present, CopperActivity: 2},
		"activity of FeO":       {IronMetal: Absent, FeOActivity: [2]float64{0, 2}},
		"FeO the wrong way":     {IronMetal: Present, FeOActivity: [2]float64{0.6, 0.3}},
		"ferric share above 1":  {FerricShare: [2]float64{0.1, 1.2}},
		"ferric the wrong way":  {FerricShare: [2]float64{0.2, 0.1}},
		"a share below nothing": {FerricShare: [2]float64{-0.2, 0.1}},
	} {
		if _, err := WindowOf(w, 1200, e); err == nil {
			t.Errorf("%s is accepted", what)
		}
	}
	if _, err := WindowOf(slag.Wt{slag.SiO2: 100}, 1200, Evidence{IronMetal: Absent}); err == nil {
		t.Error("iron metal beside a slag without iron")
	}
	if _, err := WindowOf(w, -300, Evidence{}); err == nil {
		t.Error("no temperature")
	}
}

func TestDiagram(t *testing.T) {
	lines, err := Diagram(DiagramSettings{})
	if err != nil {
		t.Fatal(err)
	}
	var ids []string
	for _, l := range lines {
		ids = append(ids, l.ID)
		if len(l.Points) != 51 || l.Points[0].TC != 900 || l.Points[50].TC != 1400 || l.Label == "" || l.Source == "" {
			t.Errorf("%+v", l)
		}
		for _, p := range l.Points {
			if math.IsNaN(p.LogFO2) || p.LogFO2 > 2 || p.LogFO2 < -30 {
				t.Errorf("%s: %+v", l.ID, p)
			}
		}
		if l.Alternative {
			t.Errorf("%s is another source", l.ID)
		}
	}
	want := []string{"qfi", "iw", "wm", "qfm", "nno", "cu_cu2o", "mh", "c_co", "charcoal_bed", "co_co2_1", "co_co2_10", "co_co2_100"}
	if !slices.Equal(ids, want) {
		t.Errorf("lines %v", ids)
	}
	wm := lines[2].Points
	if !wm[30].Inside || wm[31].Inside {
		t.Error("the line of wüstite and magnetite ends at 1200 °C")
	}
	more, err := Diagram(DiagramSettings{Lo: 1000, Hi: 1195, Step: 50, GasRatios: []float64{}, Alternatives: true})
	if err != nil {
		t.Fatal(err)
	}
	others := 0
	for _, l := range more {
		if l.Alternative {
			others++
		}
		if last := l.Points[len(l.Points)-1]; last.TC != 1195 || len(l.Points) != 5 {
			t.Errorf("%s ends at %+v", l.ID, last)
		}
	}
	if others != 8 || len(more) != 7+8+2 {
		t.Errorf("%d lines, %d other sources", len(more), others)
	}
	for _, bad := range []DiagramSettings{{Lo: 1200, Hi: 1000}, {Lo: 900, Hi: 1400, Step: -1}, {Lo: -200, Hi: 1000}, {GasRatios: []float64{0}}, {Lo: 900, Hi: 1400, Step: 1e-9}} {
		if _, err := Diagram(bad); err == nil {
			t.Errorf("%+v is drawn", bad)
		}
	}
}

// More evidence never widens the window, and the window lies inside every firm
// bound unless they contradict each other.
func TestWindowNarrows(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 1))
	contradicted := 0
	for range 2000 {
		var bounds []Bound
		last := Join(1200)
		for range 5 {
			lo := -14 + 8*r.Float64()
			bounds = append(bounds, Bound{Low: lo, High: lo + 6*r.Float64(), Reason: "a thing", Soft: r.IntN(3) == 0})
			w := Join(1200, bounds...)
			if w.Contradicted {
				contradicted++
				break
			}
			if w.Low > w.High || len(w.Reasons()) == 0 {
				t.Fatalf("%+v", w)
			}
			for _, b := range bounds {
				if !b.Soft && (w.Low < b.Low || w.High > b.High) {
					t.Fatalf("%+v is wider than %+v", w, b)
				}
			}
			if firm := !bounds[len(bounds)-1].Soft; firm && allFirm(bounds) && (w.Low < last.Low || w.High > last.High) {
				t.Fatalf("%+v is wider than %+v", w, last)
			}
			last = w
		}
	}
	if contradicted == 0 || contradicted == 2000 {
		t.Errorf("%d of 2000 contradicted", contradicted)
	}
}

func allFirm(bounds []Bound) bool {
	return !slices.ContainsFunc(bounds, func(b Bound) bool { return b.Soft })
}
