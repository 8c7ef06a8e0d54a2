package hearth_test

import (
	"strings"
	"testing"

	"smeltbook/assay/source/checkdata"
	"smeltbook/phase/hearth"
)

// The error function complement as tabulated in Carslaw & Jaeger 1959,
// appendix II (from memory), as temperatures of a wall of one degree.
func TestTemperature(t *testing.T) {
	for x, want := range map[float64]float64{0.1: 0.887537, 0.2: 0.777297, 0.5: 0.479500, 0.8: 0.257899, 1: 0.157299, 1.5: 0.033895, 2: 0.004678} {
		checkdata.Near(t, "erfc", hearth.Temperature(x, 1, 1, 0), want, 5e-7)
		checkdata.Near(t, "depth", hearth.Depth(want, 1, 1, 0), x, 2e-4)
	}
	// A face is at its temperature; far away nothing has come yet.
	checkdata.Near(t, "face", hearth.Temperature(0, 100, 1200, 15), 1200, 1e-9)
	checkdata.Near(t, "far", hearth.Temperature(1e4, 100, 1200, 15), 15, 1e-9)
	// 2√(0.5 mm²/s · 2 h) = 120 mm.
	checkdata.Near(t, "hours", hearth.Hours(120, 0.5), 2, 1e-12)
}

// Borders made by a face of 1300 °C and a reach of 120 mm give both back, with
// the truth inside the limits.
func TestFit(t *testing.T) {
	var bs []hearth.Border
	for _, m := range hearth.Marks() {
		bs = append(bs, hearth.Border{Layer: m.Layer, Depth: hearth.Depth((m.Low+m.High)/2, 120, 1300, 15), U: 1.5})
	}
	p, err := hearth.Fit(bs, hearth.Marks(), hearth.Assumed{GroundTC: 15, Diffusivity: [2]float64{0.5, 0.5}})
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "face", p.FaceTC.Value, 1300, 10)
	checkdata.Near(t, "reach", p.Reach.Value, 120, 3)
	checkdata.Near(t, "hours", p.Hours.Value, 2, 0.1)
	if !(p.FaceTC.Low < 1300 && p.FaceTC.High > 1300 && p.Reach.Low < 120 && p.Reach.High > 120) || p.Misfit > 0.1 {
		t.Errorf("%+v", p)
	}
	if s := p.Between(40); !(s.Low < s.Value && s.Value < s.High) {
		t.Errorf("%+v", s)
	}
	// Time and diffusivity are one number: half the one, twice the other.
	q, err := hearth.Fit(bs, hearth.Marks(), hearth.Assumed{GroundTC: 15, Diffusivity: [2]float64{0.25, 0.25}})
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "hours at half the diffusivity", q.Hours.Value, 2*p.Hours.Value, 1e-9)
	if _, err := hearth.Fit(bs[:1], hearth.Marks(), hearth.Assumed{GroundTC: 15, Diffusivity: [2]float64{0.5, 0.5}}); err == nil {
		t.Error("one border fixes two numbers")
	}
	thin, err := hearth.Fit(bs, hearth.Marks(), hearth.Assumed{GroundTC: 15, Diffusivity: [2]float64{0.5, 0.5}, Thickness: 60, Diameter: 200})
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(thin.Notices.Codes(), " "); got != "WALL_THIN WALL_CURVED" {
		t.Errorf("notices %s", got)
	}
	// A border deeper than a colder one cannot be.
	bs[0].Depth, bs[1].Depth = 70, 20
	odd, err := hearth.Fit(bs, hearth.Marks(), hearth.Assumed{GroundTC: 15, Diffusivity: [2]float64{0.5, 0.5}})
	if err != nil {
		t.Fatal(err)
	}
	if odd.Misfit < 10 {
		t.Errorf("misfit %g", odd.Misfit)
	}
}
