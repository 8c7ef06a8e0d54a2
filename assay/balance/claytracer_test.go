package balance

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source/checkdata"
)

func parse(t testing.TB, text string) chem.Composition {
	t.Helper()
	c, err := chem.ParseComposition(text)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// The crucible fabric PB-13 of Wątroba 2012 (MSc dissertation, UCL).
const pb13 = "MgO=0.5 Al2O3=25.5 SiO2=67.3 K2O=2.8 TiO2=0.6 FeO=1.8"

func wtq(x, u float64) quantity.Quantity { return quantity.WithU(x, u, "wt%", "laboratory") }

// A slag mixed of clay and of what ore and flux give has the share it was
// mixed with, by every tracer; the uncertainty is that of drawing.
func TestShareOfMixture(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 1))
	for range 200 {
		f := r.Float64()
		var tracers []Tracer
		for _, name := range []string{"Al2O3", "TiO2"} {
			clay, rest := 10+20*r.Float64(), 3*r.Float64()
			tracers = append(tracers, Tracer{name, wtq(f*clay+(1-f)*rest, 0.1), wtq(rest, 0.05), wtq(clay, 0.3)})
		}
		s, err := ShareOfClay(tracers...)
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range s.Each {
			checkdata.Near(t, e.Name, e.Share.Value, f, 1e-12)
		}
		checkdata.Near(t, "disagreement", s.Disagreement, 0, 1e-9)
		if s.Low > f || s.High < f || s.Low < 0 || s.High > 1 {
			t.Errorf("%v not in %v to %v", f, s.Low, s.High)
		}
	}
	one := Tracer{"Al2O3", wtq(8, 0.2), wtq(2, 0.1), wtq(22, 0.5)}
	s, err := ShareOfClay(one)
	if err != nil {
		t.Fatal(err)
	}
	const draws = 100_000
	var sum, sum2 float64
	for range draws {
		a, b, c := 8+0.2*r.NormFloat64(), 2+0.1*r.NormFloat64(), 22+0.5*r.NormFloat64()
		d := (a-b)/(c-b) - 0.3
		sum += d
		sum2 += d * d
	}
	sd := math.Sqrt(sum2/draws - sum*sum/draws/draws)
	checkdata.Near(t, "u", s.Each[0].Share.U, sd, 0.02*sd)
	if !math.IsNaN(s.Disagreement) {
		t.Error("one tracer disagrees with itself")
	}
}

func TestTracersDisagree(t *testing.T) {
	s, err := ShareOfClay(Tracer{"Al2O3", wtq(8, 0.1), wtq(0, 0), wtq(20, 0.1)}, Tracer{"TiO2", wtq(0.2, 0.01), wtq(0, 0), wtq(1, 0.01)})
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "disagreement", s.Disagreement, 0.2/0.3, 1e-9)
	if strings.Join(s.Notices.Codes(), " ") != "CLAY_TRACERS_DISAGREE" || !strings.Contains(s.Notices[0].Message, "20 to 40 %") {
		t.Errorf("%v", s.Notices)
	}
	s, err = ShareOfClay(Tracer{"Al2O3", wtq(1, 0.1), wtq(3, 0.1), wtq(20, 0.1)})
	if err != nil || strings.Join(s.Notices.Codes(), " ") != "CLAY_SHARE_IMPOSSIBLE" || s.Low != 0 || s.High != 0 {
		t.Errorf("%+v, %v", s, err)
	}
	below := quantity.None(quantity.Below, 0.3, "wt%")
	s, err = ShareOfClay(Tracer{"TiO2", wtq(0.4, 0.01), below, wtq(1, 0.01)})
	if err != nil || s.Each[0].Share.Value != 0.4 {
		t.Errorf("%+v, %v", s, err)
	}
	checkdata.Near(t, "u of a rest below its limit", s.Each[0].Share.U, math.Sqrt(0.01*0.01+0.36*0.03+0.16*1e-4), 1e-9)
	none := quantity.None(quantity.NotRun, math.NaN(), "wt%")
	for what, tr := range map[string][]Tracer{
		"no tracer":    {},
		"no slag":      {{"TiO2", none, wtq(0, 0), wtq(1, 0)}},
		"no rest":      {{"TiO2", wtq(1, 0), none, wtq(1, 0)}},
		"no contrast":  {{"TiO2", wtq(1, 0), wtq(1, 0), wtq(1, 0)}},
		"negative wt%": {{"TiO2", wtq(-1, 0), wtq(0, 0), wtq(1, 0)}},
	} {
		if s, err := ShareOfClay(tr...); err == nil {
			t.Errorf("%s: %+v", what, s)
		}
	}
}

func TestShareFromAnalyses(t *testing.T) {
	slag, clay := parse(t, "SiO2=34 Al2O3=6.8 TiO2=0.2 K2O=1.2 FeO=49"), parse(t, pb13)
	s, err := ShareOfClayFrom(slag, chem.Composition{}, clay)
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "by alumina", s.Each[0].Share.Value, 6.8/25.5, 1e-12)
	checkdata.Near(t, "by titania", s.Each[1].Share.Value, 0.2/0.6, 1e-12)
	if strings.Join(s.Notices.Codes(), " ") != "FUEL_ASH" {
		t.Errorf("%v", s.Notices)
	}
	s, err = ShareOfClayFrom(slag, parse(t, "SiO2=30 Al2O3=2 FeO=60"), clay)
	if err != nil || len(s.Each) != 1 || strings.Join(s.Notices.Codes(), " ") != "CLAY_TRACER_MISSING FUEL_ASH" {
		t.Errorf("%+v, %v", s, err)
	}
	if _, err := ShareOfClayFrom(slag, chem.Composition{}, parse(t, "SiO2=100")); err == nil {
		t.Error("a clay without tracers")
	}
}

// 20 kg of charcoal with 3 % ash of 57 % CaO bring 0.34 kg CaO, worked apart.
func TestFuelAsh(t *testing.T) {
	in, err := FromFuel(quantity.WithU(20, 0.2, "kg", "scales"), quantity.WithU(0.03, 0.003, "1", "ashed"),
		Ash{Name: "own", Composition: parse(t, "CaO=57 K2O=10"), Source: "laboratory", Verified: true})
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "ash", in.Ash.Value, 0.6, 1e-12)
	checkdata.Near(t, "u", in.Ash.U, 0.6*math.Hypot(0.01, 0.1), 1e-12)
	checkdata.Near(t, "CaO", in.Parts[0].Kg.Value, 0.34, 0.005)
	if in.Parts[0].ID != "CaO" || strings.Join(in.Notices.Codes(), " ") != "ASH_VOLATILE" {
		t.Errorf("%+v", in)
	}
	for _, a := range ExampleAshes() {
		in, err := FromFuel(quantity.New(20, "kg", ""), quantity.New(0.08, "1", ""), a)
		if err != nil || strings.Join(in.Notices.Codes(), " ") != "ASH_SHARE_UNUSUAL ASH_UNVERIFIED ASH_VOLATILE" || len(in.Parts) != 7 {
			t.Errorf("%+v, %v", in, err)
		}
		sum := 0.0
		for _, p := range in.Parts {
			sum += p.Kg.Value
		}
		checkdata.Near(t, a.Name+" oxides to ash", sum/in.Ash.Value, 1, 0.06)
	}
	good := ExampleAshes()[0]
	for _, bad := range []func() error{
		func() error {
			_, err := FromFuel(quantity.None(quantity.NotRun, 0, "kg"), wtq(0.03, 0), good)
			return err
		},
		func() error { _, err := FromFuel(wtq(20, 0), wtq(3, 0), good); return err },
		func() error { _, err := FromFuel(wtq(20, 0), wtq(-0.03, 0), good); return err },
		func() error { _, err := FromFuel(wtq(20, 0), wtq(0.03, 0), Ash{}); return err },
	} {
		if bad() == nil {
			t.Error("accepted")
		}
	}
}
