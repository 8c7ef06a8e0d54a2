package redox

import (
	"math"
	"testing"
)

func at(t *testing.T, b Buffer, tc float64) float64 {
	t.Helper()
	x, ns := b.LogFO2(tc)
	if ns.Failed() {
		t.Fatalf("%s at %v °C: %v", b.ID, tc, ns)
	}
	return x
}

// The lines of the named sources, worked apart from this program to three
// decimals.
func TestBuffersAgainstWorkedTable(t *testing.T) {
	table := []struct{ tc, iw, qfm, wm, cu float64 }{
		{1000, -14.870, -10.977, -12.756, -6.230},
		{1100, -13.290, -9.541, -10.880, -5.220},
		{1200, -11.929, -8.301, -9.258, -4.233},
		{1300, -10.745, -7.218, -7.842, -3.558},
	}
	for _, row := range table {
		for _, c := range []struct {
			b    Buffer
			want float64
		}{{IronWustite(), row.iw}, {FayaliteMagnetite(), row.qfm}, {WustiteMagnetite(), row.wm}, {CopperCuprite(), row.cu}} {
			if got := at(t, c.b, row.tc); math.Abs(got-c.want) > 0.00051 {
				t.Errorf("%s at %v °C = %.4f, want %.3f", c.b.ID, row.tc, got, c.want)
			}
		}
	}
}

func TestLiquidCopperOxide(t *testing.T) {
	b := LiquidCopperOxide()
	for tc, want := range map[float64]float64{1100: -4.776, 1150: -4.438, 1200: -4.124, 1250: -3.832, 1300: -3.558} {
		if got := at(t, b, tc); math.Abs(got-want) > 0.00051 {
			t.Errorf("log pO2* at %v °C = %.4f, want %.3f", tc, got, want)
		}
	}
	// Per mole CuO0.5(l): ΔG = RT ln10 · log pO2* / 4, worked apart in kJ/mol.
	for tc, want := range map[float64]float64{1100: -31.39, 1150: -30.23, 1200: -29.08, 1250: -27.93, 1300: -26.79} {
		got := gasConstant * (tc + zeroCelsius) * math.Ln10 * at(t, b, tc) / 4000
		if math.Abs(got-want) > 0.0051 {
			t.Errorf("ΔG at %v °C = %.3f kJ/mol, want %.2f", tc, got, want)
		}
	}
}

// Both forms of the copper line are one above the melting of Cu2O, and the
// stable line has no jump where something melts.
func TestCopperLineIsContinuous(t *testing.T) {
	if a, b := at(t, CopperCuprite(), 1280), at(t, LiquidCopperOxide(), 1280); a != b {
		t.Errorf("%v, %v", a, b)
	}
	for _, melts := range []float64{copperMelts, cupriteMelts} {
		tc := melts - zeroCelsius
		if d := at(t, CopperCuprite(), tc+1e-6) - at(t, CopperCuprite(), tc-1e-6); math.Abs(d) > 1e-6 {
			t.Errorf("jump of %v at %v °C", d, tc)
		}
	}
}

// The pieces of O'Neill & Pownceby's iron line meet, as the transitions of
// iron (Curie point 1042 K, α–γ 1184 K) leave the free energy continuous.
func TestIronPiecesMeet(t *testing.T) {
	for _, T := range []float64{1042, 1184} {
		tc := T - zeroCelsius
		if d := at(t, IronWustite(), tc+1e-6) - at(t, IronWustite(), tc-1e-6); math.Abs(d) > 0.005 {
			t.Errorf("jump of %v at %v K", d, T)
		}
	}
}

// Two independent sources of one buffer, and the order of the buffers:
// iron-wüstite below wüstite-magnetite below quartz-fayalite-magnetite below
// copper-cuprite at furnace temperatures (common practice).
func TestSourcesAgreeAndBuffersAreOrdered(t *testing.T) {
	for tc := 800.0; tc <= 1140; tc += 20 {
		if d := at(t, FayaliteMagnetite(), tc) - at(t, FayaliteMagnetiteONeill(), tc); math.Abs(d) > 0.3 {
			t.Errorf("two sources of QFM differ by %.2f at %v °C", d, tc)
		}
	}
	for tc := 900.0; tc <= 1300; tc += 50 {
		iw, wm, qfm, cu := at(t, IronWustite(), tc), at(t, WustiteMagnetite(), tc), at(t, FayaliteMagnetite(), tc), at(t, CopperCuprite(), tc)
		if !(iw < wm && wm < qfm && qfm < cu) {
			t.Errorf("order at %v °C: %v %v %v %v", tc, iw, wm, qfm, cu)
		}
	}
}

func TestRangeWarnings(t *testing.T) {
	for _, b := range []Buffer{IronWustite(), FayaliteMagnetite(), FayaliteMagnetiteONeill(), WustiteMagnetite(), CopperCuprite(), LiquidCopperOxide()} {
		if _, ns := b.LogFO2((b.LoC + b.HiC) / 2); len(ns) != 0 {
			t.Errorf("%s warns inside its range: %v", b.ID, ns)
		}
		for _, tc := range []float64{b.LoC - 1, b.HiC + 1} {
			if _, ns := b.LogFO2(tc); len(ns) != 1 || ns[0].Code != "BUFFER_RANGE" {
				t.Errorf("%s at %v °C: %v", b.ID, tc, ns)
			}
		}
		if x, ns := b.LogFO2(-300); !math.IsNaN(x) || !ns.Failed() {
			t.Errorf("%s below absolute zero: %v %v", b.ID, x, ns)
		}
		if b.ID == "" || b.Label == "" || b.Reaction == "" || b.Source == "" {
			t.Errorf("incomplete: %+v", b)
		}
	}
	if CopperCuprite().Derivation() == "" || IronWustite().Derivation() != "" {
		t.Error("derivations")
	}
}
