package study

import (
	"math"
	"slices"

	"smeltbook/assay"
	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
)

// FerricShare returns the share of ferric iron in all iron of a sample, 0 to 1
// by atoms, from titrated FeO and total iron:
//
//	1 − FeO/FeO_total
//
// with the two taken as independent. Below zero the titration found more iron
// than the total. ok is false where one of the two is missing, and why says
// which.
func FerricShare(s *assay.Sample) (q quantity.Quantity, why string, ok bool) {
	total, _ := s.AsReported.TotalIron(chem.AsFeO)
	if !total.Known() || total.Value <= 0 {
		return q, "total iron is not known", false
	}
	var ferrous quantity.Quantity
	for _, a := range s.Assays {
		v, has := a.Value("FeO")
		if has && v.Known() && !shared(v, total) {
			ferrous = v
			break
		}
	}
	if len(ferrous.From) == 0 {
		return q, "ferrous iron was not titrated beside total iron", false
	}
	from := append(slices.Clone(ferrous.From), total.From...)
	x := 1 - ferrous.Value/total.Value
	if !ferrous.HasU() || !total.HasU() {
		return quantity.New(x, "1", "none: titrated FeO or total iron carries none", from...), "", true
	}
	u := math.Hypot(ferrous.U/total.Value, ferrous.Value*total.U/(total.Value*total.Value))
	return quantity.WithU(x, u, "1", "titrated FeO and total iron, taken as independent", from...), "", true
}

// shared reports whether two quantities rest on one cell.
func shared(a, b quantity.Quantity) bool {
	for _, c := range a.From {
		if slices.Contains(b.From, c) {
			return true
		}
	}
	return false
}
