package report

import (
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/quantity"
)

// runValue returns the weight in kg that a firing's record has under a heading,
// stated in kg or g, with the uncertainty of the column beside it. ok is false
// where there is none.
func runValue(r assay.Run, name string) (quantity.Quantity, bool) {
	for i, f := range r.Fields {
		if !strings.EqualFold(strings.TrimSpace(f.Name), name) || f.Cell.Class != quantity.Measured {
			continue
		}
		factor, ok := map[string]float64{"kg": 1, "g": 1e-3}[f.Unit]
		if !ok {
			continue // a weight without its unit could be anything
		}
		const unit = "kg"
		q := quantity.New(f.Cell.Value*factor, unit, "none: the field sheet states none", f.Cell.At)
		if i+1 < len(r.Fields) {
			if u := r.Fields[i+1]; isUncertaintyOf(u, f) && u.Cell.Class == quantity.Measured {
				q = quantity.WithU(f.Cell.Value*factor, u.Cell.Value*factor, unit, "from the field sheet, "+u.Cell.At.Ref, f.Cell.At)
			}
		}
		return q, true
	}
	return quantity.Quantity{}, false
}

// runText returns the text under a heading.
func runText(r assay.Run, name string) string {
	for _, f := range r.Fields {
		if strings.EqualFold(strings.TrimSpace(f.Name), name) {
			return strings.TrimSpace(f.Cell.Text)
		}
	}
	return ""
}

// ofStock returns the samples taken from a stock: those of its name, and those
// of its name with a number behind a hyphen.
func (b *builder) ofStock(stock, kind string) []*assay.Sample {
	var out []*assay.Sample
	for _, s := range b.study.Campaign.Samples {
		if s.Kind != kind || stock == "" {
			continue
		}
		id, name := strings.ToLower(s.ID), strings.ToLower(stock)
		if id == name || strings.HasPrefix(id, name+"-") {
			out = append(out, s)
		}
	}
	return out
}
