package furnace

import (
	"math"

	"smeltbook/assay/quantity/uncertainty"
)

// Parameter is a number that the answer hangs on, with the spread it is given
// and where that comes from.
type Parameter struct {
	Key, Label, Unit string
	Value, U         float64 // in Unit
	Source           string
	shape            uncertainty.Shape
	set              func(f *Furnace, x float64)
}

// Parameters lists them for a furnace as built. Spreads of what is measured are
// those of tape, scales and counting strokes (common practice); of the rest they
// cover what the sources give.
func Parameters(f Furnace) []Parameter {
	const tape, ours = "read off tape or scales", "assumed"
	tri, norm := uncertainty.Triangular, uncertainty.Normal
	list := []Parameter{
		{"air", "air that reaches the fire", "L/min", f.Air.Normal, 0.10 * f.Air.Normal, "strokes counted, leakage guessed", tri, func(f *Furnace, x float64) { f.Air.Normal = x }},
		{"diameter", "diameter of the bowl", "cm", 100 * f.Bowl.Diameter, 1, tape, tri, func(f *Furnace, x float64) { f.Bowl.Diameter = x / 100 }},
		{"cover", "charcoal over the pipe", "cm", 100 * f.Bowl.Cover(), min(2, 20*f.Bowl.Cover()), "falls and is filled up between charges", tri,
			func(f *Furnace, x float64) { f.Bowl.Heap += x/100 - f.Bowl.Cover() }},
		{"lining", "thickness of the lining", "cm", 100 * f.Bowl.Lining, min(0.4, 20*f.Bowl.Lining), tape, tri, func(f *Furnace, x float64) { f.Bowl.Lining = x / 100 }},
		{"lining_k", "conductivity of the lining", "W/(m K)", f.Lining.K, 0.2 * f.Lining.K, "brick 0.6 to fireclay 1.3 (civiltoday.com, matmake.com)", tri,
			func(f *Furnace, x float64) { f.Lining.Wet *= x / f.Lining.K; f.Lining.K = x }},
		{"ground_k", "conductivity of the ground", "W/(m K)", f.Ground.K, 0.2 * f.Ground.K, "soil 0.5 to 2.0 (thermofluidcalc.com)", tri,
			func(f *Furnace, x float64) { f.Ground.Wet *= x / f.Ground.K; f.Ground.K = x }},
		{"carbon", "fixed carbon of the charcoal", "%", 100 * f.Fuel.Carbon, 4, "75 to 90 % (FAO and others)", tri, func(f *Furnace, x float64) { f.Fuel.Carbon = min(x/100, 1) }},
		{"charcoal_moisture", "water in the charcoal", "%", 100 * f.Fuel.Moisture, min(1.5, 40*f.Fuel.Moisture), "below 8 % is asked (EN 1860)", tri, func(f *Furnace, x float64) { f.Fuel.Moisture = x / 100 }},
		{"lump", "size of the lumps", "cm", 100 * f.Fuel.Lump, 20 * f.Fuel.Lump, "sieved by hand", tri, func(f *Furnace, x float64) { f.Fuel.Lump = x / 100 }},
		{"reactivity", "reactivity of the charcoal, ln of a factor", "1", math.Log(f.Assumption.Reactivity), 0.7, "charcoals differ several-fold (from memory)", norm,
			func(f *Furnace, x float64) { f.Assumption.Reactivity = math.Exp(x) }},
		{"overlap", "share of the burning zone that reduces", "1", f.Assumption.Overlap, 0.12, ours, tri, func(f *Furnace, x float64) { f.Assumption.Overlap = clamp(x, 0, 1) }},
		{"path", "share of the bed that the gas passes", "1", f.Assumption.Path, 0.1, ours, tri, func(f *Furnace, x float64) { f.Assumption.Path = clamp(x, 0.1, 1) }},
		{"contact", "contact of the wall with the bed", "1", f.Assumption.Contact, 0.1, ours, tri, func(f *Furnace, x float64) { f.Assumption.Contact = clamp(x, 0.1, 1) }},
		{"exchange", "radiation through the lumps", "1", f.Assumption.Exchange, 0.15, "packed beds (Schotte 1960, from memory)", tri, func(f *Furnace, x float64) { f.Assumption.Exchange = clamp(x, 0.05, 3) }},
		{"emissivity", "emissivity of the top", "1", f.Assumption.Emissivity, 0.03, "0.8 to 0.95 (from memory)", tri, func(f *Furnace, x float64) { f.Assumption.Emissivity = clamp(x, 0.05, 1) }},
	}
	if f.Ground.Moisture > 0 {
		list = append(list, Parameter{"ground_moisture", "water in the ground", "%", 100 * f.Ground.Moisture, 30 * f.Ground.Moisture, "by feel", tri, func(f *Furnace, x float64) { f.Ground.Moisture = max(x/100, 0) }})
	}
	if f.Charge.KgPerHour > 0 {
		list = append(list,
			Parameter{"charge_rate", "charge in an hour", "kg/h", f.Charge.KgPerHour, 0.1 * f.Charge.KgPerHour, tape, tri, func(f *Furnace, x float64) { f.Charge.KgPerHour = x }},
			Parameter{"charge_heat", "heat of the charge", "MJ/kg", f.Charge.MJPerKg, 0.12 * f.Charge.MJPerKg, "fayalite stands for the slag", tri, func(f *Furnace, x float64) { f.Charge.MJPerKg = x }},
			Parameter{"melt_share", "share of its heat taken in the burning zone", "1", f.Assumption.MeltShare, 0.12, ours, tri, func(f *Furnace, x float64) { f.Assumption.MeltShare = clamp(x, 0, 1) }})
	}
	return list
}

func clamp(x, lo, hi float64) float64 { return max(min(x, hi), lo) }

func inputs(ps []Parameter) []uncertainty.Input {
	in := make([]uncertainty.Input, len(ps))
	for i, p := range ps {
		in[i] = uncertainty.Input{Name: p.Key, Value: p.Value, U: p.U, Shape: p.shape}
	}
	return in
}

// with returns the furnace with the values x of the parameters.
func with(f Furnace, ps []Parameter, x []float64) Furnace {
	for i := range ps {
		ps[i].set(&f, x[i])
	}
	return f
}
