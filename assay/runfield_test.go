package assay

import (
	"math"
	"testing"

	"smeltbook/assay/quantity"
	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
)

func weighed(name, unit string, x float64) RunField {
	return RunField{Name: name, Unit: unit, Cell: sheet.RecordCell{Text: "x", Value: x, Class: quantity.Measured, At: source.Cell{File: "runs.csv", Ref: name}}}
}

func TestWeightsOfAFiring(t *testing.T) {
	r := Run{ID: "F1", Fields: []RunField{
		weighed("Slag", "kg", 6), weighed("±", "kg", 0.1), weighed("Ingot", "g", 162), weighed("Ore", "", 5),
		weighed("Prills >4 mm", "g", 30), weighed("Prills >4 mm ±", "g", 3), weighed("Prills <4 mm", "g", 20), weighed("Prills <4 mm ±", "g", 4),
	}}
	if q, ok := r.Mass("slag"); !ok || q.Value != 6 || q.U != 0.1 || q.Unit != "kg" {
		t.Errorf("slag %+v", q)
	}
	if q, ok := r.Mass("Ingot"); !ok || q.Value != 0.162 || q.HasU() {
		t.Errorf("ingot %+v", q)
	}
	if q, ok := r.Mass("Ore"); ok {
		t.Errorf("a weight without unit is taken as %s", q.WithUnit())
	}
	if _, ok := r.Mass("Matte"); ok {
		t.Error("matte that nobody weighed")
	}
	// 30 + 20 g, u = √(3² + 4²) g.
	if q := r.PrillsTotal(); math.Abs(q.Value-0.05) > 1e-12 || math.Abs(q.U-0.005) > 1e-12 {
		t.Errorf("prills %+v", q)
	}
}
