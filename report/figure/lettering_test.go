package figure

import (
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/recorder"
)

// drawn lays a figure out, draws it on a recorder, and returns the pen with
// every text's place.
func drawn(t *testing.T, f Figure, mm float64) *pen {
	t.Helper()
	d, err := f.drawing(mm)
	if err != nil {
		t.Fatal(err)
	}
	return d.on(new(recorder.Canvas))
}

// checkLettering fails where two texts overlap or one leaves the figure.
func checkLettering(t *testing.T, p *pen) {
	t.Helper()
	if len(p.texts) < 5 {
		t.Errorf("only %d texts", len(p.texts))
	}
	for i, a := range p.texts {
		if !a.within(p.width, p.height) {
			t.Errorf("%q leaves the figure of %.0f × %.0f pt: %.1f", p.lines[i], p.width, p.height, a)
		}
		for k := range i {
			if a.overlaps(p.texts[k]) {
				t.Errorf("%q overlaps %q", p.lines[i], p.lines[k])
			}
		}
	}
}

func TestFitAndWrap(t *testing.T) {
	long := "a label that is much too long for its place"
	for w := vg.Length(0); w < 160; w += 7 {
		if s := small.fit(long, w); small.width(s) > w {
			t.Errorf("fit to %v gives %q, %v wide", w, s, small.width(s))
		}
		for _, line := range small.wrap(long, w) {
			if small.width(line) > w {
				t.Errorf("wrap to %v gives %q, %v wide", w, line, small.width(line))
			}
		}
	}
	if s := small.fit("short", 100); s != "short" {
		t.Errorf("fit changed a short text to %q", s)
	}
	if s := small.fit(long, 60); !strings.HasSuffix(s, "…") || !strings.HasPrefix(long, strings.TrimSuffix(s, "…")) {
		t.Errorf("fit(long, 60) = %q", s)
	}
	if got := strings.Join(small.wrap(long, 60), " "); got != long {
		t.Errorf("wrap lost words: %q", got)
	}
}

func TestBoxesOverlap(t *testing.T) {
	a := uprightBox(0, 0, 10, 4)
	tests := []struct {
		name string
		b    box
		want bool
	}{
		{"the same", a, true},
		{"beside", uprightBox(10, 0, 12, 4), false},
		{"inside", uprightBox(2, 1, 3, 2), true},
		{"turned, corner in", turned(-3, -3, 3, 3, 0.785398, vg.Point{X: 13, Y: 2}), true},
		{"turned, only the surrounding squares meet", turned(-3, -3, 3, 3, 0.785398, vg.Point{X: 13, Y: 7}), false},
	}
	for _, tt := range tests {
		if got := a.overlaps(tt.b); got != tt.want || tt.b.overlaps(a) != tt.want {
			t.Errorf("%s: overlap %v, want %v", tt.name, got, tt.want)
		}
	}
	if !a.meets(vg.Point{X: -1, Y: 2}, vg.Point{X: 20, Y: 2}) || a.meets(vg.Point{X: -1, Y: 5}, vg.Point{X: 20, Y: 5}) ||
		a.meets(vg.Point{X: 11, Y: 2}, vg.Point{X: 20, Y: 2}) {
		t.Error("meets is wrong about a level line")
	}
}
