package report

import (
	"testing"

	"smeltbook/assay/source"
)

func TestNoticesOfManySamplesAreToldOnce(t *testing.T) {
	var g sampleNotices
	say := func(sample, message string) {
		g.add(sample, source.Notices{{Severity: source.Warning, Code: "X", Message: message}})
	}
	say("A", "the model does not know Cu2O (1.9 wt%)")
	say("B", "the model does not know Cu2O (12.5 wt%)")
	say("C", "the model does not know ZnO (1.0 wt%)")
	say("D", "the model does not know Cu2O (2.0 wt%)")
	got := g.list(4)
	want := []string{"A, B, D: the model does not know Cu₂O (1.9–12.5 wt%)", "C: the model does not know ZnO (1.0 wt%)"}
	if len(got) != len(want) {
		t.Fatalf("%d notices, want %d: %v", len(got), len(want), got)
	}
	for i := range want {
		if got[i].Message != want[i] {
			t.Errorf("%q, want %q", got[i].Message, want[i])
		}
	}
	var signs sampleNotices
	for _, v := range []string{"−10.3", "−10.5"} {
		signs.add(v, source.Notices{{Code: "X", Message: "log pO2 was below " + v}})
	}
	if got := signs.list(5)[0].Message; got != "−10.3, −10.5: log pO2 was below −10.5 to −10.3" {
		t.Errorf("negative numbers: %q", got)
	}
	var bounds sampleNotices
	for _, v := range []string{"6", "9", "7"} {
		bounds.add(v, source.Notices{{Code: "X", Message: "good to about ±" + v + " °C"}})
	}
	if got := bounds.list(5)[0].Message; got != "6, 9, 7: good to about ±6–9 °C" {
		t.Errorf("numbers behind ±: %q", got)
	}
	if all := g.list(3)[0].Message; all != "all 3 samples: the model does not know Cu₂O (1.9–12.5 wt%)" {
		t.Errorf("for all samples: %q", all)
	}
}
