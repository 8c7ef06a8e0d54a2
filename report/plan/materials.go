package plan

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/stat"

	"smeltbook/assay"
	"smeltbook/assay/balance"
	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/phase/heat"
)

// OfName returns the samples of a stock of any of some kinds, or the one sample
// of that id.
func OfName(c *assay.Campaign, name string, kinds ...string) []*assay.Sample {
	if s, ok := c.Sample(name); ok {
		return []*assay.Sample{s}
	}
	var out []*assay.Sample
	for _, kind := range kinds {
		out = append(out, c.OfStock(name, kind)...)
	}
	return out
}

// Own returns the analysed samples of a kind that are not excavated.
func Own(c *assay.Campaign, kind string) []*assay.Sample {
	var out []*assay.Sample
	for _, s := range c.Samples {
		if s.Kind == kind && s.Origin != assay.Excavated && len(s.Assays) > 0 {
			out = append(out, s)
		}
	}
	return out
}

// StockOf is the name of the stock that a sample was taken from: its id without
// the number of the split.
func StockOf(id string) string {
	if i := strings.LastIndex(id, "-"); i > 0 && strings.Trim(id[i+1:], "0123456789") == "" {
		return id[:i]
	}
	return id
}

// Material is the mean analysis of samples as a kilogram of a material.
func Material(name string, samples []*assay.Sample) (balance.Material, error) {
	if len(samples) == 0 {
		return balance.Material{}, fmt.Errorf("no sample is %s or taken from it", name)
	}
	c, err := balance.MeanComposition(samples)
	if err != nil {
		return balance.Material{}, fmt.Errorf("%s: %w", name, err)
	}
	return balance.Material{Name: name, Kind: samples[0].Kind, Mass: quantity.WithU(1, 0, "kg", "one kilogram"), Moisture: quantity.None(quantity.Missing, math.NaN(), "wt%"), Composition: c}, nil
}

// PerOre is a weight of the firings for a kilogram of ore: their mean, with the
// scatter between firings or, where that is less, what the field sheet states.
// It holds no number where none has both.
func PerOre(c *assay.Campaign, name string) quantity.Quantity {
	var qs []quantity.Quantity
	for _, run := range c.Runs {
		x, ok := run.Mass(name)
		ore, weighed := run.Mass("ore")
		if ok && weighed && ore.Value > 0 {
			qs = append(qs, quantity.Ratio(x, ore, "kg"))
		}
	}
	return scattered(qs, "kg")
}

// MeanPercent is a percentage of the firings, as PerOre.
func MeanPercent(c *assay.Campaign, name string) quantity.Quantity {
	var qs []quantity.Quantity
	for _, run := range c.Runs {
		if q, ok := run.Percent(name); ok {
			qs = append(qs, q)
		}
	}
	return scattered(qs, "%")
}

func scattered(qs []quantity.Quantity, unit string) quantity.Quantity {
	var xs []float64
	stated := 0.0
	for _, q := range qs {
		xs = append(xs, q.Value)
		if q.HasU() {
			stated += q.U / float64(len(qs))
		}
	}
	switch len(xs) {
	case 0:
		return quantity.None(quantity.Missing, math.NaN(), unit)
	case 1:
		return quantity.WithU(xs[0], qs[0].U, unit, "one firing")
	}
	mean, sd := stat.MeanStdDev(xs, nil)
	if sd < stated {
		return quantity.WithU(mean, stated, unit, "from the field sheet")
	}
	return quantity.WithU(mean, sd, unit, "scatter between firings")
}

// AshOf is the ash of some charcoal: kg times wt%, taken as independent, with
// the uncertainty of whichever has one.
func AshOf(charcoal, percent quantity.Quantity) quantity.Quantity {
	if !charcoal.Known() || !percent.Known() {
		return quantity.None(quantity.Missing, math.NaN(), "kg")
	}
	certain := func(q quantity.Quantity) quantity.Quantity {
		if !q.HasU() {
			q.U = 0
		}
		return q
	}
	return quantity.Product(certain(charcoal), certain(percent).Scale(0.01, "1"), "kg")
}

// carbonateFrom is the CaO (wt%) from which a flux counts as lime-stone.
const carbonateFrom = 20.0

// Heated is what has to be heated of ores and fluxes, whose Mass is in kg, with
// the slag and the copper they give. Copper of the ores is carbonate where its
// mineral is malachite or azurite, else oxide; iron is taken to be ferric.
func Heated(mineral string, parts []balance.Material, slagKg, copperKg float64) heat.Charge {
	c := heat.Charge{Slag: slagKg, Copper: copperKg}
	for _, m := range parts {
		dry := m.Dry().Or(0)
		c.Water += m.Mass.Or(0) - dry
		fe, _ := m.Composition.OfElement("Fe")
		c.Ferric += dry * fe.Or(0) / 100
		lost := dry * math.Max(m.Composition.Wt("LOI"), 0) / 100
		switch {
		case m.Kind == assay.Ore:
			cu, _ := m.Composition.OfElement("Cu")
			kg := dry * cu.Or(0) / 100
			if mineral == "malachite" || mineral == "azurite" {
				c.Carbonate += kg
				lost -= kg * carbonateLoss
			} else {
				c.Oxide += kg
			}
			c.Water += max(lost, 0)
		case m.Composition.Wt("CaO") >= carbonateFrom:
			c.Carbonic += lost
		default:
			c.Water += lost
		}
	}
	return c
}

// carbonateLoss is the water and carbon dioxide that malachite gives off for a
// kilogram of its copper.
var carbonateLoss = func() float64 {
	cu, _, _ := chem.AtomicWeight("Cu")
	co2, _ := chem.LookupAnalyte("CO2")
	h2o, _ := chem.LookupAnalyte("H2O")
	return (co2.Mass + h2o.Mass) / (2 * cu)
}()
