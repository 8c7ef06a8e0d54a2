package notebook

import (
	"strings"
	"testing"
)

const chargeHead = "---\ntitle: T\ndata: a.csv\ncharge:\n"

func TestCharge(t *testing.T) {
	n, ns := Parse("notebook.md", []byte(chargeHead+`  ores: {A: {share: [0.5, 1], store: 3}, B: }
  fluxes: {F: {per_ore: 0.2, moisture: 2}}
  ash: {of: ASH, percent: 2.6, u: 0.2}
  target: {liquidus: 1200, at: 1250, FeO/SiO2: [1, 2]}
  batch: 0.5
---
`))
	if len(ns) > 0 {
		t.Fatal(ns)
	}
	c := n.Charge
	if len(c.Ores) != 2 || *c.Ores[0].Limits != (Span{0.5, 1}) || *c.Ores[0].Store != 3 || c.Ores[1].Limits != nil || c.Ores[0].Line != 5 {
		t.Errorf("ores %+v", c.Ores)
	}
	if *c.Fluxes[0].Limits != (Span{0.2, 0.2}) || *c.Fluxes[0].Moisture != 2 {
		t.Errorf("fluxes %+v", c.Fluxes)
	}
	if len(c.Target) != 2 || c.Target[0] != (ChargeLimit{"liquidus", Span{0, 1200}, 8}) || c.Target[1] != (ChargeLimit{"FeO/SiO2", Span{1, 2}, 8}) || *c.At != 1250 {
		t.Errorf("target %+v", c.Target)
	}
	if *c.Ash.Amount != 2.6 || *c.Ash.U != 0.2 || c.Ash.Of[0] != "ASH" || c.Lining != nil || *c.Batch != 0.5 {
		t.Errorf("%+v", c)
	}
}

func TestChargeMessages(t *testing.T) {
	for src, want := range map[string]string{
		"  ores: {A: {share: [1, 0.5]}}\n":    `line 5: "share" from 1 to 0.5 contradicts itself; give the lower limit first`,
		"  ores: {A: {share: [-0.5, 1]}}\n":   `line 5: "share" has -0.5, and a limit is never negative`,
		"  fluxes: {A: {per_ore: [1,2,3]}}\n": `line 5: "per_ore" takes one number, or two with the lower first, but 3 stand there`,
		"  target: {FeO/SiO2: 1.5}\n":         `line 5: "FeO/SiO2" needs the least and the most that will do`,
		"  target: {liquidus: hot}\n":         `line 5: "liquidus" should be a number, but "hot" stands there`,
		"  batch: 0\n":                        `"batch" of the charge is 0; give a number above zero`,
		"  batches: 0\n":                      `"batches" of the charge is 0; a firing has at least one`,
		"  bach: 1\n":                         `line 5: there is no key "bach" here; did you mean "batch"?`,
	} {
		_, ns := Parse("notebook.md", []byte(chargeHead+src+"---\n"))
		if !ns.Failed() || !strings.Contains(texts(ns), want) {
			t.Errorf("%s gives %q, wanted %q", src, texts(ns), want)
		}
	}
}
