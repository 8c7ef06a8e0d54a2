package quantity

import (
	"math"
	"math/rand/v2"
	"testing"

	"smeltbook/assay/source"
)

// The uncertainties are those of drawing (JCGM 101:2008), and the cells of both
// values stay behind the result.
func TestArithmetic(t *testing.T) {
	a := WithU(12, 0.12, "kg", "scales", source.Cell{Ref: "A1"})
	b := WithU(1.5, 0.03, "wt%", "laboratory", source.Cell{Ref: "B1"})
	r := rand.New(rand.NewPCG(4, 2))
	for name, c := range map[string]struct {
		got Quantity
		of  func(a, b float64) float64
	}{
		"product":    {Product(a, b, "1"), func(a, b float64) float64 { return a * b }},
		"ratio":      {Ratio(a, b, "1"), func(a, b float64) float64 { return a / b }},
		"sum":        {Sum("1", a, b), func(a, b float64) float64 { return a + b }},
		"difference": {Difference(a, b), func(a, b float64) float64 { return a - b }},
	} {
		const draws = 40_000
		mean := c.of(12, 1.5)
		var s2 float64
		for range draws {
			d := c.of(12+0.12*r.NormFloat64(), 1.5+0.03*r.NormFloat64()) - mean
			s2 += d * d
		}
		if sd := math.Sqrt(s2 / draws); c.got.Value != mean || math.Abs(c.got.U-sd) > 0.03*sd {
			t.Errorf("%s: %v ± %v, drawn %v ± %v", name, c.got.Value, c.got.U, mean, sd)
		}
		if len(c.got.From) != 2 {
			t.Errorf("%s: from %v", name, c.got.From)
		}
	}
}

func TestArithmeticWithoutNumbers(t *testing.T) {
	a, bare, none := WithU(2, 0.1, "g", ""), New(3, "g", "not stated"), None(NotRun, math.NaN(), "g")
	for name, q := range map[string]Quantity{"product": Product(a, bare, "g"), "ratio": Ratio(bare, a, "g"), "sum": Sum("g", a, bare), "difference": Difference(a, bare)} {
		if !q.Known() || q.HasU() || q.UNote == "" {
			t.Errorf("%s of a value without uncertainty: %+v", name, q)
		}
	}
	for name, q := range map[string]Quantity{"product": Product(a, none, "g"), "ratio": Ratio(a, WithU(0, 0.1, "g", ""), "1"), "sum": Sum("g", none, a), "difference": Difference(none, a)} {
		if q.Known() || q.Text() != "–" {
			t.Errorf("%s of no number: %+v", name, q)
		}
	}
	if q := Product(WithU(0, 0.5, "g", ""), a, "g"); q.Value != 0 || q.U != 1 {
		t.Errorf("a value of zero keeps its uncertainty: %+v", q)
	}
}
