package heat

import (
	"math"
	"strings"
	"testing"

	"smeltbook/assay/source/checkdata"
)

// Carbon burnt with dry air at 25 °C, worked apart from this program from the
// NASA polynomials without dissociation: heat in MJ/kg C and temperature.
func TestBurningAgainstWorkedTable(t *testing.T) {
	for _, row := range []struct{ y, heat, flame float64 }{
		{0, 32.76, 2183}, {0.25, 26.87, 2041}, {0.5, 20.98, 1854}, {0.75, 15.09, 1597}, {1, 9.20, 1219},
	} {
		checkdata.Near(t, "heat", Released(row.y), row.heat, 0.00501)
		checkdata.Near(t, "flame", FlameTC(row.y), row.flame, 2)
	}
}

// Heat contents against values of handbooks (from memory, two figures): liquid
// fayalitic slag at 1200 to 1300 °C holds 1.3 to 1.6 MJ/kg, copper just molten
// 0.67 MJ/kg (0.46 solid and 0.21 of melting).
func TestHeatContents(t *testing.T) {
	slag, err := Need(Charge{Slag: 1}, 1250)
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "slag", slag.Value, 1.45, 0.15)
	checkdata.Near(t, "its u", slag.U, 0.1*slag.Value, 1e-12)
	checkdata.Near(t, "copper", copperHeat(copperMelting), 0.67, 0.01)
	checkdata.Near(t, "melting of copper", 13.26/63.546, 0.21, 0.005)
}

// Reactions by their textbook heats (from memory): calcite 178 kJ/mol, ferric
// to ferrous oxide by carbon 170 kJ/mol, water 44 kJ/mol; copper oxide by carbon
// 47 kJ/mol.
func TestReactions(t *testing.T) {
	for name, c := range map[string]struct {
		charge Charge
		kJ     float64
	}{
		"lime-stone":   {Charge{Carbonic: 44.009e-3}, 178.3},
		"ferric oxide": {Charge{Ferric: 2 * 55.845e-3}, 169.7},
		"water":        {Charge{Water: 18.015e-3}, 44.0},
		"copper oxide": {Charge{Oxide: 63.546e-3}, 46.8},
		"malachite":    {Charge{Carbonate: 2 * 63.546e-3}, 104.1 + 2*46.8},
	} {
		q, err := Need(c.charge, 1200)
		if err != nil {
			t.Fatal(err)
		}
		checkdata.Near(t, name, 1000*q.Value, c.kJ, 0.2)
	}
}

func TestCharcoal(t *testing.T) {
	u, err := Bed().Useful()
	if err != nil || u <= 0 || u >= 0.8*Released(0.5) {
		t.Errorf("useful %g, %v", u, err)
	}
	need, err := Need(Charge{Slag: 1, Copper: 0.2}, 1250)
	if err != nil {
		t.Fatal(err)
	}
	q, err := Bed().Charcoal(need)
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "charcoal", q.Value, need.Value/u, 1e-12)
	// A bed that burns wholly to CO and lets its gas go at the heat of the
	// flame gives nothing.
	if _, err := (Fuel{0.8, 1, 1300}).Charcoal(need); err == nil || !strings.Contains(err.Error(), "no heat") {
		t.Errorf("%v", err)
	}
	for name, f := range map[string]Fuel{"carbon": {1.2, 0.5, 800}, "monoxide": {0.8, 2, 800}, "gas": {0.8, 0.5, math.NaN()}} {
		if _, err := f.Useful(); err == nil {
			t.Errorf("%s is accepted", name)
		}
	}
	for _, tc := range []float64{900, 1500, math.NaN()} {
		if _, err := Need(Charge{Slag: 1}, tc); err == nil {
			t.Errorf("%g °C is accepted", tc)
		}
	}
	if _, err := Need(Charge{Slag: -1}, 1200); err == nil {
		t.Error("less than no slag is accepted")
	}
}
