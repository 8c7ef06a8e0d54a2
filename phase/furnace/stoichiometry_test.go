package furnace

import (
	"math"
	"testing"

	"smeltbook/assay/source/checkdata"
	"smeltbook/phase/internal/worked"
)

// Carbon burnt with dry air, worked apart from this program from the NASA
// polynomials: kg and m³ (0 °C, 1 atm) of air for a kg of carbon, and the
// temperature of the flame with air of 25 and of 300 °C.
func TestAirForCarbon(t *testing.T) {
	for _, row := range []struct {
		y         float64
		kg, cubic string
		cold, hot float64
	}{
		{0, "11.511", "8.907", 2183, 2378}, {0.25, "10.072", "7.794", 2041, 2234}, {0.5, "8.633", "6.681", 1854, 2046},
		{0.75, "7.194", "5.567", 1597, 1788}, {1, "5.755", "4.454", 1219, 1411},
	} {
		kg, cubic := AirForCarbon(row.y)
		checkdata.Near(t, "air, "+row.kg, kg, checkdata.Number(t, row.kg), 0.0016)
		checkdata.Near(t, "air, "+row.cubic, cubic, checkdata.Number(t, row.cubic), 0.0011)
		for tc, want := range map[float64]float64{25: row.cold, 300: row.hot} {
			got, err := FlameTC(row.y, tc)
			if err != nil {
				t.Fatal(err)
			}
			checkdata.Near(t, "flame", got, want, 2)
		}
	}
	if _, err := FlameTC(1.2, 25); err == nil {
		t.Error("more than all carbon goes to CO")
	}
}

// Burning rates, worked apart: 100 L/min at 0 °C burn 0.674 kg of carbon in an
// hour to CO2, 1.347 to CO; 300 L/min at 15 °C 1.92 and 3.83.
func TestBurntByAir(t *testing.T) {
	worked.Printed(t, "to CO2", BurntByAir(100, 0), "0.674")
	worked.Printed(t, "to CO", BurntByAir(100, 1), "1.347")
	free := Normal(300, 15, 1.01325)
	worked.Printed(t, "to CO2", BurntByAir(free, 0), "1.92")
	worked.Printed(t, "to CO", BurntByAir(free, 1), "3.83")
}

// A fire of dry wood with just its air: 4.3 to 4.7 m³ of air a kilogram, and a
// flame of some 2000 °C where nothing else takes heat (handbooks of wood fuel,
// from memory).
func TestWood(t *testing.T) {
	air := (1 + woodH/4 - woodO/2) / oxygenShare * molarVolume / (woodMass / 1000)
	checkdata.Near(t, "air for wood", air, 4.5, 0.2)
	dry, err := Wood(0, 1)
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "dry wood", dry.TC, 2000, 100)
	if !math.IsNaN(dry.LogPO2) {
		t.Errorf("a gas without CO and oxygen has log pO2 %g", dry.LogPO2)
	}
	// Atoms of carbon are conserved; every mole of gas is one of six.
	for _, x := range [][2]float64{{0.2, 0.5}, {0.4, 0.8}, {0.2, 2}} {
		w, err := Wood(x[0], x[1])
		if err != nil {
			t.Fatal(err)
		}
		c := w.CO + w.CO2
		nitrogen := x[1] * (1 + woodH/4 - woodO/2) * (1 - oxygenShare) / oxygenShare * c
		checkdata.Near(t, "shares", w.CO+w.CO2+w.H2+w.H2O+w.Free+nitrogen, 1, 1e-9)
	}
	// Moist wood in an open fire, with twice its air (common practice): not hot
	// enough for slag before wall or sky have had anything, and with free oxygen
	// in its gas, in which copper burns.
	open, err := Wood(0.2, 2)
	if err != nil {
		t.Fatal(err)
	}
	if open.TC > 1200 || open.Free < 0.05 || open.LogPO2 < -2 {
		t.Errorf("an open fire: %+v", open)
	}
	// As much oxygen as turns all its carbon to CO comes with the wood itself.
	checkdata.Near(t, "its own oxygen", open.Own, 1, 0.05)
	for _, x := range [][2]float64{{-0.1, 1}, {0.7, 1}, {0.2, 0}, {0.2, math.NaN()}} {
		if _, err := Wood(x[0], x[1]); err == nil {
			t.Errorf("wood %v burns", x)
		}
	}
}
