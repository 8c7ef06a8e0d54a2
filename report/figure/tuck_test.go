package figure

import (
	"math"
	"strings"
	"testing"
)

// A subscript stands as close to its letter as a digit does, within a tenth of the
// type size, and the pieces of a line are where its measured width has them.
func TestSubscriptsStandClose(t *testing.T) {
	l := lettering{size: 10}
	face := l.face()
	if got, want := float64(l.width("SiO₂")), float64(l.width("SiO"))+0.336*10; math.Abs(got-want) > 0.05 {
		t.Errorf("SiO₂ is %.2f wide, want %.2f: two thirds of a digit of 0.556 for the subscript", got, want)
	}
	for _, line := range []string{"SiO₂", "Al₂O₃ (wt%)", "₂", "FeO", "Cu₁₂S", ""} {
		pieces, at := runsOf(face, line)
		if strings.Join(pieces, "") != line {
			t.Errorf("%q is taken apart into %q", line, pieces)
		}
		if n := len(pieces); n > 0 && !strings.ContainsAny(pieces[n-1], "₁₂₃") {
			if end := at[n-1] + face.Width(pieces[n-1]); math.Abs(float64(end-l.width(line))) > 1e-9 {
				t.Errorf("%q ends at %v and is measured %v", line, end, l.width(line))
			}
		}
	}
}
