package fireplan

import (
	"fmt"
	"math"
	"strings"

	"smeltbook/phase/furnace"
	"smeltbook/report/notebook"
)

// What a slag is given over its liquidus, and what is asked where none is known.
const (
	overLiquidus = 50.0   // °C
	usualWorking = 1230.0 // °C: slags of small sites melt at 1100 to 1250 °C
)

// assumedGround is the ground where none is stated: the careful choice.
const assumedGround = "damp"

// settler turns what the notebook says into a task and keeps what was assumed.
type settler struct {
	assumed []string
}

func (s *settler) assume(format string, args ...any) {
	s.assumed = append(s.assumed, fmt.Sprintf(format, args...))
}

// or returns what is stated times a factor, or the usual, which is told.
func (s *settler) or(stated *float64, factor, usual float64, what, unit string) float64 {
	if stated != nil {
		return *stated * factor
	}
	s.assume("%s", strings.TrimSpace(fmt.Sprintf("%s %.4g %s", what, usual/factor, unit)))
	return usual
}

// task makes the task of a furnace, and says what was assumed.
func task(f notebook.Furnace, load Load, draws int, seed uint64) (furnace.Task, []string) {
	s := &settler{}
	c := furnace.Common(1)
	b := &c.Bowl
	b.Diameter = s.or(f.Diameter, 0.01, b.Diameter, "diameter", "cm")
	usualDepth := 0.75 * b.Diameter
	b.Depth = s.or(f.Depth, 0.01, usualDepth, "depth", "cm")
	b.Lining = s.or(f.Lining, 0.01, b.Lining, "lining", "cm")
	b.PipeHeight = s.or(f.PipeHeight, 0.01, b.Depth/2, "mouth of the pipe over the floor", "cm")
	b.Heap = s.or(f.Heap, 0.01, b.Heap, "charcoal heaped above the rim", "cm")
	c.Fuel.Lump = s.or(f.Lumps, 0.01, c.Fuel.Lump, "lumps of charcoal", "cm")
	c.Fuel.Carbon = s.or(f.FixedCarbon, 0.01, c.Fuel.Carbon, "fixed carbon of the charcoal", "%")
	c.Fuel.Moisture = s.or(f.Moisture, 0.01, c.Fuel.Moisture, "water in the charcoal", "%")
	c.AmbientTC = s.or(f.Ambient, 1, c.AmbientTC, "air and ground", "°C")
	ground := f.Ground
	if ground == "" {
		ground = assumedGround
		s.assume("%s ground", ground)
	}
	c.Ground = furnace.Grounds()[ground]
	t := furnace.Task{Furnace: c, ChargeKg: load.Kg, HeatMJ: load.HeatMJ, Draws: draws, Seed: seed}
	t.Blower = s.blower(f.Air)
	t.Pipe = s.pipe(f.Pipe)
	switch {
	case f.Working != nil:
		t.WorkingTC = *f.Working
	case load.LiquidusC.Known():
		t.WorkingTC = 10 * math.Ceil((load.LiquidusC.Value+overLiquidus)/10)
		t.WorkingTC = max(t.WorkingTC, 1150) // copper has to run as well
		s.assume("working temperature %.0f °C, %.0f over the liquidus of the slag and no less than 1150", t.WorkingTC, overLiquidus)
	default:
		t.WorkingTC = usualWorking
		s.assume("working temperature %.0f °C", usualWorking)
	}
	t.LiningTC = s.or(f.LiningHolds, 1, furnace.UsualLiningTC, "the lining gives way from", "°C")
	t.PreheatMin = s.or(f.Preheat, 1, furnace.UsualPreheatMin, "heating up for at least", "min")
	t.SettleMin = s.or(f.Settle, 1, furnace.UsualSettleMin, "blowing on after the last charge for", "min")
	if f.Rate != nil {
		t.RateKgH = *f.Rate
	}
	return t, s.assumed
}

// blower is what blows; two bags where nothing is stated.
func (s *settler) blower(a notebook.FurnaceAir) furnace.Blower {
	by := a.By
	if by == "" {
		by = "bag"
		s.assume("air from bag bellows")
	}
	b := furnace.Blowers()[by]
	switch {
	case a.Number != nil:
		b.Number = *a.Number
	case by != "fan":
		b.Number = 2
		s.assume("2 of them at work")
	}
	if by == "blowpipe" || by == "fan" {
		b.Stroke = s.or(a.Flow, 1, b.Stroke, "each blows", "L/min")
	} else {
		b.Stroke = s.or(a.Stroke, 1, b.Stroke, "a stroke", "L")
		b.PerMinute = s.or(a.PerMinute, 1, b.PerMinute, "strokes a minute", "")
	}
	b.Leak = s.or(a.Leak, 0.01, b.Leak, "leakage", "%")
	return b
}

func (s *settler) pipe(p notebook.FurnacePipe) furnace.Pipe {
	out := furnace.ClayPipe(1, s.or(p.Bore, 0.001, 0.025, "bore of the pipe", "mm"), s.or(p.Length, 0.01, 0.5, "length of the pipe", "cm"))
	if p.Number != nil {
		out.Number = *p.Number
	}
	out.Gap = s.or(p.Gap, 0.001, 0, "gap between nozzle and feed pipe", "mm")
	if out.Gap > 0 {
		out.Mouth = s.or(p.Mouth, 0.001, 1.8*out.Bore, "mouth of the feed pipe", "mm")
	}
	if p.Valve != nil {
		out.Valve = *p.Valve
	} else {
		s.assume("bellows with a valve that lets a tenth of an intake come back")
	}
	return out
}
