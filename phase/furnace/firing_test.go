package furnace

import (
	"context"
	"math"
	"slices"
	"testing"

	"smeltbook/assay/source/checkdata"
)

// usual is a bowl with two bags that is asked to melt some kilograms.
func usual() Task {
	bag := Blowers()["bag"]
	bag.Number = 2
	p := ClayPipe(1, 0.025, 0.5)
	p.Gap, p.Mouth = 0.03, 0.045
	return Task{Furnace: Common(1), Blower: bag, Pipe: p, WorkingTC: 1230, LiningTC: UsualLiningTC, ChargeKg: 6, HeatMJ: 13,
		PreheatMin: UsualPreheatMin, SettleMin: UsualSettleMin, Draws: 200, Seed: 1}
}

func foreseen(t *testing.T, change func(*Task)) Firing {
	t.Helper()
	task := usual()
	change(&task)
	o, err := Foresee(context.Background(), task)
	if err != nil {
		t.Fatal(err)
	}
	return o
}

func risk(o Firing, key string) Risk {
	for _, r := range o.Risks {
		if r.Key == key {
			return r
		}
	}
	return Risk{Margin: math.NaN()}
}

func TestForesee(t *testing.T) {
	o := foreseen(t, func(*Task) {})
	if !o.Runs() {
		t.Errorf("does not run: %+v", o.Risks[0])
	}
	// One to three kilograms of charcoal for one of ore and flux, three to six
	// hours (common practice of such bowls).
	if r := o.Burnt.Value / o.ChargeKg; r < 1 || r > 3.5 {
		t.Errorf("%g kg charcoal for a kg", r)
	}
	if o.TotalH < 2 || o.TotalH > 7 || o.RateKgH > o.MostKgH {
		t.Errorf("%g h at %g of %g kg/h", o.TotalH, o.RateKgH, o.MostKgH)
	}
	checkdata.Near(t, "time", o.TotalH, o.HeatUpMin/60+o.ChargingH+0.5, 1e-9)
	checkdata.Near(t, "ready", o.Charcoal.Value, o.Burnt.Value+o.Bed, 1e-9)
	if o.Need < 1 || o.Need > 2 || o.Sure < o.Need || !(o.SureAir > o.NeedAir) {
		t.Errorf("%d, surely %d bags, %g and %g L/min", o.Need, o.Sure, o.NeedAir, o.SureAir)
	}
}

// Each thing that goes wrong is foreseen where it is provoked.
func TestRisks(t *testing.T) {
	for key, change := range map[string]func(*Task){
		"too_cold": func(o *Task) { o.Blower = Blowers()["blowpipe"]; o.Blower.Number = 2 },
		"blown_through": func(o *Task) {
			o.Blower = Blowers()["fan"]
			o.Blower.Stroke = 900
			o.Furnace.Fuel.Lump = 0.05
			o.Furnace.Bowl.Heap = 0
		},
		"overcharged": func(o *Task) { o.RateKgH = 20 },
		"iron":        func(o *Task) { o.Furnace.Fuel.Lump = 0.012; o.Furnace.Assumption.Reactivity = 3; o.Blower.Number = 6 },
		"lining":      func(o *Task) { o.LiningTC = 1100 },
		"floor":       func(o *Task) { o.Furnace.Bowl.PipeHeight, o.Furnace.Bowl.Depth = 0.35, 0.45 },
		"bellows":     func(o *Task) { o.Pipe.Gap, o.Pipe.Valve = 0, false },
		"people":      func(o *Task) { o.Blower.PerMinute = 60 },
		"damp_ground": func(o *Task) { o.Furnace.Ground = Grounds()["wet"]; o.Furnace.Bowl.Lining = 0.05; o.PreheatMin = 5 },
	} {
		few := func(o *Task) { o.Draws = 40; change(o) }
		o := foreseen(t, few)
		r := risk(o, key)
		if !(r.Margin < 0) {
			t.Errorf("%s is not foreseen: %+v", key, r)
		}
		if o.Runs() == r.Stops || r.Stops != o.Risks[0].Stops {
			t.Errorf("%s: runs %v, first comes %+v", key, o.Runs(), o.Risks[0])
		}
	}
}

// Without a charge there is a fire and nothing to overload it.
func TestForeseeWithoutCharge(t *testing.T) {
	o := foreseen(t, func(o *Task) { o.ChargeKg, o.HeatMJ = 0, 0 })
	if o.ChargingH != 0 || !math.IsNaN(risk(o, "overcharged").Margin) || o.State.Charge != 0 {
		t.Errorf("%+v", o)
	}
}

func TestForeseeRefuses(t *testing.T) {
	for name, change := range map[string]func(*Task){
		"no bellows": func(o *Task) { o.Blower = Blower{} },
		"no pipe":    func(o *Task) { o.Pipe = Pipe{} },
		"2000 °C":    func(o *Task) { o.WorkingTC = 2000 },
		"no draws":   func(o *Task) { o.Draws = 0 },
	} {
		task := usual()
		change(&task)
		if _, err := Foresee(context.Background(), task); err == nil {
			t.Errorf("%s is foreseen", name)
		}
	}
}

func TestLongFiringIsTold(t *testing.T) {
	o := foreseen(t, func(o *Task) { o.ChargeKg, o.RateKgH, o.Draws = 60, 0.5, 40 })
	if !slices.Contains(o.Notices.Codes(), "LONG") || o.TotalH < 120 {
		t.Errorf("%g h: %v", o.TotalH, o.Notices)
	}
}

// The ground of the firing itself is among those compared, at its own flow.
func TestGrounds(t *testing.T) {
	o := foreseen(t, func(o *Task) { o.Furnace.Ground, o.Draws = Grounds()["damp"], 40 })
	h := o.Furnace.Hours
	cs, err := o.Grounds([]float64{h / 2, h, 2 * h})
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "its own ground", cs[1].Watts[1], o.State.Wall, 0.02*o.State.Wall)
	for i := range cs {
		if w := cs[i].Watts; !(w[0] > w[1] && w[1] > w[2]) {
			t.Errorf("%s: %v", cs[i].Name, w)
		}
		if i > 0 && !(cs[i].Watts[2] > cs[i-1].Watts[2] && cs[i].Dried[2] < cs[i-1].Dried[2]) {
			t.Errorf("%+v beside %+v", cs[i], cs[i-1])
		}
	}
}

// A pipe in one piece ruins bellows without a valve; two pieces with one do best
// (common practice).
func TestPipes(t *testing.T) {
	o := foreseen(t, func(o *Task) { o.Draws = 40 })
	ps, err := o.Pipes()
	if err != nil || len(ps) != 4 {
		t.Fatal(ps, err)
	}
	if ps[0].Survives || ps[0].Pieces != 1 || ps[0].Valve || !ps[3].Survives || ps[3].BellowsTC >= ps[1].BellowsTC {
		t.Errorf("%+v", ps)
	}
	o.Blower = Blowers()["fan"]
	if ps, err := o.Pipes(); err != nil || ps != nil {
		t.Errorf("a fan draws back: %v, %v", ps, err)
	}
}
