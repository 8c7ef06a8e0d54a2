package figure_test

import (
	"math"
	"strings"
	"testing"

	"smeltbook/report/figure"
	"smeltbook/report/figure/figuretest"
)

// Bands are as thick as their shares at both ends, do not cross, stay within
// the drawing, and labels keep the distance of a line.
func TestBandsLayout(t *testing.T) {
	b := figuretest.Bands(5).Body.(*figure.Bands)
	rows, tall := b.Layout()
	last := 0.0
	for i, r := range rows {
		label, right := math.Inf(-1), last
		left := r.Top
		for k, p := range r.Bands {
			want := math.Max(b.Rows[i].Parts[k].Share, 0) * 46
			for _, edges := range [][2]float64{p.Left, p.Right} {
				if math.Abs(edges[1]-edges[0]-want) > 1e-9 {
					t.Errorf("row %d band %d is %v thick, want %v", i, k, edges[1]-edges[0], want)
				}
			}
			if math.Abs(p.Left[0]-left) > 1e-9 || p.Right[0] < right-1e-9 || p.Label-label < 10-1e-9 {
				t.Errorf("row %d band %d: %+v after %v, %v, label %v", i, k, p, left, right, label)
			}
			left, right, label = p.Left[1], p.Right[1], p.Label
			if out := p.Outline(); out[0] != [2]float64{0, p.Left[0]} || out[len(out)/2-1] != [2]float64{1, p.Right[0]} {
				t.Errorf("outline from %v to %v", out[0], out[len(out)/2-1])
			}
		}
		if last = right; r.Bottom > tall || right > tall+1e-9 {
			t.Errorf("row %d ends at %v of %v", i, right, tall)
		}
	}
}

func TestBandsRefused(t *testing.T) {
	for says, change := range map[string]func(*figure.Bands){
		"no row":                func(b *figure.Bands) { b.Rows = nil },
		"place 9":               func(b *figure.Bands) { b.Rows[0].Parts[0].Place = 9 },
		"not a finite":          func(b *figure.Bands) { b.Rows[0].Parts[0].Share = math.NaN() },
		"the shares add":        func(b *figure.Bands) { b.Rows[0].Parts[0].Share = 3 },
		"more than the 6 that ": func(b *figure.Bands) { b.Places = append(b.Places, "one more") },
	} {
		f := figuretest.Bands(2)
		change(f.Body.(*figure.Bands))
		if err := f.Validate(); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%v; want %q", err, says)
		}
	}
	if err := (figure.Figure{ID: "a", Body: (*figure.Bands)(nil)}).Validate(); err == nil {
		t.Error("no body accepted")
	}
}
