package report

import (
	"math"
	"testing"
)

func TestShort(t *testing.T) {
	for x, want := range map[float64]string{0: "0", 1.26: "1.3", 0.0512: "0.051", 12.6: "13", 1234: "1200", 1.26e6: "1300000", -0.05: "−0.050", -123: "−120", math.Inf(1): "∞", 0.996: "1.00"} {
		if got := short(x); got != want {
			t.Errorf("%g is printed %q, want %q", x, got, want)
		}
	}
	for _, c := range []struct {
		lo, hi float64
		want   string
	}{{1, 2, "1.0–2.0"}, {2, 2, "2.0"}, {3, math.Inf(1), "≥ 3.0"}, {-2, -1, "−2.0 to −1.0"}} {
		if got := shortSpan(c.lo, c.hi); got != c.want {
			t.Errorf("%g to %g is printed %q, want %q", c.lo, c.hi, got, c.want)
		}
	}
}
