package report

import (
	"math"
	"strings"
	"testing"

	"smeltbook/assay"
	"smeltbook/phase/flow"
)

// By a model of the notebook's choice the means between the pages are those of its
// viscosities, and its error counts once.
func TestMeansOfAFlowEntry(t *testing.T) {
	b := &builder{study: smallStudy(t)}
	var groups pair
	for i, name := range []string{"fired", "dug"} {
		g, err := b.study.Campaign.Group(name)
		if err != nil {
			t.Fatal(err)
		}
		groups[i] = g
	}
	m, err := flow.ByKey("urbain_1981")
	if err != nil {
		t.Fatal(err)
	}
	cond := flowConditions{tc: 1250, model: m}
	melts := b.flows(groups, cond)
	v, err := b.flowVariable(cond, melts)
	if err != nil {
		t.Fatal(err)
	}
	one, two := math.Log(melts["A1"].at.Eta), math.Log(melts["A2"].at.Eta)
	u := math.Hypot(math.Ln2, math.Abs(one-two)/2) // s/√n of two
	lines := factorGutter(v, groups)
	if want := "fired " + short(math.Exp((one+two)/2)) + " Pa·s|" + asFactor(u); !strings.Contains(strings.Join(lines, "|"), want) {
		t.Errorf("between the pages stands %q, want %q", lines, want)
	}
	chosen, err := b.flowVariable(flowConditions{tc: 1250}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if s := groups[0].Samples[0]; chosen.Of(s).Value == v.Of(s).Value {
		t.Error("the model that was asked for is not taken")
	}
	if row := spreadRow(chosen, pair{{Samples: groups[0].Samples[:1]}, groups[1]}); strings.Contains(row.Left[0].Text, "÷") {
		t.Errorf("one piece has the scatter %q", row.Left[0].Text)
	}
	if text := strings.Join(factorGutter(v, pair{groups[0], assay.Group{Name: "none"}}), "|"); !strings.Contains(text, "no ratio:") {
		t.Errorf("beside an empty page stands %q", text)
	}
}
