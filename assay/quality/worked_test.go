package quality

import (
	"math"
	"strings"
	"testing"

	"smeltbook/assay/source/checkdata"
)

// Q01. Formulas ISO 13528, as on the NIST Dataplot pages; SiO2 of SL-1 with its
// 95 % half width from the CCRMP certificate (seen).
func TestScoresOfALaboratoryOnSL1(t *testing.T) {
	c := Certified{PlusMinus: 0.13, Kind: CI95}
	u, _ := c.U()
	checkdata.Near(t, "u of SL-1", u, 0.065, 1e-12)
	s := ScoresOf(36.10, 0.20, 35.73, u, 0.25)
	checkdata.Near(t, "z", s.Z, 1.480, 0.002)
	checkdata.Near(t, "zeta", s.Zeta, 1.759, 0.002)
	checkdata.Near(t, "En", s.En, 0.880, 0.002)
	// Taking the interval for a standard uncertainty makes the score too small.
	if wrong := ScoresOf(36.10, 0.20, 35.73, 0.13, 0.25); wrong.Zeta >= s.Zeta {
		t.Errorf("zeta with the interval as u is %g, not below %g", wrong.Zeta, s.Zeta)
	}
	checkdata.Near(t, "z′", s.ZPrime, 0.37/math.Hypot(0.25, 0.065), 1e-12)
}

// Q02. Rule of Linsinger, ERM Application Note 1, 2005 (from memory, sure), on
// copper of CCU-1f (certificate seen).
func TestBiasOnCCU1f(t *testing.T) {
	u, _ := Certified{PlusMinus: 0.08, Kind: CI95}.U()
	b := BiasOf(23.41, 0.09/math.Sqrt(6), 23.33, u)
	checkdata.Near(t, "delta", b.Delta, 0.08, 0.001)
	checkdata.Near(t, "u of the mean", 0.09/math.Sqrt(6), 0.0367, 0.0001)
	checkdata.Near(t, "U", 2*b.U, 0.1086, 0.001)
	if b.Significant {
		t.Error("the bias is called significant")
	}
}

// Q03.
func TestRecovery(t *testing.T) {
	b := BiasOf(20.41, 0.1, 20.66, 0.035)
	checkdata.Near(t, "recovery", b.Recovery, 98.79, 0.01)
	checkdata.Near(t, "its u", b.URecovery, 98.79*math.Hypot(0.1/20.41, 0.035/20.66), 0.001)
}

// Q04: AOAC Appendix D, Table D1 (seen).
func TestHorwitz(t *testing.T) {
	for c, want := range map[float64]float64{1: 2, 0.01: 4, 1e-4: 8, 1e-6: 16, 1e-8: 32} {
		checkdata.Near(t, "PRSD", PRSD(c), want, 0.01)
	}
}

// Q05: Thompson 2000, Analyst 125:385 (from memory, sure).
func TestHorwitzModified(t *testing.T) {
	for c, want := range map[float64]float64{0.5: 0.007071, 0.01: 0.0004000, 1e-6: 1.5997e-7, 1e-8: 2.2e-9} {
		checkdata.Near(t, "sigma", HorwitzSD(c)/want, 1, 1e-4)
	}
	for _, c := range []float64{0, -1, 1.1, math.NaN()} {
		if s := HorwitzSD(c); !math.IsNaN(s) {
			t.Errorf("sigma of the mass fraction %g is %g", c, s)
		}
	}
	checkdata.Near(t, "target at 50 wt%", Target(50), 0.7071, 0.0001)
}

// Q06: copper of OREAS 502c between laboratories (certificate seen); rule 0.5
// to 2.0 of AOAC (seen).
func TestHorRat(t *testing.T) {
	rsd := 100 * 0.022 / 0.783
	checkdata.Near(t, "RSD", rsd, 2.810, 0.002)
	checkdata.Near(t, "PRSD", PRSD(0.00783), 4.150, 0.002)
	checkdata.Near(t, "HorRat", HorRat(rsd, 0.00783), 0.677, 0.002)
}

// Q07: numbers constructed, formula Thompson & Howarth 1976.
func TestPairs(t *testing.T) {
	p, ok := PrecisionOf([]Repeats{{1.02, 1.06}, {0.98, 0.95}, {1.10, 1.03}, {0.87, 0.91}, {1.21, 1.15}})
	if !ok || p.Groups != 5 || p.DoF != 5 {
		t.Fatalf("%+v %v", p, ok)
	}
	checkdata.Near(t, "sd", p.SD, 0.03550, 1e-4)
	checkdata.Near(t, "robust sd", p.RobustSD, 0.04193, 1e-4)
	checkdata.Near(t, "repeatability limit", RepeatabilityLimit(p.SD), 2.8*0.03550, 3e-4)
}

// Q08: Thompson & Howarth 1978, Journal of Geochemical Exploration 9:23 (from
// memory, sure).
func TestControlLinesOfPairs(t *testing.T) {
	s := PrecisionLine{S0: 0.02, K: 0.03}.At(1.5)
	checkdata.Near(t, "sd", s, 0.065, 1e-12)
	tenth, hundredth := ControlLines(s)
	checkdata.Near(t, "90 % line", tenth, 0.1512, 5e-4)
	checkdata.Near(t, "99 % line", hundredth, 0.2368, 5e-4)
}

// Q09: Currie 1995, Pure and Applied Chemistry 67:1699 (factors from memory, sure).
func TestDetection(t *testing.T) {
	d := DetectionOf(0.004, 0, true)
	checkdata.Near(t, "LC paired", d.Critical, 0.00930, 2e-5)
	checkdata.Near(t, "LD paired", d.Detection, 0.01861, 2e-5)
	checkdata.Near(t, "LQ paired", d.Quantification, 0.05657, 2e-5)
	d = DetectionOf(0.004, 0, false)
	checkdata.Near(t, "LC", d.Critical, 0.00658, 2e-5)
	checkdata.Near(t, "LD", d.Detection, 0.01316, 2e-5)
	// Student's t for 5 degrees of freedom, one side 95 %: 2.015 (any table of t).
	checkdata.Near(t, "LC of six blanks", DetectionOf(0.004, 6, false).Critical, 2.015*0.004, 1e-6)
}

// Q11: York 1966, Canadian Journal of Physics 44:1079, Pearson's points; values
// from the test file of LinearFitXYerrors.jl (seen), recomputed.
func TestYorkOnPearson(t *testing.T) {
	xs, ys := pearson()
	wx := []float64{1000, 1000, 500, 800, 200, 80, 60, 20, 1.8, 1}
	wy := []float64{1, 1.8, 4, 8, 20, 20, 70, 70, 100, 500}
	var points []Point
	for i := range xs {
		points = append(points, Point{X: xs[i], Y: ys[i], UX: 1 / math.Sqrt(wx[i]), UY: 1 / math.Sqrt(wy[i])})
	}
	l, err := York(points)
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "a", l.A, 5.47991022, 1e-6)
	checkdata.Near(t, "b", l.B, -0.48053341, 1e-6)
	checkdata.Near(t, "s(a)", l.UA, 0.29497, 1e-5)
	checkdata.Near(t, "s(b)", l.UB, 0.05799, 1e-5)
	checkdata.Near(t, "cov", l.Cov, -0.016473, 1e-6)
	checkdata.Near(t, "S", l.MSWD*8, 11.8664, 1e-4)
	checkdata.Near(t, "MSWD", l.MSWD, 1.48329, 1e-5)
	checkdata.Near(t, "scaled s(a)", l.Scaled().UA, 0.35925, 1e-5)
	checkdata.Near(t, "scaled s(b)", l.Scaled().UB, 0.07062, 1e-5)
}

func pearson() (xs, ys []float64) {
	return []float64{0, .9, 1.8, 2.6, 3.3, 4.4, 5.2, 6.1, 6.5, 7.4}, []float64{5.9, 5.4, 4.4, 4.6, 3.5, 3.7, 2.8, 2.8, 2.4, 1.5}
}

// Q12: the same points unweighted; the pair for lambda 1 is also the classical
// major axis result (Pearson 1901).
func TestDeming(t *testing.T) {
	xs, ys := pearson()
	for lambda, want := range map[float64][2]float64{1: {5.784044, -0.545561}, 4: {5.768026, -0.541368}, 0.25: {5.815915, -0.553905}} {
		l, err := Deming(xs, ys, lambda)
		if err != nil {
			t.Fatal(err)
		}
		checkdata.Near(t, "a", l.A, want[0], 1e-5)
		checkdata.Near(t, "b", l.B, want[1], 1e-5)
	}
	l, err := Ordinary(xs, ys)
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "ordinary a", l.A, 5.761185, 1e-5)
	checkdata.Near(t, "ordinary b", l.B, -0.539577, 1e-5)
}

// Q13: Amen 2012 Table 3.1; see testdata/quality.
func TestYorkWithCorrelatedErrors(t *testing.T) {
	var points []Point
	for _, r := range checkdata.Table(t, "quality/york_amen.csv") {
		points = append(points, Point{X: checkdata.Number(t, r["x"]), Y: checkdata.Number(t, r["y"]), UX: math.Sqrt(checkdata.Number(t, r["var_x"])),
			UY: math.Sqrt(checkdata.Number(t, r["var_y"])), Cov: checkdata.Number(t, r["cov_xy"])})
	}
	l, err := York(points)
	if err != nil {
		t.Fatal(err)
	}
	l = l.Scaled()
	checkdata.Near(t, "a", l.A, -21.9553309, 1e-5)
	checkdata.Near(t, "b", l.B, 1.1762289, 1e-5)
	checkdata.Near(t, "scaled s(a)", l.UA, 1.28461, 1e-5)
	checkdata.Near(t, "scaled s(b)", l.UB, 0.057826, 1e-5)
}

// Table 22 of Wątroba 2012 (seen): recoveries and relative deviations worked
// from the printed numbers apart from this program.
func TestBHVO2UnderTheMicroscope(t *testing.T) {
	totals := map[string]float64{}
	for _, r := range checkdata.Table(t, "quality/bhvo2_eds.csv") {
		mean, sd := checkdata.Number(t, r["mean_found"]), checkdata.Number(t, r["sd_found"])
		b := BiasOf(mean, sd, checkdata.Number(t, r["certified_as_printed"]), math.NaN())
		checkdata.Near(t, r["oxide"]+" recovery", b.Recovery, checkdata.Number(t, r["recovery_pct"]), 0.051)
		checkdata.Near(t, r["oxide"]+" RSD", 100*sd/mean, checkdata.Number(t, r["rsd_pct"]), 0.0051)
		totals[r["series"]] = checkdata.Number(t, r["raw_total_mean"])
		// Silica was 5 % high in every series, far beyond what its ± allows, and
		// potash right within it.
		c, ok := CertificateOf("BHVO-2", nil)
		if !ok {
			t.Fatal("no certificate of BHVO-2")
		}
		v, _ := c.For(strings.Replace(r["oxide"], "FeO", "FeOT", 1), "", "")
		u, _ := v.U()
		s := ScoresOf(mean, sd, v.Value, u, Target(v.Value))
		biased := BiasOf(mean, sd, v.Value, u).Significant
		switch r["oxide"] {
		case "SiO2":
			if !biased || MarkZ(s.Z) != MarkAct || MarkZ(s.ZPrime) != MarkWarn || MarkEn(s.En) != MarkAct {
				t.Errorf("series %s: silica of %g is not marked: %+v", r["series"], mean, s)
			}
		case "K2O":
			if biased || MarkZ(s.ZPrime) != MarkFine {
				t.Errorf("series %s: potash of %g is marked: %+v", r["series"], mean, s)
			}
		}
	}
	for series, want := range map[string]TotalVerdict{"1": TotalRefused, "2": TotalAccepted, "3": TotalGood} {
		if got := AreaScan().Judge(totals[series], totals[series]); got != want {
			t.Errorf("series %s, total %g: %s, want %s", series, totals[series], got, want)
		}
	}
}

// Copper in slag, three shifts of seven furnaces: Levy 1912, Modern Copper
// Smelting, Table VII (seen). The printed shift averages are 0.35, 0.30 and
// 0.30, to the next 0.05; the pooled deviation was worked apart.
func TestLevySlagCopper(t *testing.T) {
	furnaces := []Repeats{{.30, .30, .30}, {.30, .35, .25}, {.30, .30, .35}, {.45, .30, .25}, {.30, .40, .35}, {.30, .20, .20}, {.35, .25, .30}}
	for shift, want := range []float64{0.35, 0.30, 0.30} {
		var of Repeats
		for _, f := range furnaces {
			of = append(of, f[shift])
		}
		checkdata.Near(t, "shift average", math.Round(of.Mean()*20)/20, want, 1e-9)
	}
	p, _ := PrecisionOf(furnaces)
	checkdata.Near(t, "sd between shifts", p.SD, 0.0566947, 1e-6)
	if p.DoF != 14 {
		t.Errorf("%d degrees of freedom, want 14", p.DoF)
	}
}
