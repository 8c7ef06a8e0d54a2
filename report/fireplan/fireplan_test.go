package fireplan

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"smeltbook/assay"
	"smeltbook/phase/furnace"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
)

// made foresees a load in the furnace of the lines under "furnace:".
func made(t *testing.T, lines string, kg float64) *Plan {
	t.Helper()
	n, ns := notebook.Parse("notebook.md", []byte("---\ntitle: <b>T\ndata: a.csv\ndraws: 60\nseed: 3\n"+lines+"---\n"))
	if ns.Failed() {
		t.Fatal(ns)
	}
	load, err := LoadOf(kg)
	if err != nil {
		t.Fatal(err)
	}
	p, ns, err := Make(context.Background(), &assay.Campaign{}, n, load)
	if err != nil || ns.Failed() {
		t.Fatal(err, ns)
	}
	return p
}

// The notebook's centimetres, millimetres and per cent arrive; what it leaves
// open is told, and nothing else is.
func TestStatedAndAssumed(t *testing.T) {
	p := made(t, "furnace: {diameter: 36, depth: 28, lining: 4, pipe_height: 12, heap: 8, ground: wet, lumps: 3, fixed_carbon: 82, moisture: 6, ambient: 10, working: 1220, lining_holds: 1290, preheat: 40, settle: 20, rate: 2, air: {by: piston, number: 3, stroke: 5, per_minute: 28, leak: 10}, pipe: {number: 2, bore: 22, length: 60, gap: 20, mouth: 40, valve: false}}\n", 6)
	f := p.Furnace
	for _, x := range []struct {
		name      string
		got, want float64
	}{
		{"diameter", f.Bowl.Diameter, 0.36}, {"depth", f.Bowl.Depth, 0.28}, {"lining", f.Bowl.Lining, 0.04}, {"pipe", f.Bowl.PipeHeight, 0.12}, {"heap", f.Bowl.Heap, 0.08},
		{"lumps", f.Fuel.Lump, 0.03}, {"carbon", f.Fuel.Carbon, 0.82}, {"moisture", f.Fuel.Moisture, 0.06}, {"ambient", f.AmbientTC, 10}, {"working", p.WorkingTC, 1220},
		{"lining holds", p.LiningTC, 1290}, {"settle", p.SettleMin, 20}, {"rate", p.RateKgH, 2}, {"bore", p.Pipe.Bore, 0.022}, {"length", p.Pipe.Length, 0.6}, {"gap", p.Pipe.Gap, 0.02}, {"mouth", p.Pipe.Mouth, 0.04},
		{"air", f.Air.Normal, furnace.Normal(3*5*28*0.9, 10, 1.01325)}, {"ground", f.Ground.Moisture, 0.25},
	} {
		if math.Abs(x.got-x.want) > 1e-9 {
			t.Errorf("%s is %g, stated %g", x.name, x.got, x.want)
		}
	}
	if got := p.Assumed; len(got) != len(modelled()) {
		t.Errorf("everything is stated, but assumed are %v", got)
	}
	open := made(t, "", 6)
	for _, want := range []string{"diameter 40 cm", "lining 3 cm", "damp ground", "air from bag bellows", "leakage 25 %", "working temperature 1230 °C", "gap between nozzle and feed pipe 0 mm", "strokes a minute 25"} {
		if !slices.Contains(open.Assumed, want) {
			t.Errorf("%q is not told in %v", want, open.Assumed)
		}
	}
}

// Heat for a load that is stated by weight: 1.9 MJ a kilogram by handbook heats
// (phase/heat).
func TestLoadOf(t *testing.T) {
	l, err := LoadOf(5)
	if err != nil {
		t.Fatal(err)
	}
	if per := l.HeatMJ / l.Kg; per < 1.6 || per > 2.2 {
		t.Errorf("%g MJ/kg", per)
	}
	for _, kg := range []float64{-1, math.NaN(), 1e4} {
		if _, err := LoadOf(kg); err == nil {
			t.Errorf("%g kg are charged", kg)
		}
	}
}

func TestSheetAndRecord(t *testing.T) {
	p := made(t, "furnace: {air: {by: blowpipe, number: 1}}\n", 4)
	if p.Runs() {
		t.Error("one person blows a bowl of 40 cm")
	}
	var b bytes.Buffer
	if err := page.RenderFurnaceSheet(&b, p.Sheet("test")); err != nil {
		t.Fatal(err)
	}
	html := b.String()
	for _, want := range []string{"Will not run as planned", "&lt;b&gt;T", "Carbon monoxide kills", "never draws breath", "damp: dry the pit", "whether the charge holds arsenic", "local codes"} {
		if !strings.Contains(html, want) {
			t.Errorf("the sheet lacks %q", want)
		}
	}
	if strings.Contains(html, "<script") || strings.Contains(html, "NaN") || strings.Contains(html, "http:") {
		t.Error("the sheet holds what it should not")
	}
	text, err := json.Marshal(p.Record())
	if err != nil {
		t.Fatal(err)
	}
	var back map[string]any
	if err := json.Unmarshal(text, &back); err != nil || back["runs"] != false || back["blowers"] != 1.0 || back["fails_first"] != "too_cold" {
		t.Errorf("%v %s", err, text)
	}
	// Moist wood in the open is not hot enough and burns copper (common practice).
	if open := p.Fires[0]; open.TC > 1200 || open.Free < 0.05 {
		t.Errorf("%+v", open)
	}
	if len(p.Pipes) != 0 || len(p.Grounds) != 3 || len(p.Grounds[0].Watts) != len(Hours()) {
		t.Errorf("%+v %+v", p.Pipes, p.Grounds)
	}
}

// Shares of the ranking stay with their parameters when sorted.
func TestEffects(t *testing.T) {
	p := made(t, "", 4)
	effects := p.Effects()
	if len(effects) != len(p.Ranking) {
		t.Fatalf("%d of %d", len(effects), len(p.Ranking))
	}
	for i, e := range effects {
		if i > 0 && e.Total > effects[i-1].Total {
			t.Errorf("%s stands behind %s", e.Key, effects[i-1].Key)
		}
		for _, r := range p.Ranking {
			if r.Name == e.Key && r.Total != e.Total {
				t.Errorf("%s has %g and %g", e.Key, e.Total, r.Total)
			}
		}
	}
}

// What cannot be is one sentence with its line.
func TestImpossible(t *testing.T) {
	for lines, want := range map[string]string{
		"furnace: {diameter: 500}\n":                       "the diameter of the bowl is 500 cm",
		"furnace: {depth: 20, pipe_height: 19, heap: 0}\n": "that is no closed bed",
		"furnace: {air: {number: 0}}\n":                    "0 blowers are impossible",
		"furnace: {pipe: {bore: 900}}\n":                   "a bore of 900 mm",
		"furnace: {working: 2500}\n":                       "the working temperature is 2500",
	} {
		n, ns := notebook.Parse("notebook.md", []byte("---\ntitle: T\ndata: a.csv\ndraws: 60\n"+lines+"---\n"))
		if ns.Failed() {
			t.Fatal(ns)
		}
		load, err := LoadOf(1)
		if err != nil {
			t.Fatal(err)
		}
		_, ns, err = Make(context.Background(), &assay.Campaign{}, n, load)
		if err != nil || !ns.Failed() || !strings.Contains(ns[0].Error(), want) || !strings.Contains(ns[0].Error(), "line 5") {
			t.Errorf("%s gives %v, %v", lines, ns, err)
		}
	}
}
