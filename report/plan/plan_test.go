package plan

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"smeltbook/assay"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
)

const (
	samplesCSV = "id,kind,origin\nORE-A-1,ore,natural\nORE-A-2,ore,natural\nORE-B-1,ore,natural\nIRON-1,flux,natural\nLIME-1,flux,natural\nWALL-1,lining,experimental\nASH-1,ash,experimental\nDRY-1,flux,natural\n"
	xrfCSV     = "Sample,SiO2,±,Al2O3,±,Fe2O3*,±,CaO,±,CuO,±,As,±,LOI\n,wt%,wt%,wt%,wt%,wt%,wt%,wt%,wt%,wt%,wt%,wt%,wt%,wt%\n" +
		"ORE-A-1,50,0.5,4,0.1,22,0.3,1,0.05,12,0.2,0.2,0.02,10\nORE-A-2,51,0.5,4,0.1,22,0.3,1,0.05,12,0.2,0.2,0.02,10\nORE-B-1,20,0.3,2,0.1,35,0.3,1,0.05,25,0.2,0.2,0.02,16\n" +
		"IRON-1,10,0.2,2,0.1,76,0.5,0.5,0.02,0.1,0.02,0.01,0.005,11\nLIME-1,4,0.1,1,0.1,0.5,0.05,52,0.3,0.01,0.005,0.01,0.005,42\n" +
		"WALL-1,66,0.5,20,0.3,7,0.1,1.5,0.05,0.1,0.02,0.01,0.005,1\nASH-1,12,0.2,3,0.1,2,0.1,60,0.5,0.1,0.02,0.01,0.005,18\n"
)

// season makes a campaign and its notebook with the lines of a charge.
func season(t *testing.T, charge string) (*assay.Campaign, *notebook.Notebook) {
	t.Helper()
	dir := t.TempDir()
	text := "---\ntitle: A season\ndata: [samples.csv, xrf.csv]\ndraws: 60\nseed: 3\n" + charge + "---\n"
	for name, content := range map[string]string{"samples.csv": samplesCSV, "xrf.csv": xrfCSV} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(content), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	n, ns := notebook.Parse(assay.NotebookName, []byte(text))
	if ns.Failed() {
		t.Fatal(ns)
	}
	c, err := assay.Load(context.Background(), dir, n.Config, nil)
	if err != nil || c.Notices.Failed() {
		t.Fatal(err, c.Notices)
	}
	return c, n
}

func made(t *testing.T, charge string) *Plan {
	t.Helper()
	c, n := season(t, charge)
	p, ns, err := Make(context.Background(), c, n)
	if err != nil || ns.Failed() {
		t.Fatal(err, ns)
	}
	return p
}

const usual = `charge:
  ores: {ORE-A: {share: [0.5, 1]}, ORE-B: {share: [0, 0.3], store: 0.9}}
  fluxes: {IRON-1: {per_ore: [0, 1]}, LIME-1: {per_ore: [0, 0.2]}}
  lining: {per_ore: 0.1, u: 0.03}
  target: {liquidus: 1250, viscosity: 0.5, at: 1250, CaO/SiO2: [0, 0.4], FeO/SiO2: [1.3, 2]}
  batch: 0.5
  batches: 8
  charcoal: 3
  scale: 0.005
`

// A plan that is met: every asked term holds, the ores sum to a batch, nothing
// beyond the store is charged, and the numbers carry their uncertainties.
func TestMet(t *testing.T) {
	p := made(t, usual)
	if !p.Met || len(p.Ways) > 0 {
		t.Fatalf("not met: %+v", p.Outcomes)
	}
	ore, ironTotal := 0.0, 0.0
	for _, w := range p.Weights {
		switch {
		case w.Kind == assay.Ore:
			ore += w.Batch.Value
		case w.Name == "IRON-1":
			ironTotal = w.Total.Value
		}
		if w.Name == "ORE-B" && w.Total.Value > 0.9+1e-6 {
			t.Errorf("%g kg of ORE-B, and 0.9 are in store", w.Total.Value)
		}
		if math.Abs(w.Total.Value-8*w.Batch.Value) > 1e-9 || w.Share > 0 && math.Abs(w.Total.U-0.005*math.Sqrt(8)) > 1e-9 {
			t.Errorf("%s: %+v", w.Name, w.Total)
		}
	}
	if math.Abs(ore-0.5) > 1e-9 || ironTotal <= 0 {
		t.Errorf("%g kg ore in a batch, %g kg iron flux", ore, ironTotal)
	}
	for _, o := range p.Outcomes {
		if o.Asked && (!o.Met() || o.Chance < 0 || o.Chance > 1 || o.WithModel < 0 || o.WithModel > 1) {
			t.Errorf("%s: %+v", o.Term, o)
		}
		if !(o.SD > 0) {
			t.Errorf("%s has no spread", o.Term.Name())
		}
	}
	if f := p.Fluxing; !f.Known || !(f.Low < 1 && 1 < f.High) || !(f.SD > 0) {
		t.Errorf("flux really needed %+v", f)
	}
	if !(p.Heat.Floor.Value > 0 && p.Heat.Floor.Value < p.Fuel.Total.Value) {
		t.Errorf("charcoal at least %g of %g kg", p.Heat.Floor.Value, p.Fuel.Total.Value)
	}
	if p.WhatIf[0].What != "as planned" || math.Abs(p.WhatIf[0].Factor-1) > 0.01 || !p.WhatIf[0].Met {
		t.Errorf("as planned: %+v", p.WhatIf[0])
	}
	again := made(t, usual)
	a, _ := json.Marshal(p.Record())
	b, _ := json.Marshal(again.Record())
	if !bytes.Equal(a, b) {
		t.Error("the same season gives two records")
	}
}

// Ten per cent more copper mineral is less slag and more copper; more flux is
// more slag.
func TestWhatIf(t *testing.T) {
	p := made(t, usual)
	by := map[string]Variant{}
	for _, v := range p.WhatIf {
		by[v.What] = v
	}
	plan := by["as planned"]
	if v := by["copper of the ore +10 %"]; !(v.Won > plan.Won && v.SlagKg < plan.SlagKg) {
		t.Errorf("richer ore %+v", v)
	}
	for _, what := range []string{"IRON-1", "fuel ash", "wall that melts"} {
		if more, less := by[what+" +10 %"], by[what+" −10 %"]; !(more.SlagKg > plan.SlagKg && less.SlagKg < plan.SlagKg) {
			t.Errorf("%s: %+v %+v", what, more, less)
		}
	}
}

// Volume, charcoal and flux fill the furnace as the bulk densities say.
func TestVolume(t *testing.T) {
	p := made(t, strings.Replace(strings.Replace(usual, "batch: 0.5", "volume: 80", 1), ", store: 0.9", "", 1))
	litres := 0.0
	for _, w := range p.Weights {
		litres += w.Total.Value / stoneBulk
	}
	if litres += p.Fuel.Total.Value / charcoalBulk; math.Abs(litres-80) > 1e-6 {
		t.Errorf("the charge fills %g L of 80", litres)
	}
}

// What cannot be reached is said, with the nearest mixture and ways out.
func TestOutOfReach(t *testing.T) {
	p := made(t, strings.NewReplacer("[0, 1]", "[0, 0.1]", "[0, 0.2]", "[0, 0.02]").Replace(usual))
	if p.Met {
		t.Fatal("met with a tenth of the flux")
	}
	missed, ways := false, ""
	for _, o := range p.Outcomes {
		missed = missed || o.Asked && !o.Met()
	}
	for _, w := range p.Ways {
		if w.Reached {
			ways += w.Text + "\n"
		}
	}
	if !missed || !strings.Contains(ways, "more IRON-1 than the 0.1 kg") {
		t.Errorf("missed %t, ways:\n%s", missed, ways)
	}
	if s := p.Sheet("test"); !strings.Contains(s.Alarm, "Not met: ") {
		t.Errorf("the sheet does not say so: %q", s.Alarm)
	}
}

func TestCautions(t *testing.T) {
	text := ""
	for _, c := range made(t, usual).Cautions {
		text += c.Code + ": " + c.Text + "\n"
	}
	for _, want := range []string{"carbon_monoxide", "molten_metal", "silica_dust", "ORE-A, ORE-B, IRON-1 hold arsenic", "Not every stock was analysed for antimony, lead or sulphur"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
}

func TestBadCharges(t *testing.T) {
	for _, x := range []struct{ from, to, want string }{
		{"ORE-A:", "ORE-C:", `notebook.md, line 7: no sample is "ORE-C" or taken from it, so it cannot be charged; did you mean "ORE-A"?`},
		{"LIME-1:", "DRY-1:", `samples.csv, cell A9: DRY-1 is to be charged (notebook.md, line 8) but has no analysis`},
		{"[0.5, 1]", "[0.1, 0.2]", "line 7: the shares of the ores sum to at least 0.1 and at most 0.425"},
		{"store: 0.9", "store: -1", "line 7: -1 kg of ORE-B in store is impossible"},
		{"liquidus: 1250", "liquidus: 300", "line 10: a liquidus of 300 °C is no aim for a slag"},
		{"liquidus: 1250", "Gold: [1, 2]", `line 10: "Gold" is nothing that can be asked of a slag`},
		{"CaO/SiO2: [0, 0.4]", "SiO2: [45, 60]", "the target is contradictory: SiO2 from 45 to 60 wt% and FeO/SiO2 from 1.3 to 2 contradict each other"},
		{"at: 1250", "at: 2000", `"at" of the target is 2000 °C`},
		{"[0, 1]", "[0, 9]", "9 kg IRON-1 for a kg of ore is more than a charge can be"},
		{"batch: 0.5", "batch: 0.5\n  volume: 60", `both "batch" and "volume"`},
		{"batch: 0.5", "batch: 0.5\n  aim: gold", `"aim" of the charge is "gold"; use least_flux`},
		{"batch: 0.5", "batch: 0.5\n  mineral: malachit", `did you mean "malachite"?`},
		{"batch: 0.5", "batch: 0.5\n  slag_copper: [1, 2, 3]", `"slag_copper" takes`},
		{"lining: {", "lining: {of: WALLS, ", `no sample of the kind lining is "WALLS"`},
	} {
		c, n := season(t, strings.Replace(usual, x.from, x.to, 1))
		_, ns, err := Make(context.Background(), c, n)
		if err != nil || !ns.Failed() || !strings.Contains(ns[0].Error(), x.want) {
			t.Errorf("%s: %v %v, wanted %q", x.to, err, ns, x.want)
		}
	}
	c, n := season(t, "")
	if _, ns, _ := Make(context.Background(), c, n); !ns.Failed() || !strings.Contains(ns[0].Message, "add lines such as charge: {ores: {ORE-A: }, fluxes: {IRON-1: }}") {
		t.Errorf("no charge: %v", ns)
	}
}

// Keys of the record are lower_snake_case.
func TestRecordKeys(t *testing.T) {
	b, err := json.Marshal(made(t, usual).Record())
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range regexp.MustCompile(`"([^"]+)":`).FindAllStringSubmatch(string(b), -1) {
		if !regexp.MustCompile(`^[a-z][a-z0-9_]*$`).MatchString(m[1]) {
			t.Errorf("key %q", m[1])
		}
	}
}

// The sheet holds every weight, a row a batch, and nothing that a name could
// smuggle in.
func TestSheet(t *testing.T) {
	p := made(t, usual)
	p.Title = `<script>alert(1)</script>`
	var b bytes.Buffer
	if err := page.RenderChargeSheet(&b, p.Sheet("test")); err != nil {
		t.Fatal(err)
	}
	html := b.String()
	if strings.Contains(html, "<script") || strings.Count(html, `aria-label="tick"`) != 8 || !strings.Contains(html, "IRON-1") {
		t.Errorf("the sheet:\n%s", html)
	}
}
