package report_test

import (
	"strings"
	"testing"
)

// The sample campaign's ores hold arsenic, and its bench used hydrofluoric acid.
func TestCautionsNameWhatTheDataCallFor(t *testing.T) {
	e, messages, _ := entry(t, "cautions")
	if len(messages) > 0 {
		t.Error(messages)
	}
	text := words(e)
	for _, want := range []string{"Local codes and licensed practice go before", "Carbon monoxide kills", "damp ground", "silica dust",
		"wt% arsenic, and its fume is poison", "Hydrofluoric acid goes through skin", "The number is from lab/handheld.csv, cell "} {
		if !strings.Contains(text, want) {
			t.Errorf("the cautions do not say %q:\n%s", want, text)
		}
	}
	if strings.Contains(text, "monoxide. Carbon monoxide") {
		t.Errorf("a name stands twice:\n%s", text)
	}
	fumes := tables(e)[0]
	if row := fumes.Rows[0].Cells; row[0].Text != "Arsenic" || !strings.HasPrefix(row[1].Text, "0.1") || row[1].Sub != "OV-ORE-W-2" || row[2].Text != "lab/handheld.csv, cell N49" {
		t.Errorf("row of arsenic: %+v", row)
	}
}
