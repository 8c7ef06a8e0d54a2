package copper

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
	"smeltbook/assay/source/checkdata"
	"smeltbook/phase/redox"
)

// Unit activity of copper, capacity 35: worked apart from this program from
// the same law and the line of O'Neill & Pownceby 1993, two decimals.
func TestDissolvedAgainstWorkedTable(t *testing.T) {
	for _, row := range []struct{ logPO2, t1200, t1250, t1300 float64 }{
		{-12, 0.38, 0.32, 0.27},
		{-11, 0.67, 0.56, 0.48},
		{-10, 1.19, 1.00, 0.86},
		{-9, 2.11, 1.79, 1.53},
		{-8, 3.76, 3.18, 2.71},
		{-7, 6.69, 5.65, 4.83},
	} {
		for tc, want := range map[float64]float64{1200: row.t1200, 1250: row.t1250, 1300: row.t1300} {
			got, ns := Dissolved(tc, row.logPO2, 1, 35)
			checkdata.Near(t, "dissolved copper", got, want, 0.00501)
			if len(ns) != 0 {
				t.Errorf("%v °C, %v: %v", tc, row.logPO2, ns)
			}
			back, err := LogPO2(tc, got, 1, 35)
			if err != nil {
				t.Fatal(err)
			}
			checkdata.Near(t, "log pO2 from it", back, row.logPO2, 1e-12)
		}
	}
}

// Held at a buffer instead of a fixed oxygen potential, worked apart: 0.32 to
// 0.56 wt% at iron-wüstite and 1.5 to 2.4 one decade below quartz-fayalite-
// magnetite, 1150 to 1300 °C; copper now rises with temperature.
func TestDissolvedAtBuffers(t *testing.T) {
	last := 0.0
	for _, c := range []struct{ tc, iw, qfm float64 }{{1150, 0.32, 1.5}, {1300, 0.56, 2.4}} {
		iw, _ := redox.IronWustite().LogFO2(c.tc)
		got, _ := Dissolved(c.tc, iw, 1, 35)
		checkdata.Near(t, "at iron-wüstite", got, c.iw, 0.00501)
		if got <= last {
			t.Error("along a buffer dissolved copper rises with temperature")
		}
		last = got
		qfm, _ := redox.FayaliteMagnetite().LogFO2(c.tc)
		got, _ = Dissolved(c.tc, qfm-1, 1, 35)
		checkdata.Near(t, "below quartz-fayalite-magnetite", got, c.qfm, 0.0501)
	}
}

func TestOneTenthOfCopperMovesPotential(t *testing.T) {
	a, err := LogPO2(1250, 1.0, 1, 35)
	if err != nil {
		t.Fatal(err)
	}
	b, err := LogPO2(1250, 1.1, 1, 35)
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "difference", b-a, 0.17, 0.005)
	for _, bad := range [][3]float64{{0, 1, 35}, {-1, 1, 35}, {1, 0, 35}, {1, 1, 0}, {math.NaN(), 1, 35}} {
		if x, err := LogPO2(1250, bad[0], bad[1], bad[2]); err == nil {
			t.Errorf("LogPO2 of %v = %v, want an error", bad, x)
		}
	}
	if _, err := LogPO2(-300, 1, 1, 35); err == nil {
		t.Error("a temperature below absolute zero gives an oxygen potential")
	}
}

func TestWarnings(t *testing.T) {
	for _, tt := range []struct {
		tc, logPO2 float64
		code       string
		severity   source.Severity
	}{
		{1350, -9, "BUFFER_RANGE", source.Warning},
		{1050, -9, "BUFFER_RANGE", source.Warning},
		{1250, -12.5, "COPPER_PO2_RANGE", source.Note},
		{1250, -13.5, "COPPER_PO2_RANGE", source.Warning},
		{1250, -6.1, "COPPER_NOT_DILUTE", source.Warning},
	} {
		_, ns := Dissolved(tt.tc, tt.logPO2, 1, 35)
		if len(ns) != 1 || ns[0].Code != tt.code || ns[0].Severity != tt.severity {
			t.Errorf("%v °C, log pO2 %v: %v, want %s", tt.tc, tt.logPO2, ns, tt.code)
		}
	}
}

func wt(x, u float64) quantity.Quantity { return quantity.WithU(x, u, "wt%", "laboratory") }

func TestSplit(t *testing.T) {
	cond := UnderCopper(1250, -10, -9)
	// At 1250 °C the ends are 27/35 of 1.00 and 1.79 wt%.
	least, most := 27.0/35*1.00, 1.79
	tests := []struct {
		name      string
		total     quantity.Quantity
		dissolved Interval
		rest      Interval
		code      string
	}{
		{"much entrained", wt(5, 0.1), Interval{least, most}, Interval{5 - most, 5 - least}, "COPPER_NOT_DISSOLVED"},
		{"explained", wt(1.2, 0.05), Interval{least, 1.2}, Interval{0, 1.2 - least}, ""},
		{"too little", wt(0.3, 0.02), Interval{0.3, 0.3}, Interval{0, 0}, "COPPER_BELOW_EQUILIBRIUM"},
		{"too little, but not surely", wt(0.7, 0.1), Interval{0.7, 0.7}, Interval{0, 0}, ""},
		{"more than dissolved, but not surely", wt(1.9, 0.2), Interval{least, most}, Interval{1.9 - most, 1.9 - least}, ""},
		{"below detection", quantity.None(quantity.Below, 0.05, "wt%"), Interval{0, 0.05}, Interval{0, 0}, "COPPER_BELOW_EQUILIBRIUM"},
		{"none", wt(0, 0.01), Interval{0, 0}, Interval{0, 0}, "COPPER_BELOW_EQUILIBRIUM"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			l, err := Split(tt.total, cond)
			if err != nil {
				t.Fatal(err)
			}
			checkdata.Near(t, "dissolved from", l.Dissolved.Lo, tt.dissolved.Lo, 0.006)
			checkdata.Near(t, "dissolved to", l.Dissolved.Hi, tt.dissolved.Hi, 0.006)
			checkdata.Near(t, "rest from", l.Rest.Lo, tt.rest.Lo, 0.006)
			checkdata.Near(t, "rest to", l.Rest.Hi, tt.rest.Hi, 0.006)
			if got := strings.Join(l.Notices.Codes(), " "); got != tt.code {
				t.Errorf("notices %q, want %q", got, tt.code)
			}
			if len(l.RestMayBe) == 0 {
				t.Error("the rest has no causes")
			}
		})
	}
}

// The upper limit of the oxygen potential: at it, and with the low capacity,
// the slag would hold all its copper in solution; its uncertainty is that of
// the quarter power law.
func TestUpperLimit(t *testing.T) {
	l, err := Split(wt(0.5, 0.05), UnderCopper(1200, -12, -10))
	if err != nil {
		t.Fatal(err)
	}
	w, _ := Dissolved(1200, l.UpperLogPO2.Value, 1, 27)
	checkdata.Near(t, "copper at the limit", w, 0.5, 1e-12)
	checkdata.Near(t, "u", l.UpperLogPO2.U, 4*0.1/math.Ln10, 1e-12)
	none, err := Split(quantity.New(0, "wt%", "none"), UnderCopper(1200, -12, -10))
	if err != nil {
		t.Fatal(err)
	}
	if none.UpperLogPO2.Known() || none.UpperLogPO2.UNote == "" {
		t.Errorf("a limit from no copper: %+v", none.UpperLogPO2)
	}
}

func TestSplitRefuses(t *testing.T) {
	good := UnderCopper(1250, -10, -9)
	noActivity, noCapacity := good, good
	noActivity.Activity, noCapacity.Capacity = 0, Capacity{}
	for name, tt := range map[string]struct {
		q quantity.Quantity
		c Conditions
	}{
		"interval the wrong way":   {wt(1, 0.1), UnderCopper(1250, -9, -10)},
		"no temperature":           {wt(1, 0.1), UnderCopper(-400, -10, -9)},
		"no activity":              {wt(1, 0.1), noActivity},
		"no capacity":              {wt(1, 0.1), noCapacity},
		"not analysed":             {quantity.None(quantity.NotRun, math.NaN(), "wt%"), good},
		"below an unknown limit":   {quantity.None(quantity.NotFound, math.NaN(), "wt%"), good},
		"above the measured range": {quantity.None(quantity.Above, 10, "wt%"), good},
	} {
		if l, err := Split(tt.q, tt.c); err == nil {
			t.Errorf("%s: %+v, want an error", name, l)
		}
	}
}

// Whatever the slag and the furnace: nothing below zero, dissolved never above
// the total, the two intervals add up to the total at their ends.
func TestSplitProperties(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 1))
	for range 2000 {
		total := r.ExpFloat64() * 3
		lo := -14 + 9*r.Float64()
		l, err := Split(wt(total, 0.05*total), UnderCopper(1050+300*r.Float64(), lo, lo+3*r.Float64()))
		if err != nil {
			t.Fatal(err)
		}
		if l.Dissolved.Lo < 0 || l.Dissolved.Lo > l.Dissolved.Hi || l.Dissolved.Hi > total || l.Rest.Lo < 0 || l.Rest.Lo > l.Rest.Hi {
			t.Fatalf("impossible split of %v: %+v", total, l)
		}
		checkdata.Near(t, "greatest dissolved and least rest", l.Dissolved.Hi+l.Rest.Lo, total, 1e-12)
		checkdata.Near(t, "least dissolved and greatest rest", l.Dissolved.Lo+l.Rest.Hi, total, 1e-12)
	}
}

func TestTotalCopper(t *testing.T) {
	for text, want := range map[string]float64{
		"SiO2=30 Cu=1.2":         1.2,
		"SiO2=30 CuO=1.1":        0.879,
		"SiO2=30 Cu2O=1":         0.8882,
		"SiO2=30 CuO=1 Cu2O=1":   0.7989 + 0.8882,
		"SiO2=30 CuO=1 Cu=0.8":   0.7989,
		"SiO2=30 Cu=2 Cu_met=1 ": 2,
	} {
		c, err := chem.ParseComposition(text)
		if err != nil {
			t.Fatal(err)
		}
		q, ok := TotalCopper(c)
		if !ok {
			t.Errorf("%s: no copper", text)
		}
		checkdata.Near(t, text, q.Value, want, 0.0005)
	}
	c, err := chem.ParseComposition("SiO2=30")
	if err != nil {
		t.Fatal(err)
	}
	if q, ok := TotalCopper(c); ok {
		t.Errorf("copper from nowhere: %+v", q)
	}
}

func TestLimeFerriteDissolvesLess(t *testing.T) {
	a, b := UnderCopper(1250, -9, -9), UnderCopper(1250, -9, -9)
	b.Capacity = LimeFerrite()
	la, err := Split(wt(5, 0.1), a)
	if err != nil {
		t.Fatal(err)
	}
	lb, err := Split(wt(5, 0.1), b)
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "ratio of capacities", lb.Equilibrium.Hi/la.Equilibrium.Hi, 17.6/35, 1e-12)
	b.Capacity.Factor = 0.5
	half, err := Split(wt(5, 0.1), b)
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "factor", half.Equilibrium.Hi, lb.Equilibrium.Hi/2, 1e-12)
}
