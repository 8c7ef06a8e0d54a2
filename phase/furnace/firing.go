package furnace

import (
	"context"
	"fmt"
	"math"

	"smeltbook/assay/quantity"
	"smeltbook/assay/quantity/uncertainty"
	"smeltbook/assay/source"
)

// Task is a firing to be foreseen.
type Task struct {
	Furnace    Furnace // its air, charge and hours follow from the rest
	Blower     Blower
	Pipe       Pipe
	WorkingTC  float64 // °C that the burning zone is asked to have
	LiningTC   float64 // °C from which the lining gives way
	ChargeKg   float64 // ore and flux; 0 for none
	HeatMJ     float64 // that all of it takes to the melt
	RateKgH    float64 // of charging; 0 to have it chosen
	PreheatMin float64 // least time of heating up before the first charge
	SettleMin  float64 // of blowing on after the last charge
	Draws      int
	Seed       uint64
}

// Times of common practice: half an hour of heating at least, so that the wall
// is not cold behind a hot face, and half an hour for the last of the slag.
const (
	UsualPreheatMin = 30.0
	UsualSettleMin  = 30.0
	UsualLiningTC   = 1300.0 // clay of bowls under slag and charcoal, common practice: 1250 to 1350
)

// mostShare is the part of the most charge that is put on where nothing is
// stated, and no more than a kilogram for a kilogram of charcoal burnt (common
// practice: one to two of charcoal for one of ore).
const mostShare = 0.7

// longDay is the time from which a firing is told to be long, h.
const longDay = 16.0

// longestHeatUp is how long the heating up is followed, h.
const longestHeatUp = 4.0

// Firing is a firing foreseen.
type Firing struct {
	Task
	State     State // in the middle of charging
	Spread    Spread
	Course    Course
	HotMin    uncertainty.Summary // minutes to the working temperature
	NeverHot  float64             // share of draws in which it is not reached
	MostKgH   float64             // the most that the fire carries at the working temperature
	RateKgH   float64
	HeatUpMin float64 // to the first charge; NaN where the working temperature is not reached
	ChargingH float64
	TotalH    float64
	Burnt     quantity.Quantity // kg charcoal
	Bed       float64           // kg charcoal that fill bowl and heap
	Charcoal  quantity.Quantity // kg to have ready
	NeedAir   float64           // L/min at 0 °C and 1 atm that just give the working temperature; NaN where none does
	SureAir   float64           // that give it in nine of ten
	Need      int               // blowers for NeedAir
	Sure      int               // blowers for SureAir
	Pressure  float64           // Pa in the pipe while blowing
	Velocity  float64           // m/s at its mouth
	Watts     float64           // work of one person
	Backdraw  Backdraw
	Drying    Drying // of the ground, at the first charge
	Sizes     []Size
	Ranking   []uncertainty.Effect // of the temperature, largest first left to the reader
	Risks     []Risk               // what stops it first, then by margin
	Notices   source.Notices
}

// Diameters are the bowls that Foresee compares, m.
func Diameters() []float64 { return []float64{0.20, 0.30, 0.40, 0.50, 0.60} }

// Foresee works a firing out.
func Foresee(ctx context.Context, t Task) (Firing, error) {
	out := Firing{Task: t}
	if err := t.check(); err != nil {
		return out, err
	}
	f := t.Furnace
	f.Air = t.Blower.Air(f.AmbientTC, 1.01325)
	f.Air.Normal *= 1 - t.Pipe.Spilt()
	f.Charge = Charging{}
	if t.ChargeKg > 0 {
		f.Charge.MJPerKg = t.HeatMJ / t.ChargeKg
	}
	f.Hours = longestHeatUp
	var err error
	if out.Course, err = f.HeatUp(longestHeatUp); err != nil {
		return out, err
	}
	if out.HotMin, out.NeverHot, err = HeatUpSpread(ctx, f, t.WorkingTC, longestHeatUp, min(t.Draws, 200), t.Seed); err != nil {
		return out, err
	}
	out.HeatUpMin = max(out.Course.Reaches(t.WorkingTC), t.PreheatMin) // NaN stays
	start := out.HeatUpMin
	if math.IsNaN(start) {
		start = 60 * longestHeatUp
	}
	if err := out.charge(&f, start); err != nil {
		return out, err
	}
	if out.State, err = f.Solve(); err != nil {
		return out, err
	}
	if out.Spread, err = SpreadOf(ctx, f, t.WorkingTC, t.Draws, t.Seed); err != nil {
		return out, err
	}
	out.fuel(f, start)
	if err := out.blowing(f); err != nil {
		return out, err
	}
	dry, err := Conduct(f.Bowl.Radius(), f.Bowl.Lining, f.Lining, f.Ground, faceTC, f.AmbientTC, []float64{60 * start})
	if err != nil {
		return out, err
	}
	out.Drying = dry[0]
	out.Sizes = Sizes(f, t.WorkingTC, Diameters())
	if out.Ranking, err = Rank(ctx, f, false, min(max(t.Draws/8, 16), 96), t.Seed); err != nil {
		return out, err
	}
	out.Furnace = f
	out.Notices = f.Notices(out.State)
	if out.TotalH > longDay {
		out.Notices.Add(source.Warning, "LONG", source.Cell{}, "at %.2g kg/h the charge of %g kg keeps the fire for %.0f h; plan for nights and for people in turns, or charge less", out.RateKgH, t.ChargeKg, out.TotalH)
	}
	out.risks()
	return out, nil
}

func (t Task) check() error {
	if err := t.Blower.Check(); err != nil {
		return err
	}
	if err := t.Pipe.Check(); err != nil {
		return err
	}
	for _, x := range []struct {
		name    string
		v, l, h float64
		unit    string
	}{
		{"working temperature", t.WorkingTC, 700, 1600, "°C"}, {"temperature at which the lining gives way", t.LiningTC, 900, 1900, "°C"},
		{"charge", t.ChargeKg, 0, 500, "kg"}, {"heat of the charge", t.HeatMJ, 0, 5000, "MJ"}, {"rate of charging", t.RateKgH, 0, 100, "kg/h"},
		{"time of heating up", t.PreheatMin, 0, 240, "min"}, {"time after the last charge", t.SettleMin, 0, 240, "min"},
		{"number of draws", float64(t.Draws), 16, 1e6, ""},
	} {
		if !(x.v >= x.l && x.v <= x.h) {
			return fmt.Errorf("the %s is %g; this room answers from %g to %g %s", x.name, x.v, x.l, x.h, x.unit)
		}
	}
	return nil
}

// charge chooses the rate and puts it on the fire, with the wall as it is in
// the middle of charging.
func (o *Firing) charge(f *Furnace, start float64) error {
	f.Hours = max(start/60, 0.1)
	defer o.times(f, start)
	if o.ChargeKg == 0 {
		return nil
	}
	var err error
	if o.MostKgH, err = MostCharge(*f, o.WorkingTC); err != nil {
		return err
	}
	o.RateKgH = o.Task.RateKgH
	if o.RateKgH == 0 {
		bare, err := f.Solve()
		if err != nil {
			return err
		}
		o.RateKgH = bare.CharcoalKgH
		if o.MostKgH > 0 {
			o.RateKgH = min(mostShare*o.MostKgH, bare.CharcoalKgH)
		}
		o.RateKgH = max(o.RateKgH, 0.2)
	}
	o.ChargingH = o.ChargeKg / o.RateKgH
	return nil
}

// longest is the time up to which walls are followed, h.
const longest = 48.0

func (o *Firing) times(f *Furnace, start float64) {
	f.Charge.KgPerHour = o.RateKgH
	o.TotalH = start/60 + o.ChargingH + o.SettleMin/60
	f.Hours = clamp(start/60+o.ChargingH/2, 0.1, longest)
}

// fuel counts the charcoal.
func (o *Firing) fuel(f Furnace, start float64) {
	burnt, before := 0.0, 0.0
	for _, m := range o.Course {
		until := min(m.Minutes, start)
		if until > before {
			burnt += (until - before) / 60 * m.CarbonKgH / f.Fuel.Carbon
			before = until
		}
	}
	burnt += (o.ChargingH + o.SettleMin/60) * o.State.CharcoalKgH
	share := o.Spread.CharcoalKgH.U / o.Spread.CharcoalKgH.Value
	o.Burnt = quantity.WithU(burnt, share*burnt, "kg", "as that of the rate of burning")
	b := f.Bowl
	o.Bed = f.Fuel.Density * (b.Volume() + b.CrossSection()*b.Heap/3) // the heap as a cone
	o.Charcoal = quantity.WithU(burnt+o.Bed, math.Hypot(o.Burnt.U, 0.15*o.Bed), "kg", "rate of burning, and how the bed lies")
}

// blowing asks for air, and what blowing it does to people and bellows.
func (o *Firing) blowing(f Furnace) error {
	free := func(normal float64) float64 {
		return normal / o.Blower.Air(f.AmbientTC, 1.01325).Normal * o.Blower.Free() / (1 - o.Pipe.Spilt())
	}
	o.NeedAir, o.SureAir = math.NaN(), math.NaN()
	if x, _, err := AirFor(f, o.WorkingTC); err == nil {
		o.NeedAir, o.Need = x, o.Blower.For(free(x))
	}
	if x, _, err := AirFor(f, o.WorkingTC+1.28*o.Spread.HotTC.U); err == nil {
		o.SureAir, o.Sure = x, o.Blower.For(free(x))
	}
	// While one blows the flow is larger than its mean; bellows that take turns
	// fill each other's pauses.
	swing := min(1/o.Blower.Duty/float64(o.Blower.Number), 1/o.Blower.Duty)
	o.Pressure, o.Velocity = o.Pipe.Drop(o.Blower.Free() * max(swing, 1))
	o.Watts = o.Blower.Watts(o.Pressure)
	var err error
	o.Backdraw, err = o.Pipe.Back(o.Blower, o.State.HotTC(), monoxideOf(o.State.Zones[0]), f.AmbientTC)
	return err
}

// monoxideOf is the share of CO in the gas of a zone by volume, its carbon gases
// being a fifth to a third of it.
func monoxideOf(z Zone) float64 { return z.Monoxide * oxygenShare * (1 + z.Monoxide/2) }

// Runs reports whether nothing that would stop the firing is foreseen.
func (o Firing) Runs() bool {
	for _, r := range o.Risks {
		if r.Stops && r.Margin < 0 {
			return false
		}
	}
	return true
}
