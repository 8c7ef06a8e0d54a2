package report

import (
	"math"
	"strings"
	"testing"

	"smeltbook/assay"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
	"smeltbook/assay/summary"
	"smeltbook/report/page"
	"smeltbook/report/study"
)

func TestCellsOfQuantities(t *testing.T) {
	for _, tt := range []struct {
		name      string
		q         quantity.Quantity
		text, sub string
		class     page.Class
		inLine    string
	}{
		{"with uncertainty", quantity.WithU(45.904, 0.13, "wt%", ""), "45.90", "± 0.13", page.Ordinary, "45.90 ± 0.13"},
		{"negative", quantity.WithU(-9.171, 0.019, "1", ""), quantity.Minus + "9.171", "± 0.019", page.Ordinary, quantity.Minus + "9.171 ± 0.019"},
		{"below detection", quantity.None(quantity.Below, 0.0034, "wt%"), "< 0.0034", "", page.Censored, "< 0.0034"},
		{"not determined", quantity.None(quantity.Missing, math.NaN(), "wt%"), quantity.None(quantity.Missing, math.NaN(), "wt%").Text(), "", page.Absent, quantity.None(quantity.Missing, math.NaN(), "wt%").Text()},
	} {
		c := cellOf(tt.q)
		if c.Text != tt.text || c.Sub != tt.sub || c.Class != tt.class {
			t.Errorf("%s: %q, below %q, class %q", tt.name, c.Text, c.Sub, c.Class)
		}
		if got := inOneLine(c); got.Text != tt.inLine || got.Sub != "" {
			t.Errorf("%s: in one line %q, below %q", tt.name, got.Text, got.Sub)
		}
	}
}

func TestSamePlaces(t *testing.T) {
	nan := math.NaN()
	for _, tt := range []struct{ left, right, wantLeft, wantRight float64 }{
		{0.48, 2.3, 0.48, 0.48},
		{2.3, 0.48, 0.48, 0.48},
		{120, 19, 19, 19},
		{120, 1.9, 120, 1.9}, // decimals of a temperature known to a hundred degrees mean nothing
		{0.3, 0, 0.3, 0},
		{0.3, nan, 0.3, nan},
	} {
		l, r := samePlaces(tt.left, tt.right)
		same := func(a, b float64) bool { return a == b || math.IsNaN(a) && math.IsNaN(b) }
		if !same(l, tt.wantLeft) || !same(r, tt.wantRight) {
			t.Errorf("%g and %g are rounded by %g and %g, want %g and %g", tt.left, tt.right, l, r, tt.wantLeft, tt.wantRight)
		}
	}
}

// The decimals of a row agree on both pages.
func TestRowOfASpread(t *testing.T) {
	group := func(values ...float64) assay.Group {
		g := assay.Group{Name: "g"}
		for _, v := range values {
			s := &assay.Sample{}
			s.Total.Measured = v
			g.Samples = append(g.Samples, s)
		}
		return g
	}
	v := study.Variable{Key: "x", Label: "Al2O3, molar", Unit: "wt%", Of: func(s *assay.Sample) quantity.Quantity {
		return quantity.WithU(s.Total.Measured, 0.01, "wt%", "")
	}}
	row := spreadRow(v, pair{group(5, 5.5, 6), group(8, 12, 10)})
	if row.Name != "Al₂O₃, molar" {
		t.Errorf("the row is called %q", row.Name)
	}
	// By hand: 5.5 with s = 0.5; 10 with s = 2, to the same two decimals.
	if l, r := row.Left[0].Text, row.Right[0].Text; l != "5.50 ± 0.50" || r != "10.00 ± 2.00" {
		t.Errorf("means %q and %q", l, r)
	}
	// By hand: difference −4.5, u = √(0.25/3 + 4/3) = 1.19.
	if d := row.Difference; d.Text != quantity.Minus+"4.5 ± 1.2" || d.Class != page.Clear {
		t.Errorf("difference %q of class %q, want a clear one", d.Text, d.Class)
	}
	if d := differenceCell(v, summary.Difference{Value: 2, U: 1.01, Low: -1, High: 5, DoF: 4}, 0); d.Class != page.Ordinary {
		t.Errorf("a difference below twice its uncertainty is of class %q", d.Class)
	}
}

// measured is a group of samples that hold these values as their totals.
func measured(values ...float64) (g assay.Group) {
	for _, v := range values {
		s := &assay.Sample{}
		s.Total.Measured = v
		g.Samples = append(g.Samples, s)
	}
	return g
}

// A model's error that all pieces share does not shrink with their number: the
// mean has it once, a difference of means has two ends.
func TestSharedErrorOfAModel(t *testing.T) {
	v := study.Variable{Key: "t", Label: "liquidus", Unit: "°C", Model: func([]*assay.Sample) float64 { return 60 },
		Of: func(s *assay.Sample) quantity.Quantity {
			return quantity.WithU(s.Total.Measured, math.Hypot(60, 8), "°C", "")
		}}
	a, c := measured(1130, 1140, 1150), measured(1180, 1190, 1200)
	// By hand: s = 10, so u = √(60² + 10²/3) = 60.3, and not √(60² + 60.5²/3) = 69.4.
	q := groupQuantity("mean", v, v.Apart().Summary(a.Samples), a.Samples)
	if math.Abs(q.U-60.28) > 0.01 {
		t.Errorf("u of the mean is %g", q.U)
	}
	// By hand: scatter alone √(2·10²/3) = 8.2; with two independent errors √(8.2² + 2·60²) = 85.2.
	d := spreadRow(v, pair{a, c}).Difference
	if d.Text != quantity.Minus+"50 ± 8.2–85" || d.Class != page.Ordinary {
		t.Errorf("difference %q of class %q", d.Text, d.Class)
	}
}

// The same of values that differ by factors.
func TestSharedErrorOfAModelByFactors(t *testing.T) {
	v := study.Variable{Key: "eta", Label: "viscosity", Unit: "Pa·s", Log: true,
		Model: func(samples []*assay.Sample) float64 { return samples[0].Total.Measured * math.Ln2 },
		Of: func(s *assay.Sample) quantity.Quantity {
			return quantity.WithU(s.Total.Measured, s.Total.Measured*math.Hypot(math.Ln2, 0.3), "Pa·s", "")
		}}
	a, c := measured(1, 2, 4), measured(4, 8, 16)
	// By hand: s = ln 2, so u = √(ln²2 + ln²2/3) = 0.800 and the factor 2.23.
	logs := v.Logs()
	if q := groupQuantity("mean", logs, logs.Summary(a.Samples), a.Samples); math.Abs(q.U-0.8004) > 1e-4 {
		t.Errorf("u of the mean is %g", q.U)
	}
	// By hand: scatter alone √(2 ln²2/3) = 0.566, a factor of 1.76; with two
	// independent errors √(0.566² + 2 ln²2) = 1.132, a factor of 3.10.
	row := spreadRow(v, pair{a, c})
	if d := row.Difference; d.Text != "× 0.25 ×/÷ 1.8–3.1" || d.Class != page.Ordinary || d.Note != twoEnds {
		t.Errorf("difference %q of class %q: %s", d.Text, d.Class, d.Note)
	}
	if l := row.Left[0]; l.Text != "2.0 ×/÷ 2.0" || !strings.Contains(l.Note, "shared by all, is a factor of 2.0") {
		t.Errorf("mean %q: %s", l.Text, l.Note)
	}
	// Four times the band apart: ln 64 is more than twice 1.132.
	if d := spreadRow(v, pair{a, measured(64, 128, 256)}).Difference; d.Class != page.Clear {
		t.Errorf("difference %q of class %q, want a clear one", d.Text, d.Class)
	}
	// Pieces that agree by chance are known no better than their analyses, 0.3/√2
	// each: the model's share is taken out once, not twice.
	if d := logs.Difference(measured(2, 2).Samples, measured(8, 8).Samples); math.Abs(d.U-0.3) > 1e-9 {
		t.Errorf("u of the difference of like pieces is %g", d.U)
	}
	if got := strings.Join(factorGutter(v, pair{a, c}), "|"); !strings.HasSuffix(got, "× 0.25|×/÷ 1.8–3.1") || !strings.Contains(got, "2.0 Pa·s|×/÷ 2.2") {
		t.Errorf("between the pages stands %q", got)
	}
}

// Pieces with one value have no scatter, and that is said.
func TestRowOfPiecesAllAlike(t *testing.T) {
	v := study.Variable{Key: "x", Label: "x", Unit: "wt%", Of: func(s *assay.Sample) quantity.Quantity {
		return quantity.New(0.51573, "wt%", "")
	}}
	g := assay.Group{Samples: []*assay.Sample{{}, {}}}
	other := assay.Group{Samples: []*assay.Sample{{}, {}}}
	row := spreadRow(v, pair{g, other})
	if row.Left[0].Text != "0.52" || row.Left[1].Text != "all alike" || row.Difference.Note == "" {
		t.Errorf("%+v", row)
	}
}

func TestColumnHead(t *testing.T) {
	for label, want := range map[string][2]string{
		"(CaO+MgO)/(SiO2+Al2O3)":            {"(CaO+MgO)/(SiO₂+Al₂O₃)", ""},
		"silicate degree, alumina left out": {"silicate degree", "alumina left out"},
		"FeO/SiO2, all iron as FeO":         {"FeO/SiO₂", "all iron as FeO"},
	} {
		if head, sub := columnHead(label); head != want[0] || sub != want[1] {
			t.Errorf("%q: %q, below %q", label, head, sub)
		}
	}
}

func TestUncertaintiesOfFirings(t *testing.T) {
	ore := assay.RunField{Name: "Ore", Unit: "kg"}
	for _, tt := range []struct {
		f    assay.RunField
		want bool
	}{
		{assay.RunField{Name: "±", Unit: "kg"}, true},
		{assay.RunField{Name: "±"}, true},
		{assay.RunField{Name: "Ore ±", Unit: "kg"}, true},
		{assay.RunField{Name: "+/- ore", Unit: "kg"}, true},
		{assay.RunField{Name: "±", Unit: "%"}, false},
		{assay.RunField{Name: "Flux ±", Unit: "kg"}, false},
		{assay.RunField{Name: "Flux", Unit: "kg"}, false},
	} {
		if got := tt.f.IsUncertaintyOf(ore); got != tt.want {
			t.Errorf("%q in %q is the uncertainty of the ore: %v", tt.f.Name, tt.f.Unit, got)
		}
	}
	if (assay.RunField{Name: "±"}).IsUncertaintyOf(assay.RunField{}) {
		t.Error("a sign without a value before it was taken for an uncertainty")
	}
	c := page.Cell{Text: "5.00", Note: "a"}
	run := assay.Run{Fields: []assay.RunField{{}}}
	addUncertainty(&c, run, 0)
	if c.Sub != "" {
		t.Errorf("an empty cell gave %q", c.Sub)
	}
	run.Fields[0].Cell.Text = "0.02"
	run.Fields[0].Cell.At = source.Cell{File: "field/runs.xlsx", Ref: "D7"}
	addUncertainty(&c, run, 0)
	if c.Sub != "± 0.02" || c.Note != "a; ± from "+run.Fields[0].Cell.At.String() {
		t.Errorf("below %q, note %q", c.Sub, c.Note)
	}
}
