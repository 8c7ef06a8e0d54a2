package report_test

import (
	"bytes"
	"strings"
	"testing"
)

func TestFragmentsEntry(t *testing.T) {
	e, messages, _ := entry(t, "fragments\neaten: [0, 8]\nground: 10\ndiffusivity: [0.35, 0.7]")
	if len(messages) > 0 {
		t.Fatal(messages)
	}
	text := words(e)
	for _, want := range []string{"6 fragments together", "What cannot be parted", "round or oval cannot be told", "no more than their reading errors", "0 to 16 mm narrower", "lost 0.29–0.69 kg"} {
		if !strings.Contains(text, want) {
			t.Errorf("the entry does not say %q", want)
		}
	}
	if strings.Contains(text, "Assumed") {
		t.Errorf("everything is stated, and the entry assumes: %s", text)
	}
	if n := len(figures(e)); n != 3 {
		t.Fatalf("%d figures, want plan and section and the heat of two walls", n)
	}
	plan := figures(e)[0]
	if plan.ChartJSON != nil || !bytes.Contains(plan.SVG, []byte("LS-W4")) || !bytes.Contains(plan.SVG, []byte("200 mm")) {
		t.Errorf("the plan does not name its pieces and its scale: %s", plan.Caption)
	}
	// A chord of 62 mm with a sagitta of 2.7: 62²/(4·2.7) + 2.7.
	near(t, "diameter of LS-W1", *tables(e)[0].Rows[0].Cells[5].Sort, 62*62/(4*2.7)+2.7)
	if got := tables(e)[0].Rows[4].Cells[5].Sub; got != "187 and more" {
		t.Errorf("LS-W5, 31 mm long, is said to lie at %s", got)
	}
}

func TestFragmentsMistakes(t *testing.T) {
	for block, want := range map[string]string{
		"fragments\nfragments: [LS-W9]":           "no field sheet has a fragment \"LS-W9\"",
		"fragments\neaten: [8, 0]":                "the lesser first",
		"fragments\ndiffusivity: [0, 0.5]":        "lets no heat through",
		"fragments\ndiffusivity: [0.1, 0.2, 0.3]": "two numbers",
	} {
		_, messages, _ := entry(t, block)
		if len(messages) != 1 || !strings.Contains(messages[0], want) {
			t.Errorf("%q: %q, want %q", block, messages, want)
		}
	}
	e, messages, _ := entry(t, "fragments")
	if len(messages) > 0 || !strings.Contains(words(e), "eaten 0 to 10 mm") {
		t.Errorf("an entry without options does not tell what it assumes: %v", messages)
	}
}
