package assay

import (
	"math"
	"strings"

	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// Mass returns the weight in kg that a firing's record has under a heading,
// stated in kg or g, with the uncertainty of the column beside it. ok is false
// where there is none.
func (r Run) Mass(name string) (q quantity.Quantity, ok bool) {
	return r.number(name, "kg", map[string]float64{"kg": 1, "g": 1e-3})
}

// Percent returns the percentage under a heading, as Mass does a weight.
func (r Run) Percent(name string) (q quantity.Quantity, ok bool) {
	return r.number(name, "%", map[string]float64{"%": 1, "wt%": 1})
}

// Number returns what a firing's record has under a heading in one unit, as
// Mass does a weight.
func (r Run) Number(name, unit string) (q quantity.Quantity, ok bool) {
	return r.number(name, unit, map[string]float64{unit: 1})
}

// number finds a number stated in one of the units; a number without its unit
// could be anything and is left alone.
func (r Run) number(name, unit string, factors map[string]float64) (quantity.Quantity, bool) {
	for i, f := range r.Fields {
		factor, ok := factors[f.Unit]
		if !ok || !f.named(name) || f.Cell.Class != quantity.Measured {
			continue
		}
		q := quantity.New(f.Cell.Value*factor, unit, "none: the field sheet states none", f.Cell.At)
		if i+1 < len(r.Fields) {
			if u := r.Fields[i+1]; u.IsUncertaintyOf(f) && u.Cell.Class == quantity.Measured {
				q = quantity.WithU(f.Cell.Value*factor, u.Cell.Value*factor, unit, "from the field sheet, "+u.Cell.At.Ref, f.Cell.At)
			}
		}
		return q, true
	}
	return quantity.Quantity{}, false
}

func (f RunField) named(name string) bool {
	return strings.EqualFold(strings.TrimSpace(f.Name), name)
}

// Text returns the text under a heading.
func (r Run) Text(name string) string {
	for _, f := range r.Fields {
		if f.named(name) {
			return strings.TrimSpace(f.Cell.Text)
		}
	}
	return ""
}

// Cell returns where a firing's record has a heading; the row's own address
// where it has none.
func (r Run) Cell(name string) source.Cell {
	for _, f := range r.Fields {
		if f.named(name) && !f.Cell.At.IsZero() {
			return f.Cell.At
		}
	}
	return r.At
}

// IsUncertaintyOf tells whether a column holds the uncertainty of the one
// before it: it is headed by the sign, alone or with that column's name, in the
// same unit or none.
func (f RunField) IsUncertaintyOf(value RunField) bool {
	if value.Name == "" || f.Unit != "" && f.Unit != value.Unit {
		return false
	}
	head := strings.ReplaceAll(f.Name, "+/-", "±")
	rest := strings.TrimSpace(strings.Replace(head, "±", "", 1))
	return strings.Contains(head, "±") && (rest == "" || strings.EqualFold(rest, strings.TrimSpace(value.Name)))
}

// Sieved is a weight of one size.
type Sieved struct {
	Name string // the heading, "Prills 2–4 mm"
	Mass quantity.Quantity
}

// Prills returns what a firing's record has of prills, in kg, size by size.
func (r Run) Prills() []Sieved {
	var out []Sieved
	for _, f := range r.Fields {
		name := strings.TrimSpace(f.Name)
		if !strings.HasPrefix(strings.ToLower(name), "prill") || strings.Contains(name, "±") {
			continue
		}
		if q, ok := r.Mass(name); ok && !(len(out) > 0 && out[len(out)-1].Name == name) {
			out = append(out, Sieved{name, q})
		}
	}
	return out
}

// PrillsTotal sums Prills, the weights taken as independent; it holds no
// number where the record has none.
func (r Run) PrillsTotal() quantity.Quantity {
	var qs []quantity.Quantity
	for _, p := range r.Prills() {
		qs = append(qs, p.Mass)
	}
	if len(qs) == 0 {
		return quantity.None(quantity.Missing, math.NaN(), "kg")
	}
	return quantity.Sum("kg", qs...)
}

// OfStock returns the samples of a kind taken from a stock: those of its name,
// and those of its name with a number behind a hyphen.
func (c *Campaign) OfStock(stock, kind string) []*Sample {
	var out []*Sample
	for _, s := range c.Samples {
		if s.Kind != kind || stock == "" {
			continue
		}
		id, name := sampleKey(s.ID), sampleKey(stock)
		if id == name || strings.HasPrefix(id, name+"-") {
			out = append(out, s)
		}
	}
	return out
}
