package page

import (
	"strings"
	"testing"
)

// A value, its ± and its unit stand on one line; what follows may break.
func TestValuesHoldTogether(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"it is 39.5 ± 1.7 % of it", "it is 39.5~±~1.7~% of it"},
		{"1184 ± 33 °C, 8.5 ± 2.7 wt% and 4 ± 1", "1184~±~33~°C, 8.5~±~2.7~wt% and 4~±~1"},
		{"0.6 ± 0.2 Pa·s.", "0.6~±~0.2~Pa·s."},
		{"3 ± 1 grains", "3~±~1 grains"}, {"2 ± 1 kgs", "2~±~1 kgs"},
		{"± is a standard uncertainty", "± is a standard uncertainty"}, {"mean ± s", "mean ± s"}, {"", ""},
	} {
		if got := strings.ReplaceAll(hold(c.text), "\u00a0", "~"); got != c.want {
			t.Errorf("%q is set as %q, want %q", c.text, got, c.want)
		}
	}
	for _, p := range []Part{&Figure{Caption: "1 ± 2 %"}, &Table{Caption: "1 ± 2 %", Notes: []string{"1 ± 2 %"}}, &Spread{Caption: "1 ± 2 %"}, Lines("1 ± 2 %"), &Photographs{Caption: "1 ± 2 %"}} {
		switch h := held(p).(type) {
		case *Figure:
			if strings.Contains(h.Caption, " ") {
				t.Errorf("the caption %q may break", h.Caption)
			}
		case *Table:
			if strings.Contains(h.Caption+h.Notes[0], " ") {
				t.Errorf("the table's texts may break: %q", h.Caption)
			}
		case *Text:
			if strings.Contains(h.Paragraphs[0][0].Text, " ") {
				t.Errorf("the text %q may break", h.Paragraphs[0][0].Text)
			}
		}
	}
}
