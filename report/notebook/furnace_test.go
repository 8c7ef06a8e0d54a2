package notebook

import (
	"strings"
	"testing"
)

const furnaceHead = "---\ntitle: T\ndata: a.csv\nfurnace:\n"

func TestFurnace(t *testing.T) {
	n, ns := Parse("notebook.md", []byte(furnaceHead+`  diameter: 40
  ground: wet
  air: {by: piston, number: 2, stroke: 4.5}
  pipe: {bore: 25, gap: 0, valve: false}
  lining_holds: 1280
---
`))
	if len(ns) > 0 {
		t.Fatal(ns)
	}
	f := n.Furnace
	if f.Line != 5 || *f.Diameter != 40 || f.Ground != "wet" || *f.LiningHolds != 1280 || f.Depth != nil {
		t.Errorf("%+v", f)
	}
	if f.Air.By != "piston" || *f.Air.Number != 2 || *f.Air.Stroke != 4.5 || *f.Pipe.Gap != 0 || *f.Pipe.Valve || *f.Pipe.Bore != 25 {
		t.Errorf("%+v", f)
	}
	if got := len(f.Numbers()); got != 5 {
		t.Errorf("%d numbers are stated", got)
	}
}

func TestFurnaceMessages(t *testing.T) {
	for src, want := range map[string]string{
		"  diametre: 40\n":                     `line 5: there is no key "diametre" here; did you mean "diameter"?`,
		"  diameter: wide\n":                   `line 5: "diameter" should be a number, but "wide" stands there`,
		"  diameter: 40\n  ground: moist\n":    `line 6: "ground" is "moist", which is not known; use dry, damp, wet`,
		"  depth: 30\n  air: {by: bellows}\n":  `line 6: "by" is "bellows", which is not known; use blowpipe, bag, piston, fan`,
		"  depth: 30\n  pipe:\n    bore: -2\n": `line 7: "bore" of the furnace is -2; give a number in mm of at least 1`,
		"  air: {stroke: .nan}\n":              `"stroke" should be a number, but ".nan" stands there`,
		"  air: {number: many}\n":              `line 5: "number" should be a whole number, but "many" stands there`,
		"  - 40\n":                             `line 5: "furnace" should be`,
	} {
		_, ns := Parse("notebook.md", []byte(furnaceHead+src+"---\n"))
		if !ns.Failed() || !strings.Contains(texts(ns), want) {
			t.Errorf("%s gives %q, wanted %q", src, texts(ns), want)
		}
	}
}
