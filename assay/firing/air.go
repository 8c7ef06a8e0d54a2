package firing

import (
	"math"

	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
)

// Air that carbon needs, in normal cubic metres (0 °C, 1.01325 bar) for each
// kg: to carbon monoxide half a molecule of oxygen for each atom, to carbon
// dioxide a whole one. Dry air holds 20.95 vol% oxygen (common practice).
const (
	molarVolume = 0.022414 // m³/mol, ideal gas at 0 °C and 1.01325 bar
	oxygenInAir = 0.2095
)

// AirToCO and AirToCO2 are the normal m³ of air for a kg of carbon.
func AirToCO() float64 { return AirToCO2() / 2 }

// AirToCO2 is the air that burns carbon wholly.
func AirToCO2() float64 {
	carbon, _, _ := chem.AtomicWeight("C")
	return 1000 / carbon / oxygenInAir * molarVolume
}

// Supply is what is known of air and charcoal.
type Supply struct {
	Air      quantity.Quantity // L/min as measured
	AirAt    float64           // °C of the air where it was measured, at 1.01325 bar
	Hours    quantity.Quantity // with the air on
	Charcoal quantity.Quantity // kg burnt
	Carbon   quantity.Quantity // mass fraction of carbon in the charcoal
}

// Consistency is whether the air fits the charcoal.
type Consistency struct {
	Volume  quantity.Quantity // normal m³ blown
	Carbon  quantity.Quantity // kg burnt
	PerKg   quantity.Quantity // normal m³ for each kg of carbon
	ToCO    quantity.Quantity // share of the carbon that left as CO, by that; outside 0 to 1 the two do not fit
	Verdict Verdict
}

// Verdict is what the air says of the charcoal.
type Verdict int

const (
	Fits      Verdict = iota // between what CO and what CO2 needs
	TooLittle                // less air than the carbon needs to burn even to CO, by more than twice the uncertainty
	TooMuch                  // more than burns it all to CO2
	Edge                     // outside, but within twice the uncertainty
)

// Check compares air and charcoal. Water gas, oxygen of the ore, carbon taken
// up by gas of the ore and leakage are left out; ok is false where a number
// is wanting.
func (s Supply) Check() (c Consistency, ok bool) {
	if !s.Air.Known() || !s.Hours.Known() || !s.Charcoal.Known() || !s.Carbon.Known() || s.Charcoal.Value <= 0 {
		return c, false
	}
	normal := s.Air.Scale(60./1000*273.15/(273.15+s.AirAt), "m³/h")
	c.Volume = quantity.Product(normal, s.Hours, "m³")
	c.Carbon = quantity.Product(s.Charcoal, s.Carbon, "kg")
	c.PerKg = quantity.Ratio(c.Volume, c.Carbon, "m³/kg")
	lo, hi := AirToCO(), AirToCO2()
	u := c.PerKg.U
	c.ToCO = quantity.WithU((hi-c.PerKg.Value)/(hi-lo), u/(hi-lo), "1", "from the air and the charcoal", c.PerKg.From...)
	if math.IsNaN(u) {
		u = 0
	}
	switch x := c.PerKg.Value; {
	case x < lo-2*u:
		c.Verdict = TooLittle
	case x > hi+2*u:
		c.Verdict = TooMuch
	case x < lo || x > hi:
		c.Verdict = Edge
	}
	return c, true
}

// Section returns the area in m² of a round section from its diameter in cm.
func Section(diameter quantity.Quantity) quantity.Quantity {
	d := diameter.Value / 100
	return quantity.WithU(math.Pi/4*d*d, math.Pi/2*d*diameter.U/100, "m²", "from the diameter", diameter.From...)
}
