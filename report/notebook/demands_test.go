package notebook

import (
	"testing"

	"smeltbook/assay/source"
)

const demandsFront = `---
title: t
data: [x.csv]
recipe:
  correct:
    handheld XRF: {analytes: [Cu, Fe], kinds: slag}
quality:
  totals:
    WD-XRF: {good: [99.2, 100.8], accept: [99, 101]}
  target: {Cu: 3 %, SiO2: 0.01}
---
`

func TestDemands(t *testing.T) {
	n, ns := Parse("notebook.md", []byte(demandsFront))
	if len(ns) > 0 {
		t.Fatal(ns)
	}
	q := n.Config.Quality
	if l := q.Totals["WD-XRF"]; l.Good != [2]float64{99.2, 100.8} || l.Accept != [2]float64{99, 101} || l.Use != [2]float64{95, 105} {
		t.Errorf("%+v", l)
	}
	if q.Targets["Cu"] != 0.03 || q.Targets["SiO2"] != 0.01 {
		t.Errorf("%v", q.Targets)
	}
	c := n.Config.Recipe.Correct
	if len(c) != 1 || c[0].Method != "handheld XRF" || len(c[0].Analytes) != 2 || c[0].Kinds[0] != "slag" || c[0].Line != 6 {
		t.Errorf("%+v", c)
	}
}

func TestDemandsThatCannotBe(t *testing.T) {
	for front, want := range map[string]string{
		"quality: {totals: {WD-XRF: {good: [99]}}}":            "notebook.md, line 4: limits of a total are two numbers, as in accept: [98.5, 101.5], not 1",
		"quality: {totals: {WD-XRF: {good: [98, 102]}}}":       "notebook.md, line 4: the totals of \"WD-XRF\": limits of a total must lie inside each other, but 98–102, 98.5–101.5 and 95–105 do not",
		"quality: {target: {Copper: 3 %}}":                     "notebook.md, line 4: \"Copper\" is no oxide or element known here; write it as SiO2 or Cu",
		"quality: {target: {Cu: 300 %}}":                       "notebook.md, line 4: the uncertainty of \"Cu\" should be relative, 0.05 or 5 % for one part in twenty, but \"300 %\" stands there",
		"recipe: {correct: {handheld XRF: {kinds: [slag]}}}":   "notebook.md, line 4: the correction of \"handheld XRF\" names no analytes; write for example {analytes: [Cu], kinds: [slag]}",
		"recipe: {correct: {handheld XRF: {analytes: [Coo]}}}": "notebook.md, line 4: \"Coo\" is no oxide or element known here; write it as SiO2 or Cu",
	} {
		_, ns := Parse("notebook.md", []byte("---\ntitle: t\ndata: [x.csv]\n"+front+"\n---\n"))
		if bad := ns.Of(source.Error); len(bad) != 1 || bad[0].Error() != want {
			t.Errorf("%s\n got %v\nwant %s", front, bad, want)
		}
	}
}
