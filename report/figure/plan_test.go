package figure_test

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"smeltbook/report/figure"
	"smeltbook/report/figure/figuretest"
)

// A plan names its scale and its pieces, at every width, the same each time.
func TestPlan(t *testing.T) {
	for _, width := range []float64{figure.MinWidthMM, 132, 180, 300} {
		f := figuretest.Plan()
		svg, err := f.SVG(width)
		if err != nil {
			t.Fatal(err)
		}
		for _, want := range []string{">plan<", ">200 mm<", "inside 340 mm", "allowed 300 to 420", "750–900 °C", "hot face"} {
			if !bytes.Contains(svg, []byte(want)) {
				t.Errorf("at %g mm the plan does not say %q", width, want)
			}
		}
		if again, _ := f.SVG(width); !bytes.Equal(svg, again) {
			t.Error("two drawings of one plan differ")
		}
	}
}

func TestPlanRefuses(t *testing.T) {
	for what, spoil := range map[string]func(*figure.Plan){
		"no range":  func(p *figure.Plan) { p.Low = 350 },
		"a wall":    func(p *figure.Plan) { p.Wall = math.NaN() },
		"ends at":   func(p *figure.Plan) { p.Layers[1].Outer = 2 },
		"in a ring": func(p *figure.Plan) { p.Pieces[0].Chord = 500 },
	} {
		f := figuretest.Plan()
		spoil(f.Body.(*figure.Plan))
		if _, err := f.SVG(180); err == nil || !strings.Contains(err.Error(), what) {
			t.Errorf("%v, want an error that says %q", err, what)
		}
	}
	if _, err := (figure.Figure{ID: "plan", Body: (*figure.Plan)(nil)}).SVG(180); err == nil {
		t.Error("a plan of nothing is drawn")
	}
}
