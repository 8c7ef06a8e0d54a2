package balance

import (
	"math"
	"testing"

	"smeltbook/assay/quantity"
	"smeltbook/assay/source/checkdata"
)

// By hand: quartz with malachite (57.48 % Cu), fluxed with pure FeO to FeO/SiO2
// of 1.5 and 1 wt% Cu in the slag. An ore of 10 % Cu has 1 − 10/57.48 of quartz,
// two and a half times that in slag besides its Cu2O.
func TestGradeByHand(t *testing.T) {
	ore := material(t, "ore", 1, "SiO2=82.6 CuO=12.52 CO2=3.46 H2O=1.42")
	flux := material(t, "flux", 1, "FeO=100")
	how := behaviour(1, 1, 1, 0)
	g := Grading{Ore: ore, Mineral: 57.48, Flux: &flux, Want: Ratio{"FeO", "SiO2", 1.5}, How: how}
	got, err := g.At([]float64{5, 10, 30})
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range got {
		quartz := 0.826 * (1 - x.Grade/57.48) / (1 - 10.003/57.48)
		slag := 2.5 * quartz / (1 - 0.01*cu2oPerCu)
		checkdata.Near(t, "flux", x.Flux.Value, 1.5*quartz, 2e-4)
		checkdata.Near(t, "slag", x.Slag.Value, slag, 3e-4)
		checkdata.Near(t, "copper", x.Copper.Value, x.Grade/100-0.01*slag, 3e-5)
		checkdata.Near(t, "won", x.Won, 1-slag/x.Grade, 1e-4)
		checkdata.Near(t, "slag for a kg of copper", x.SlagPerCopper.Value, slag/(x.Grade/100-0.01*slag), 0.01)
		if x.High-x.Low > 1e-12 {
			t.Errorf("spread without any uncertainty: %+v", x)
		}
	}
	// No metal where grade = slag: g = s·(1 − g/m), s the slag of pure gangue.
	s := 2.5 * 0.826 / (1 - 10.003/57.48) / (1 - 0.01*cu2oPerCu)
	_, none, _, err := g.NoMetalBelow()
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "no metal below", none, s/(1+s/57.48), 1e-3)
}

// Self-fluxing ore takes no flux, richer ore always gives a greater share, and
// more copper in the slag needs richer ore.
func TestGradeProperties(t *testing.T) {
	ore := material(t, "ore", 1, "SiO2=48 Al2O3=4 Fe2O3=25 CuO=11 LOI=9")
	bog := material(t, "bog iron", 1, "SiO2=10 Fe2O3=73 LOI=10")
	ash := material(t, "ash", 0.08, "CaO=44 K2O=12.5 LOI=16")
	how := Usual()
	g := Grading{Ore: ore, Mineral: 57.48, Flux: &bog, Want: Ratio{"FeO", "SiO2", 1.4}, With: []Material{ash}, How: how}
	var grades []float64
	for x := 1.0; x < 50; x += 3 {
		grades = append(grades, x)
	}
	got, err := g.At(grades)
	if err != nil {
		t.Fatal(err)
	}
	for i, x := range got {
		if x.Low > x.Won || x.Won > x.High || x.Low < 0 || x.High > 1 {
			t.Errorf("%+v", x)
		}
		if i > 0 && (x.Won < got[i-1].Won || x.Flux.Value > got[i-1].Flux.Value) {
			t.Errorf("richer ore gives less or needs more flux: %+v after %+v", x, got[i-1])
		}
	}
	lo, mid, hi, err := g.NoMetalBelow()
	if err != nil || !(lo < mid && mid < hi) {
		t.Errorf("%g %g %g %v", lo, mid, hi, err)
	}
	rich := g
	rich.How.CopperInSlag = quantity.WithU(2, 0.5, "wt%", "")
	if _, more, _, err := rich.NoMetalBelow(); err != nil || more <= mid {
		t.Errorf("no metal below %g with 2 wt%% in the slag, %g with 1 (%v)", more, mid, err)
	}
	none := g
	none.Want.Value = 0.1
	if x, err := none.At([]float64{10}); err != nil || x[0].Flux.Value != 0 {
		t.Errorf("flux for an ore with iron enough: %+v %v", x, err)
	}
	for name, bad := range map[string]Grading{
		"no copper":          {Ore: material(t, "sand", 1, "SiO2=99"), Mineral: 57.48, How: how},
		"richer than cu":     {Ore: material(t, "metal", 1, "CuO=95"), Mineral: 57.48, How: how},
		"no analysis":        {Ore: Material{Name: "ore"}, Mineral: 57.48, How: how},
		"no ratio":           {Ore: ore, Mineral: 57.48, Flux: &bog, How: how},
		"nothing of furnace": {Ore: ore, Mineral: 57.48},
	} {
		if _, err := bad.At([]float64{5}); err == nil {
			t.Errorf("%s is accepted", name)
		}
	}
	if _, err := g.At([]float64{60}); err == nil {
		t.Error("an ore richer than its mineral is accepted")
	}
	if math.IsNaN(mid) {
		t.Error("no number")
	}
}

// The reactions of a charge are what the Monte Carlo of grades repeats.
func BenchmarkGrade(b *testing.B) {
	ore := material(b, "ore", 1, "SiO2=60 Al2O3=8 FeO=6 CaO=2 K2O=2 CuO=16 LOI=6")
	flux := material(b, "flux", 1, "FeO=80 SiO2=8 Al2O3=3 LOI=9")
	g := Grading{Ore: ore, Mineral: 57.48, Flux: &flux, Want: Ratio{"FeO", "SiO2", 1.4}, How: Usual()}
	for b.Loop() {
		if _, err := g.At([]float64{5, 15, 25}); err != nil {
			b.Fatal(err)
		}
	}
}
