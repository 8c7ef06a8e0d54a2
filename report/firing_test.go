package report_test

import (
	"strings"
	"testing"
)

const firingBlock = "firing\nfirings: [KR-F2, KR-F3]\ntemperatures: [1085, 1150, 1200]\ncouple: K\nclass: 2\ngap: 5\ndiameter: 40\ncarbon: 80\nair_at: 15"

func TestFiringEntry(t *testing.T) {
	e, messages, _ := entry(t, firingBlock)
	if len(messages) > 0 {
		t.Fatal(messages)
	}
	if n := len(figures(e)); n != 2 {
		t.Errorf("%d figures, want one for each firing", n)
	}
	text := words(e)
	for _, want := range []string{"Firing KR-F3, 2026-07-11", "is a least for the hottest place", "Bottom read nothing", "read nothing after"} {
		if !strings.Contains(text, want) {
			t.Errorf("the entry does not say %q", want)
		}
	}
	if strings.Contains(text, "Assumed") || strings.Contains(text, "differ ") {
		t.Errorf("everything is stated and agrees, and the entry says: %s", text)
	}
	beside := tables(e)[2]
	got := map[string]float64{}
	for _, r := range beside.Rows {
		if r.Cells[4].Text != "agree" {
			t.Errorf("%s %s: log and sheet %s", r.Cells[0].Text, r.Cells[1].Text, r.Cells[4].Text)
		}
		got[r.Cells[0].Text+" "+r.Cells[1].Text] = *r.Cells[2].Sort
	}
	// 11.2 kg of charcoal in eleven charges over three hours, 15.6 over four.
	near(t, "charcoal of KR-F2", got["KR-F2 charcoal, kg"], 11.2)
	near(t, "charcoal of KR-F3", got["KR-F3 charcoal, kg"], 15.6)
	near(t, "hours of KR-F2", got["KR-F2 air on, h"], 3)
	near(t, "hours of KR-F3", got["KR-F3 air on, h"], 4)
	// (15.6 − 4.6) kg in 4 h on a circle of 40 cm.
	burning := tables(e)[1]
	near(t, "rate", *burning.Rows[1].Cells[3].Sort, 11./4)
	near(t, "rate of the section", *burning.Rows[1].Cells[5].Sort, 11./4/(3.14159265358979/4*0.16))
}

func TestFiringAssumes(t *testing.T) {
	e, messages, _ := entry(t, "firing")
	if len(messages) > 0 {
		t.Fatal(messages)
	}
	text := words(e)
	for _, want := range []string{"Assumed", "class 2", "gap 5 minutes", "diameter 40 cm", "carbon 80 %", "air at 15 °C"} {
		if !strings.Contains(text, want) {
			t.Errorf("the entry does not say %q", want)
		}
	}
}

func TestFiringMistakes(t *testing.T) {
	for block, want := range map[string]string{
		"firing\nfirings: [KR-F9]":      "no field sheet logs a firing \"KR-F9\"",
		"firing\nclass: 3":              "class of tolerance is 1 or 2",
		"firing\ncouple: Q":             "couple is one of",
		"firing\ntemperatures: [12000]": "from 100 to 1700",
		"firing\ngap: 0":                "gap is in minutes",
	} {
		_, messages, _ := entry(t, block)
		if len(messages) != 1 || !strings.Contains(messages[0], want) {
			t.Errorf("%q: %q, want %q", block, messages, want)
		}
	}
}
