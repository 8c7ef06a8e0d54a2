package main

import (
	"bytes"
	"math"
	"testing"

	"github.com/xuri/excelize/v2"

	"smeltbook/assay/quantity"
	"smeltbook/phase/charge"
	"smeltbook/report/plan"
)

// The workbook holds numbers as numbers, leaves out what is none, and no name
// in it can run as a formula.
func TestChargeBook(t *testing.T) {
	p := &plan.Plan{Weights: []plan.Weight{{Name: "=HYPERLINK(1)", Kind: "ore", Share: 1,
		Batch: quantity.WithU(0.5, 0.005, "kg", ""), Total: quantity.WithU(4.5, 0.015, "kg", "")}},
		Outcomes: []plan.Outcome{{Term: charge.AtMost(charge.Liquidus, 1200), Asked: true, Value: 1150, SD: math.NaN()}}}
	var b bytes.Buffer
	if err := writeChargeBook(&b, p); err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(&b)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for _, x := range []struct{ sheet, ref, want string }{
		{"charge", "A3", "'=HYPERLINK(1)"}, {"charge", "C2", "kg"}, {"charge", "C3", "0.5"}, {"charge", "E3", "4.5"},
		{"slag", "A2", "liquidus"}, {"slag", "B2", "1150"}, {"slag", "C2", ""}, {"slag", "E2", "°C"}, {"slag", "F2", "liquidus at most 1200 °C"},
	} {
		got, err := f.GetCellValue(x.sheet, x.ref)
		if err != nil || got != x.want {
			t.Errorf("%s %s: %q (%v), wanted %q", x.sheet, x.ref, got, err, x.want)
		}
		if formula, err := f.GetCellFormula(x.sheet, x.ref); err != nil || formula != "" {
			t.Errorf("%s %s: formula %q (%v)", x.sheet, x.ref, formula, err)
		}
	}
}
