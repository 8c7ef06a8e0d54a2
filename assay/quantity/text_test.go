package quantity

import (
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"
)

func TestNumber(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	tests := []struct {
		why    string
		x, u   float64
		value  string
		spread string
	}{
		// JCGM 100:2008 (GUM), 7.2.6: 10,057 62 with u = 27 m is rounded to
		// 10,058 (from memory, sure).
		{"GUM 7.2.6", 10.05762, 0.027, "10.058", "0.027"},
		// EURACHEM/CITAC QUAM, examples A1 and A2: 1002.70 with u = 0.863 and
		// 0.102136 with u = 0.0000986; printed there with one figure less.
		{"QUAM A1", 1002.70, 0.863, "1002.70", "0.86"},
		{"QUAM A2", 0.102136, 0.0000986, "0.102136", "0.000099"},
		{"u carries to the next decade", 9.96, 0.0996, "9.96", "0.10"},
		{"value carries to the next decade", 9.96, 0.5, "9.96", "0.50"},
		{"9.96 at one decimal is 10.0", 9.96, 1.2, "10.0", "1.2"},
		{"both carry", 9.996, 0.0999, "10.00", "0.10"},
		// 0.0995 is stored as 0.09950000000000000455: two figures of it are 0.10.
		{"u on the edge", 3.14159, 0.0995, "3.14", "0.10"},
		{"tens", 1172.4, 18.4, "1172", "18"},
		{"hundreds", 1234.5, 123, "1230", "120"},
		{"thousands", 98765, 4321, "98800", "4300"},
		{"u larger than the value", 0.4, 25, "0", "25"},
		{"negative", -8.426, 0.17, "−8.43", "0.17"},
		{"negative that rounds to zero", -0.004, 0.5, "0.00", "0.50"},
		{"negative tens that round to zero", -3, 250, "0", "250"},
		{"zero", 0, 0.02, "0.000", "0.020"},
		{"zero without u", 0, nan, "0", ""},
		{"no u", 31.41592, nan, "31.42", ""},
		{"u zero is no u", 31.41592, 0, "31.42", ""},
		{"u infinite", 31.41592, inf, "31.42", ""},
		{"four figures of a small one", 0.0123456, nan, "0.01235", ""},
		{"four figures keep all places before the point", 123456.7, nan, "123457", ""},
		{"very small", 2.5e-12, 3.1e-13, "0.00000000000250", "0.00000000000031"},
		{"not a number", nan, 1, "–", ""},
		{"infinite", inf, 1, "+Inf", ""},
	}
	for _, tt := range tests {
		v, u := Number(tt.x, tt.u)
		if v != tt.value || u != tt.spread {
			t.Errorf("%s: Number(%v, %v) = %q ± %q, want %q ± %q", tt.why, tt.x, tt.u, v, u, tt.value, tt.spread)
		}
	}
}

// Whatever the numbers, what is printed reads back to the value within half
// the last printed place, and u shows two significant figures.
func TestNumberReadsBack(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	for range 20_000 {
		u := math.Pow(10, -6+9*r.Float64())
		x := (r.Float64() - 0.5) * math.Pow(10, -3+8*r.Float64())
		v, s := Number(x, u)
		gotX, err := strconv.ParseFloat(strings.Replace(v, Minus, "-", 1), 64)
		if err != nil {
			t.Fatalf("Number(%v, %v) prints %q", x, u, v)
		}
		gotU, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatalf("Number(%v, %v) prints u as %q", x, u, s)
		}
		if d := math.Abs(gotU-u) / u; d > 0.0501 {
			t.Errorf("u %v printed as %q", u, s)
		}
		if math.Abs(gotX-x) > 0.0501*u+1e-12*math.Abs(x) {
			t.Errorf("%v ± %v printed as %q", x, u, v)
		}
		if figures := len(strings.Trim(strings.Replace(s, ".", "", 1), "0")); figures > 2 {
			t.Errorf("u %v printed with %d figures: %q", u, figures, s)
		}
	}
}

func TestText(t *testing.T) {
	nan := math.NaN()
	tests := []struct {
		q         Quantity
		text      string
		withUnit  string
		censored  bool
		lo, hi    float64
		unbounded bool
	}{
		{WithU(31.42, 0.153, "wt%", ""), "31.42 ± 0.15", "31.42 ± 0.15 wt%", false, 31.42, 31.42, false},
		{New(2.5, "1", ""), "2.5", "2.5", false, 2.5, 2.5, false},
		{WithU(1172, 18, "°C", ""), "1172 ± 18", "1172 ± 18 °C", false, 1172, 1172, false},
		{None(Below, 0.01, "wt%"), "< 0.01", "< 0.01 wt%", true, 0, 0.01, false},
		{None(Below, nan, "wt%"), "< limit", "< limit", true, nan, nan, true},
		{None(Above, 40, "wt%"), "> 40", "> 40 wt%", false, 40, math.Inf(1), false},
		{None(Above, nan, "wt%"), "> range", "> range", false, nan, nan, true},
		{None(NotFound, nan, "wt%"), "n.d.", "n.d.", true, nan, nan, true},
		{None(NotFound, 0.2, "wt%"), "n.d.", "n.d.", true, 0, 0.2, false},
		{None(NotRun, nan, "wt%"), "n.a.", "n.a.", false, nan, nan, true},
		{None(Trace, nan, "wt%"), "trace", "trace", true, nan, nan, true},
		{None(Missing, nan, "wt%"), "–", "–", false, nan, nan, true},
		{None(Unusable, nan, "wt%"), "unreadable", "unreadable", false, nan, nan, true},
	}
	for _, tt := range tests {
		if got := tt.q.Text(); got != tt.text {
			t.Errorf("Text of %+v = %q, want %q", tt.q, got, tt.text)
		}
		if got := tt.q.WithUnit(); got != tt.withUnit {
			t.Errorf("WithUnit of %+v = %q, want %q", tt.q, got, tt.withUnit)
		}
		if got := tt.q.Class.Censored(); got != tt.censored {
			t.Errorf("%q censored: %v", tt.q.Class, got)
		}
		lo, hi := tt.q.Bounds()
		if tt.unbounded != math.IsNaN(lo) || !tt.unbounded && (lo != tt.lo || hi != tt.hi) {
			t.Errorf("bounds of %+v = %v, %v", tt.q, lo, hi)
		}
	}
}

func TestScale(t *testing.T) {
	q := WithU(2, 0.1, "wt%", "laboratory").Scale(10_000, "ppm")
	if q.Value != 20_000 || q.U != 1000 || q.Unit != "ppm" || q.UNote != "laboratory" {
		t.Errorf("scaled: %+v", q)
	}
	limit := None(Below, 0.01, "wt%").Scale(10_000, "ppm")
	if limit.Limit != 100 || limit.Known() || limit.HasU() || !math.IsNaN(limit.Value) {
		t.Errorf("scaled limit: %+v", limit)
	}
	if q := New(3, "wt%", "none stated"); q.HasU() || !q.Known() || q.Or(9) != 3 || None(NotRun, math.NaN(), "wt%").Or(9) != 9 {
		t.Errorf("plain number: %+v", q)
	}
}
