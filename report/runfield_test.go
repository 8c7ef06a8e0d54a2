package report

import (
	"math"
	"testing"

	"smeltbook/assay"
	"smeltbook/assay/quantity"
	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
)

func weighed(name, unit string, x float64) assay.RunField {
	return assay.RunField{Name: name, Unit: unit, Cell: sheet.RecordCell{Text: "x", Value: x, Class: quantity.Measured, At: source.Cell{File: "runs.csv", Ref: name}}}
}

func TestWeightsOfAFiring(t *testing.T) {
	r := assay.Run{ID: "F1", Fields: []assay.RunField{
		weighed("Slag", "kg", 6), weighed("±", "kg", 0.1), weighed("Ingot", "g", 162), weighed("Ore", "", 5),
		weighed("Prills >4 mm", "g", 30), weighed("Prills >4 mm ±", "g", 3), weighed("Prills <4 mm", "g", 20), weighed("Prills <4 mm ±", "g", 4),
	}}
	if q, ok := runValue(r, "slag"); !ok || q.Value != 6 || q.U != 0.1 || q.Unit != "kg" {
		t.Errorf("slag %+v", q)
	}
	if q, ok := runValue(r, "Ingot"); !ok || q.Value != 0.162 || q.HasU() {
		t.Errorf("ingot %+v", q)
	}
	if q, ok := runValue(r, "Ore"); ok {
		t.Errorf("a weight without unit is taken as %s", q.WithUnit())
	}
	if _, ok := runValue(r, "Matte"); ok {
		t.Error("matte that nobody weighed")
	}
	// 30 + 20 g, u = √(3² + 4²) g.
	if q := prillsSieved(r); math.Abs(q.Value-0.05) > 1e-12 || math.Abs(q.U-0.005) > 1e-12 {
		t.Errorf("prills %+v", q)
	}
}

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
