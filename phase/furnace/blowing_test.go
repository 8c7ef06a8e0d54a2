package furnace

import (
	"math"
	"testing"

	"smeltbook/assay/quantity"
	"smeltbook/assay/source/checkdata"
)

// The friction factor after Colebrook, read off Moody's chart (textbook, from
// memory): smooth at 10⁴ 0.0309, ε/D 0.001 at 10⁵ 0.0222, 0.01 at 10⁶ 0.0379.
func TestFriction(t *testing.T) {
	for _, row := range []struct{ re, rough, want float64 }{{1e4, 0, 0.0309}, {1e5, 0.001, 0.0222}, {1e6, 0.01, 0.0379}, {1000, 0.01, 0.064}} {
		checkdata.Near(t, "friction", Friction(row.re, row.rough), row.want, 0.02*row.want)
	}
	// A head of ½ρv² and half of one, friction left aside.
	p := ClayPipe(1, 0.02, 0.05)
	p.Rough = 0
	pa, v := p.Drop(300)
	checkdata.Near(t, "velocity", v, 0.005/(math.Pi*1e-4), 1e-6)
	if head := 1.225 / 2 * v * v; pa < 1.5*head || pa > 1.7*head {
		t.Errorf("%g Pa of a head of %g", pa, head)
	}
	two := ClayPipe(2, 0.02, 0.05)
	if half, _ := two.Drop(300); half > 0.35*pa {
		t.Errorf("two pipes need %g Pa, one %g", half, pa)
	}
}

func TestBlowers(t *testing.T) {
	bag := Blower{Kind: "bag", Number: 2, Stroke: 8, PerMinute: 25, Leak: 0.25, Duty: 0.5}
	checkdata.Near(t, "two bags", bag.Free(), 300, 1e-9)
	checkdata.Near(t, "at 0 °C", bag.Air(15, 1.01325).Normal, 300*273.15/288.15, 1e-9)
	if n := bag.For(301); n != 3 {
		t.Errorf("301 L/min of bags of 150 take %d", n)
	}
	if n := bag.For(300); n != 2 {
		t.Errorf("300 L/min of bags of 150 take %d", n)
	}
	// One adult blows 75 L/min at most (tf.uni-kiel.de): four do not fire a bowl
	// of 40 cm to what slag needs, eight do (common practice: blowpipes are for
	// crucibles and small hearths).
	pipes := Blowers()["blowpipe"]
	pipes.Number = 3
	if pipes.Free() > 3*MostBlowpipe {
		t.Errorf("three people blow %g L/min", pipes.Free())
	}
	f := Common(100)
	f.Air = pipes.Air(15, 1.01325)
	if s := solved(t, f); s.HotTC() > 1200 {
		t.Errorf("three blowpipes make %.0f °C in a bowl of 40 cm", s.HotTC())
	}
	// 500 Pa against 200 L/min is 1.7 W of air.
	checkdata.Near(t, "work", Blower{Kind: "bag", Stroke: 8, PerMinute: 25}.Watts(500), 500*200./60000/halfUseful, 1e-9)
	for _, b := range []Blower{{}, {"horn", 1, 5, 20, 0, 1}, {"bag", 0, 5, 20, 0, 1}, {"bag", 1, 5, 20, 1, 1}, {"bag", 1, math.NaN(), 20, 0, 1}, {"bag", 1, 5, 0, 0, 1}, {"bag", 1, 5, 20, 0, 0}} {
		if b.Check() == nil {
			t.Errorf("%+v is accepted", b)
		}
	}
	for name, b := range Blowers() {
		if err := b.Check(); err != nil || b.Kind != name {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// A pipe in one piece ruins the bellows, one in two pieces with a gap spares
// them (common practice).
func TestBackdraw(t *testing.T) {
	bag := Blowers()["bag"]
	one := ClayPipe(1, 0.025, 0.5)
	one.Valve = false
	two := one
	two.Gap, two.Mouth = 0.03, 0.045
	valved := two
	valved.Valve = true
	back := func(p Pipe) Backdraw {
		t.Helper()
		b, err := p.Back(bag, 1400, 0.15, 15)
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	ruined, spared := back(one), back(valved)
	if ruined.Survives || ruined.BellowsTC < 200 {
		t.Errorf("one piece, no valve: %+v", ruined)
	}
	if !spared.Survives || spared.BellowsTC > 40 {
		t.Errorf("two pieces and a valve: %+v", spared)
	}
	if mid := back(two); !(mid.BellowsTC < ruined.BellowsTC && mid.BellowsTC > spared.BellowsTC) {
		t.Errorf("two pieces, no valve: %+v", mid)
	}
	if !(ruined.Monoxide > 10*spared.Monoxide) {
		t.Errorf("CO in the bellows: %g and %g", ruined.Monoxide, spared.Monoxide)
	}
	// The end in the fire has its heat, the other end is cooler.
	checkdata.Near(t, "hot end", spared.Along[0], 1400, 1e-9)
	if spared.Along[len(spared.Along)-1] > 60 {
		t.Errorf("%v", spared.Along)
	}
	// Nothing comes back through a blowpipe that is blown one way or a fan.
	if b, err := one.Back(Blowers()["fan"], 1400, 0.15, 15); err != nil || b.Share != 0 || b.BellowsTC != 15 {
		t.Errorf("%+v, %v", b, err)
	}
	// A jet of 25 mm over 30 mm is 38 mm wide: a mouth of 45 mm takes all of it.
	if s := two.Spilt(); s != 0 {
		t.Errorf("spilt %g", s)
	}
	two.Mouth = 0.03
	checkdata.Near(t, "spilt", two.Spilt(), 1-math.Pow(30/(25+2*30*0.21256), 2), 1e-4)
	for _, p := range []Pipe{{}, {Number: 1, Bore: 0.02, Length: 0.5, Wall: 0.01, Gap: 0.02}} {
		if _, err := p.Back(bag, 1400, 0.1, 15); err == nil {
			t.Errorf("%+v is accepted", p)
		}
	}
}

// Air against charcoal: 8.908 m³ to CO2 and 4.454 to CO for a kg of carbon
// (worked apart), so 10 kg of carbon in 4 h.
func TestBudget(t *testing.T) {
	exact := func(x float64, unit string) quantity.Quantity { return quantity.WithU(x, 0.02*x, unit, "given") }
	for _, row := range []struct {
		cubic float64
		y     float64
	}{{89.08, 0}, {44.54, 1}, {66.81, 0.5}} {
		b, err := BudgetOf(exact(row.cubic/240*1000, "L/min"), exact(4, "h"), exact(12.5, "kg"), exact(0.8, "1"))
		if err != nil {
			t.Fatal(err)
		}
		checkdata.Near(t, "share to CO", b.Monoxide.Value, row.y, 0.001)
		checkdata.Near(t, "least", b.Least.Value, 44.54/240*1000, 0.1)
		checkdata.Near(t, "most", b.Most.Value, 89.08/240*1000, 0.1)
		if !b.Holds || len(b.Notices) != 0 {
			t.Errorf("%g: %v", row.cubic, b.Notices)
		}
	}
	over, err := BudgetOf(exact(600, "L/min"), exact(4, "h"), exact(12.5, "kg"), exact(0.8, "1"))
	if err != nil || over.Holds || over.Notices[0].Code != "AIR_OVER_CHARCOAL" {
		t.Errorf("%+v, %v", over, err)
	}
	under, err := BudgetOf(exact(100, "L/min"), exact(4, "h"), exact(12.5, "kg"), exact(0.8, "1"))
	if err != nil || under.Holds || under.Notices[0].Code != "CHARCOAL_OVER_AIR" {
		t.Errorf("%+v, %v", under, err)
	}
	if _, err := BudgetOf(exact(0, "L/min"), exact(4, "h"), exact(12.5, "kg"), exact(0.8, "1")); err == nil {
		t.Error("no air has a budget")
	}
}
