package copper

import (
	"math"
	"strings"
	"testing"

	"smeltbook/assay/quantity"
	"smeltbook/assay/source/checkdata"
)

// By hand: an ore with 10 wt% Cu, 30 FeO, 20 SiO2 and a slag with 1 Cu, 45 FeO,
// 32 SiO2. FeO from the ore alone: at most 30/45 kg slag; SiO2 all to the slag:
// at least 20/32.
func TestSlagPerCopper(t *testing.T) {
	feo := Tracer{Name: "FeO", Ore: exactWt(30), Slag: exactWt(45), OnlyFromOre: true}
	sio2 := Tracer{Name: "SiO2", Ore: exactWt(20), Slag: exactWt(32), AllToSlag: true}
	y, err := SlagPerCopper(exactWt(10), exactWt(1), []Tracer{feo, sio2})
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "slag to ore from", y.SlagPerOre.Lo, 0.625, 1e-12)
	checkdata.Near(t, "slag to ore to", y.SlagPerOre.Hi, 2.0/3, 1e-12)
	checkdata.Near(t, "slag to copper from", y.SlagPerCopper.Lo, 0.625/(0.1-0.00625), 1e-12)
	checkdata.Near(t, "slag to copper to", y.SlagPerCopper.Hi, (2.0/3)/(0.1-0.02/3), 1e-12)
	checkdata.Near(t, "won from", y.Recovered.Lo, 1-0.2/3, 1e-12)
	checkdata.Near(t, "won to", y.Recovered.Hi, 1-0.0625, 1e-12)
	if len(y.Notices) != 0 || len(y.Tracers) != 2 {
		t.Errorf("%+v", y)
	}

	one, err := SlagPerCopper(exactWt(10), exactWt(1), []Tracer{sio2})
	if err != nil || !math.IsInf(one.SlagPerCopper.Hi, 1) || one.Notices[0].Code != "YIELD_NO_UPPER_END" || one.Recovered.Lo != 0 {
		t.Errorf("%+v, %v", one, err)
	}
	one, err = SlagPerCopper(exactWt(10), exactWt(1), []Tracer{feo})
	if err != nil || one.SlagPerCopper.Lo != 0 || one.Notices[0].Code != "YIELD_NO_LOWER_END" {
		t.Errorf("%+v, %v", one, err)
	}
	// An alumina that must be exact, and whose uncertainty widens.
	al := Tracer{Name: "Al2O3", Ore: wt(5, 0.1), Slag: wt(8, 0.2), OnlyFromOre: true, AllToSlag: true}
	one, err = SlagPerCopper(exactWt(10), exactWt(1), []Tracer{al})
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "from", one.SlagPerOre.Lo, 4.8/8.4, 1e-12)
	checkdata.Near(t, "to", one.SlagPerOre.Hi, 5.2/7.6, 1e-12)
	checkdata.Near(t, "the poorest ore cannot pay the richest slag", one.SlagPerCopper.Hi, (5.2/7.6)/(0.1-0.01*5.2/7.6), 1e-12)
}

func TestSlagPerCopperRefuses(t *testing.T) {
	feo := Tracer{Name: "FeO", Ore: exactWt(30), Slag: exactWt(45), OnlyFromOre: true}
	sio2 := Tracer{Name: "SiO2", Ore: exactWt(40), Slag: exactWt(32), AllToSlag: true}
	none := quantity.None(quantity.NotRun, math.NaN(), "wt%")
	for says, c := range map[string]func() error{
		"ore did not make this slag": func() error { _, err := SlagPerCopper(exactWt(10), exactWt(1), []Tracer{feo, sio2}); return err },
		"hold all the copper":        func() error { _, err := SlagPerCopper(exactWt(1), exactWt(2), []Tracer{sio2}); return err },
		"no tracer bounds": func() error {
			_, err := SlagPerCopper(exactWt(10), exactWt(1), []Tracer{{Name: "FeO", Ore: exactWt(1), Slag: exactWt(1)}})
			return err
		},
		"traces nothing": func() error {
			_, err := SlagPerCopper(exactWt(10), exactWt(1), []Tracer{{Name: "FeO", Ore: none, Slag: exactWt(1)}})
			return err
		},
		"copper of the ore":  func() error { _, err := SlagPerCopper(none, exactWt(1), []Tracer{feo}); return err },
		"copper of the slag": func() error { _, err := SlagPerCopper(exactWt(1), none, []Tracer{feo}); return err },
	} {
		if err := c(); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%v; want %q", err, says)
		}
	}
	y, err := SlagPerCopper(exactWt(1), wt(0.5, 0.1), []Tracer{{Name: "FeO", Ore: exactWt(50), Slag: exactWt(30), OnlyFromOre: true}})
	if err != nil || len(y.Notices) != 2 || y.Notices[1].Code != "YIELD_NO_COPPER" {
		t.Errorf("%+v, %v", y, err)
	}
}
