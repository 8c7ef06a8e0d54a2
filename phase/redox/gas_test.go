package redox

import (
	"math"
	"testing"

	"smeltbook/assay/source/checkdata"
	"smeltbook/phase/internal/worked"
)

func formation(s Species, T float64) float64 {
	switch s {
	case CO:
		return CO.Gibbs(T) - Graphite.Gibbs(T) - O2.Gibbs(T)/2
	default:
		return CO2.Gibbs(T) - Graphite.Gibbs(T) - O2.Gibbs(T)
	}
}

// Against JANAF (Chase 1998, from memory, sure), the NIST WebBook
// (webbook.nist.gov: heats of formation −110.53 and −393.51 kJ/mol) and the
// same polynomials worked apart.
func TestGasData(t *testing.T) {
	const room = 298.15
	worked.Printed(t, "S of graphite", Graphite.Entropy(room), "5.734")
	co := (CO.Enthalpy(room) - Graphite.Enthalpy(room) - O2.Enthalpy(room)/2) / 1000
	co2 := (CO2.Enthalpy(room) - Graphite.Enthalpy(room) - O2.Enthalpy(room)) / 1000
	worked.Printed(t, "heat of formation of CO", co, "-110.529")
	worked.Printed(t, "heat of formation of CO2", co2, "-393.508")
	checkdata.Near(t, "CO, NIST", co, -110.53, 0.01)
	checkdata.Near(t, "CO2, NIST", co2, -393.51, 0.01)
	worked.Printed(t, "ΔGf of CO at 1000 K", formation(CO, 1000)/1000, "-200.286")
	worked.Printed(t, "ΔGf of CO2 at 1000 K", formation(CO2, 1000)/1000, "-395.860")
	checkdata.Near(t, "CO, JANAF", formation(CO, 1000)/1000, -200.275, 0.02)
	checkdata.Near(t, "CO2, JANAF", formation(CO2, 1000)/1000, -395.886, 0.04)
	worked.Printed(t, "Cp of graphite at 1000 K", Graphite.HeatCapacity(1000), "21.62")
	worked.Printed(t, "S of graphite at 1000 K", Graphite.Entropy(1000), "24.45")
	checkdata.Near(t, "Cp, JANAF", Graphite.HeatCapacity(1000), 21.61, 0.02)
	checkdata.Near(t, "S, JANAF", Graphite.Entropy(1000), 24.46, 0.02)
	checkdata.Near(t, "heat of formation of H2", H2.Enthalpy(room), 0, 5)
	// Heat capacity of hydrogen at 1000 K, JANAF (Chase 1998, from memory).
	checkdata.Near(t, "Cp of H2 at 1000 K", H2.HeatCapacity(1000), 30.2, 0.1)
	// Room-temperature entropies, CODATA (Cox, Wagman & Medvedev 1989, from memory).
	for s, want := range map[Species]float64{CO: 197.66, CO2: 213.785, O2: 205.152, N2: 191.609, H2O: 188.835, H2: 130.680} {
		tol := 0.06
		if s == N2 {
			tol = 0.1 // this set's nitrogen is an older fit from 300 K, 0.05 % low; no relation here uses it
		}
		checkdata.Near(t, "S of "+s.String(), s.Entropy(room), want, tol)
	}
}

// Both ranges of every substance meet at 1000 K, and heat capacity is the
// slope of enthalpy, entropy that of Gibbs energy with its sign.
func TestPolynomialsHangTogether(t *testing.T) {
	for s := range numSpecies {
		lo, hi := math.Nextafter(nasaSwitch, 0), float64(nasaSwitch)
		checkdata.Near(t, s.String()+" Gibbs energy at the join", s.Gibbs(lo), s.Gibbs(hi), 20)
		for _, T := range []float64{400, 900, 1200, 1600} {
			checkdata.Near(t, s.String()+" Cp", (s.Enthalpy(T+1)-s.Enthalpy(T-1))/2, s.HeatCapacity(T), 0.01)
			checkdata.Near(t, s.String()+" S", -(s.Gibbs(T+1)-s.Gibbs(T-1))/2, s.Entropy(T), 0.01)
		}
	}
}

// An older, independent set of straight lines (spreadsheet of T. Reed):
// 2C + O2 = 2CO −232.7 − 0.1679 T, C + O2 = CO2 −395.6 kJ.
func TestGasAgainstStraightLines(t *testing.T) {
	for _, T := range []float64{1200, 1400, 1600} {
		checkdata.Near(t, "2CO", 2*formation(CO, T)/1000, -232.7-0.1679*T, 7)
		checkdata.Near(t, "CO2", formation(CO2, T)/1000, -395.6, 2)
	}
}

// The lines of carbon, worked apart to three decimals.
func TestCarbonLines(t *testing.T) {
	for tc, want := range map[float64][2]string{1000: {"-18.385", "-19.306"}, 1100: {"-17.704", "-18.624"}, 1200: {"-17.111", "-18.031"}, 1300: {"-16.591", "-17.511"}} {
		worked.Printed(t, "C–CO", at(t, CarbonMonoxide(), tc), want[0])
		worked.Printed(t, "charcoal bed", at(t, CharcoalGas(), tc), want[1])
	}
	// All oxygen of dry air (3.773 N2 to one O2) as CO.
	checkdata.Near(t, "pressure of CO", CharcoalBed/Atmosphere, 1/(1+3.773/2), 0.001)
}

// Worked apart; and the balance measured by Boudouard in 1900 (0.39, 0.93 and
// 0.96 at 650, 800 and 925 °C), within his error of some per cent.
func TestBoudouard(t *testing.T) {
	for tc, want := range map[float64][2]string{650: {"0.425", "0.601"}, 700: {"0.616", "0.784"}, 800: {"0.888", "0.955"}, 900: {"0.973", "0.990"}, 925: {"0.981", "0.993"}, 1000: {"0.993", "0.9975"}} {
		for i, p := range []float64{Atmosphere, CharcoalBed} {
			got, err := Boudouard(tc, p)
			if err != nil {
				t.Fatal(err)
			}
			worked.Printed(t, "share of CO", got, want[i])
		}
	}
	for tc, measured := range map[float64]float64{650: 0.39, 800: 0.93, 925: 0.96} {
		got, err := Boudouard(tc, Atmosphere)
		if err != nil {
			t.Fatal(err)
		}
		checkdata.Near(t, "share of CO, measured", got, measured, 0.05)
	}
	half, err := Boudouard(669.7, Atmosphere)
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "half CO", half, 0.5, 0.0003)
	for T := 400.0; T < 2000; T += 50 { // both forms of the root are one
		x := boudouard(T, 1)
		k := math.Exp(-(2*CO.Gibbs(T) - Graphite.Gibbs(T) - CO2.Gibbs(T)) / (gasConstant * T))
		if !(x > 0 && x < 1) || math.Abs(x*x/(1-x)/k-1) > 1e-6 && k < 1e6 {
			t.Errorf("at %v K share %v, K %v", T, x, k)
		}
	}
}

// CO/CO2 in balance with buffers at 1200 °C, worked apart.
func TestGasOverBuffers(t *testing.T) {
	for _, tt := range []struct {
		b    Buffer
		want string
	}{{IronWustite(), "2.99"}, {FayaliteMagnetite(), "0.046"}, {CopperCuprite(), "0.0004"}} {
		r, err := GasRatio(at(t, tt.b, 1200), 1200)
		if err != nil {
			t.Fatal(err)
		}
		worked.Printed(t, tt.b.ID, r, tt.want)
		back, err := FromGas(r, 1200)
		if err != nil {
			t.Fatal(err)
		}
		checkdata.Near(t, "and back", back, at(t, tt.b, 1200), 1e-12)
	}
	line, err := GasLine(9)
	if err != nil {
		t.Fatal(err)
	}
	want, err := FromGas(9, 1250)
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "gas line", at(t, line, 1250), want, 1e-12)
}

func TestGasRefuses(t *testing.T) {
	for _, tt := range []struct{ ratio, tc float64 }{{0, 1200}, {-1, 1200}, {math.Inf(1), 1200}, {math.NaN(), 1200}, {1, -300}, {1, 9000}, {1, math.NaN()}} {
		if x, err := FromGas(tt.ratio, tt.tc); err == nil {
			t.Errorf("FromGas(%v, %v) = %v", tt.ratio, tt.tc, x)
		}
	}
	if _, err := GasRatio(math.NaN(), 1200); err == nil {
		t.Error("no oxygen potential has a gas")
	}
	if _, err := Boudouard(900, 0); err == nil {
		t.Error("no gas has a share of CO")
	}
	if _, err := Boudouard(5000, 1); err == nil {
		t.Error("5000 °C is in the data")
	}
	if _, err := GasLine(0); err == nil {
		t.Error("a gas line without CO")
	}
}

func TestIronLimit(t *testing.T) {
	iw := at(t, IronWustite(), 1200)
	got, ns, err := IronLimit(1200, 0.5, 0.1)
	if err != nil || len(ns) != 0 {
		t.Fatal(ns, err)
	}
	checkdata.Near(t, "limit", got, iw+2*math.Log10(0.5)+2, 1e-12)
	for _, bad := range [][2]float64{{0, 1}, {1.1, 1}, {1, 0}, {1, 2}, {math.NaN(), 1}} {
		if _, _, err := IronLimit(1200, bad[0], bad[1]); err == nil {
			t.Errorf("activities %v are accepted", bad)
		}
	}
}
