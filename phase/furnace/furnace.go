package furnace

import (
	"fmt"
	"math"
)

// Fuel is the charcoal.
type Fuel struct {
	Carbon   float64 // share of fixed carbon of the dry charcoal
	Moisture float64 // kg of water in a kg of dry charcoal
	Lump     float64 // size of the lumps, m
	Density  float64 // of the bed, kg/m³
}

// Air is what is blown in.
type Air struct {
	Normal float64 // L/min at 0 °C and 1 atm, all pipes, that reach the fire
	TC     float64 // °C at the mouth of the pipe
	Oxygen float64 // share of the dry gas
	Carbon float64 // share of carbon dioxide in the dry gas
	Water  float64 // share of steam in the gas as blown
}

// FreeAir is ordinary air of a temperature in °C with a share of one per cent
// steam (half of saturation at 20 °C).
func FreeAir(normalLMin, tc float64) Air {
	return Air{Normal: normalLMin, TC: tc, Oxygen: oxygenShare, Carbon: 0.0004, Water: 0.01}
}

// Breath is what people blow through a pipe: 16 % oxygen and 4 % carbon dioxide
// in the dry gas, saturated at 34 °C (textbook of physiology, from memory; 14 %
// oxygen is quoted of smelters at the end of a breath, tf.uni-kiel.de).
func Breath(normalLMin float64) Air {
	return Air{Normal: normalLMin, TC: 34, Oxygen: 0.16, Carbon: 0.04, Water: 0.052}
}

// Charging is the charge as a load on the fire.
type Charging struct {
	KgPerHour float64 // ore and flux
	MJPerKg   float64 // heat to bring a kilogram to the melt (phase/heat)
}

// Furnace is a bowl at work.
type Furnace struct {
	Bowl       Bowl
	Lining     Earth
	Ground     Earth
	Fuel       Fuel
	Air        Air
	Charge     Charging
	AmbientTC  float64 // of ground and surroundings, °C
	Hours      float64 // since lighting, with blowing
	Assumption Assumption
}

// Assumption holds what neither tape nor scales tell; Usual gives all of them.
type Assumption struct {
	Reactivity float64 // factor on the rates of CO2 and steam with charcoal
	Overlap    float64 // share of the burning zone in which CO2 is reduced already
	Path       float64 // share of the bed's cross-section that the gas passes
	Contact    float64 // the wall sees this share of the difference between bed and ground
	Exchange   float64 // factor of radiation through the lumps (k = 4 F d σ T³)
	Emissivity float64 // of the top
	MeltShare  float64 // share of the charge's heat taken in the burning zone
}

// Usual returns the assumptions where nothing better is known.
func Usual() Assumption {
	return Assumption{Reactivity: 1, Overlap: 0.5, Path: 0.7, Contact: 0.7, Exchange: 0.75, Emissivity: 0.9, MeltShare: 0.5}
}

// Charcoal is good charcoal: 80 % fixed carbon (75 to 90), lumps of 2.5 cm, 220
// kg/m³ in the bed, 5 % water (FAO; EN 1860 asks for less than 8 % water).
func Charcoal() Fuel { return Fuel{Carbon: 0.80, Moisture: 0.05, Lump: 0.025, Density: 220} }

// Common is a furnace of the usual kind: 40 cm across, 30 cm deep, 3 cm of clay,
// the pipe 15 cm over the floor, charcoal heaped 10 cm, in dry ground (common
// practice; the ranges between excavations are wide).
func Common(normalLMin float64) Furnace {
	return Furnace{
		Bowl:   Bowl{Diameter: 0.40, Depth: 0.30, Lining: 0.03, PipeHeight: 0.15, Heap: 0.10},
		Lining: Clay(), Ground: Grounds()["dry"], Fuel: Charcoal(), Air: FreeAir(normalLMin, 15),
		AmbientTC: 15, Hours: 1, Assumption: Usual(),
	}
}

func (f Furnace) check() error {
	if err := f.Bowl.check(); err != nil {
		return err
	}
	if err := f.Lining.check("a lining"); err != nil {
		return err
	}
	if err := f.Ground.check("ground"); err != nil {
		return err
	}
	a := f.Assumption
	for _, x := range []struct {
		name    string
		v, l, h float64
		unit    string
	}{
		{"air that reaches the fire", f.Air.Normal, 10, 5000, "L/min"},
		{"temperature of the air", f.Air.TC, -30, 600, "°C"},
		{"share of oxygen in the blast", f.Air.Oxygen, 0.10, 0.25, ""},
		{"share of carbon dioxide in the blast", f.Air.Carbon, 0, 0.10, ""},
		{"share of steam in the blast", f.Air.Water, 0, 0.20, ""},
		{"share of fixed carbon in the charcoal", f.Fuel.Carbon, 0.4, 1, ""},
		{"moisture of the charcoal", f.Fuel.Moisture, 0, 0.5, "kg/kg"},
		{"size of the lumps", f.Fuel.Lump, 0.003, 0.15, "m"},
		{"density of the charcoal bed", f.Fuel.Density, 50, 800, "kg/m³"},
		{"charge in an hour", f.Charge.KgPerHour, 0, 200, "kg/h"},
		{"heat of the charge", f.Charge.MJPerKg, 0, 10, "MJ/kg"},
		{"temperature of the surroundings", f.AmbientTC, -30, 50, "°C"},
		{"time since lighting", f.Hours, 0.02, 48, "h"},
		{"reactivity of the charcoal", a.Reactivity, 0.01, 100, ""},
		{"share of the burning zone that reduces", a.Overlap, 0, 1, ""},
		{"share of the bed that the gas passes", a.Path, 0.1, 1, ""},
		{"contact of the wall", a.Contact, 0.1, 1, ""},
		{"exchange factor", a.Exchange, 0.05, 3, ""},
		{"emissivity", a.Emissivity, 0.05, 1, ""},
		{"share of the melt's heat in the burning zone", a.MeltShare, 0, 1, ""},
	} {
		if !(x.v >= x.l && x.v <= x.h) || math.IsNaN(x.v) {
			return fmt.Errorf("the %s is %g; this room answers from %g to %g %s", x.name, x.v, x.l, x.h, x.unit)
		}
	}
	return nil
}
