package furnace

import (
	"math"
	"testing"

	"smeltbook/assay/source/checkdata"
)

// A pit of 15 cm radius with 5 cm of clay (0.8 W/(m K)) in soil of 1.0, 1250 °C
// over 15 °C; the same without lining after an hour; an open top of 10 cm radius
// at 1000 °C; and the bed of 300 L/min between: worked apart.
func TestLosses(t *testing.T) {
	w, behind := SteadyLoss(0.15, 0.05, 0.8, 1, 1235)
	checkdata.Near(t, "steady", w, 1095, 0.5)
	checkdata.Near(t, "behind the clay", behind+15, 887, 0.5)
	checkdata.Near(t, "after an hour", SuddenLoss(0.15, 0.8, 5e-7, 1235, 3600), 2789, 0.5)
	checkdata.Near(t, "open top", Radiated(math.Pi*0.01, 0.9, 1000, 15), 4201, 0.5)
	checkdata.Near(t, "bed", SingleZoneTC(Normal(300, 15, 1.01325), 0.5, 1235/w, math.Pi*0.01, 0.9, 15)+zero, 1368, 0.5)
}

// In uniform dry earth the shells give the exact answer for half a sphere
// (Carslaw & Jaeger 1959, 9.10).
func TestConductAgainstExact(t *testing.T) {
	e := Earth{K: 0.8, Wet: 0.8, Heat: 1.6e6, Density: 1700}
	times := []float64{600, 3600, 4 * 3600, 24 * 3600}
	got, err := Conduct(0.2, 0.05, e, e, 1000, 15, times)
	if err != nil {
		t.Fatal(err)
	}
	for i, at := range times {
		want := SuddenLoss(0.2, e.K, e.K/e.Heat, 985, at)
		checkdata.Near(t, "flow", got[i].Watts, want, 0.02*want)
		// The integral over time.
		r := 0.2
		stored := 2 * math.Pi * r * r * e.K * 985 * (at/r + 2*math.Sqrt(at/(math.Pi*e.K/e.Heat)))
		checkdata.Near(t, "stored", got[i].Stored, stored, 0.02*stored)
	}
}

// After a week a thin lining in ground that conducts well is near the steady
// answer, and cannot be below it.
func TestConductTendsToSteady(t *testing.T) {
	ground := Earth{K: 2, Wet: 2, Heat: 1.2e6, Density: 1600}
	got, err := Conduct(0.05, 0.02, Clay(), ground, 1000, 15, []float64{7 * 24 * 3600})
	if err != nil {
		t.Fatal(err)
	}
	want, behind := SteadyLoss(0.05, 0.02, Clay().K, ground.K, 985)
	if r := got[0].Watts / want; r < 1 || r > 1.06 {
		t.Errorf("%g of the steady flow", r)
	}
	checkdata.Near(t, "behind the lining", got[0].BehindTC-15, behind, 0.08*behind)
}

// Ground just below boiling dries with a front at 2λ√(αt), λ exp(λ²) erf λ =
// St/√π (Stefan's problem; Carslaw & Jaeger 1959, 11.2), where the pit is so
// wide that its wall is flat.
func TestDryingAgainstStefan(t *testing.T) {
	e := Earth{K: 0.6, Wet: 0.6, Heat: 1.4e6, Density: 1600, Moisture: 0.15}
	const face = 600.0
	at := 6.0 * 3600
	got, err := Conduct(20, 0.05, e, e, face, boiling-1e-6, []float64{at})
	if err != nil {
		t.Fatal(err)
	}
	st := e.Heat * (face - boiling) / (e.Moisture * e.Density * latent)
	lo, hi := 0.0, 3.0
	for range 60 {
		l := (lo + hi) / 2
		if l*math.Exp(l*l)*math.Erf(l) < st/math.Sqrt(math.Pi) {
			lo = l
		} else {
			hi = l
		}
	}
	alpha := e.K / e.Heat
	front := 2 * lo * math.Sqrt(alpha*at)
	checkdata.Near(t, "front", got[0].DriedM, front, 0.05*front)
	stored := e.K * (face - boiling) / (math.Sqrt(math.Pi*alpha) * math.Erf(lo)) * 2 * math.Sqrt(at) * 2 * math.Pi * 400
	checkdata.Near(t, "heat that went in", got[0].Stored, stored, 0.04*stored)
}

// Wet ground takes more heat than damp, damp more than dry, and dries more slowly.
func TestDampTakesMore(t *testing.T) {
	var watts, dried []float64
	for _, name := range []string{"dry", "damp", "wet"} {
		got, err := Conduct(0.2, 0.03, Clay(), Grounds()[name], 1100, 15, []float64{3 * 3600})
		if err != nil {
			t.Fatal(err)
		}
		watts, dried = append(watts, got[0].Watts), append(dried, got[0].DriedM)
	}
	if !(watts[0] < watts[1] && watts[1] < watts[2]) || !(dried[0] > dried[1] && dried[1] > dried[2]) {
		t.Errorf("dry, damp, wet: %v W, dry to %v m", watts, dried)
	}
}

func TestConductRefuses(t *testing.T) {
	good := Grounds()["dry"]
	for name, call := range map[string]func() error{
		"no radius":  func() error { _, err := Conduct(0, 0.03, Clay(), good, 1000, 15, []float64{60}); return err },
		"cold face":  func() error { _, err := Conduct(0.2, 0.03, Clay(), good, 10, 15, []float64{60}); return err },
		"no times":   func() error { _, err := Conduct(0.2, 0.03, Clay(), good, 1000, 15, nil); return err },
		"a month":    func() error { _, err := Conduct(0.2, 0.03, Clay(), good, 1000, 15, []float64{3e6}); return err },
		"no earth":   func() error { _, err := Conduct(0.2, 0.03, Clay(), Earth{}, 1000, 15, []float64{60}); return err },
		"no clay":    func() error { _, err := Conduct(0.2, 0.03, Earth{}, good, 1000, 15, []float64{60}); return err },
		"not a time": func() error { _, err := Conduct(0.2, 0.03, Clay(), good, 1000, 15, []float64{math.NaN()}); return err },
	} {
		if call() == nil {
			t.Errorf("%s is accepted", name)
		}
	}
}
