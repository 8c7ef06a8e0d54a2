package figure

import (
	"math"
	"testing"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/recorder"
)

// Outlines stand where the lettering was measured: they fill its box but for
// the white beside letters, and do not leave it.
func TestOutlinesFillTheirBox(t *testing.T) {
	for _, text := range []string{"SiO₂", "AV To fayalite", "−1.5 ± 0.2 °C", "log fO₂ →", "Händler"} {
		var canvas recorder.Canvas
		at := vg.Point{X: 10, Y: 20}
		outlines{&canvas}.FillString(small.face(), at, text)
		if len(canvas.Actions) != 1 {
			t.Fatalf("%q: %d drawings", text, len(canvas.Actions))
		}
		lo, hi := vg.Length(math.Inf(1)), vg.Length(math.Inf(-1))
		box := small.box(at, text)
		for _, part := range canvas.Actions[0].(*recorder.Fill).Path {
			if part.Type == vg.CloseComp {
				continue
			}
			lo, hi = min(lo, part.Pos.X), max(hi, part.Pos.X)
			if part.Pos.Y < box[0].Y-0.1 || part.Pos.Y > box[2].Y+0.1 {
				t.Errorf("%q leaves its box: y = %v", text, part.Pos.Y)
			}
		}
		if lo < box[0].X-0.3 || lo > box[0].X+1 || hi > box[1].X+0.3 || hi < box[1].X-1.5 {
			t.Errorf("%q runs from %.2f to %.2f, measured %.2f to %.2f", text, lo, hi, box[0].X, box[1].X)
		}
	}
}

// CheckLines fails where a line is thinner or thicker than journals take: 0.1
// to 1.5 pt (Elsevier, Artwork and media instructions: types).
func CheckLines(t *testing.T, f Figure, mm float64) {
	t.Helper()
	d, err := f.drawing(mm)
	if err != nil {
		t.Fatal(err)
	}
	var canvas recorder.Canvas
	d.on(&canvas)
	visible := true // white clears the ground below a line
	for _, action := range canvas.Actions {
		switch action := action.(type) {
		case *recorder.SetColor:
			visible = action.Color != ink("#FFFFFF")
		case *recorder.SetLineWidth:
			if visible && (action.Width < 0.1 || action.Width > 1.5) {
				t.Errorf("%s: a line of %v pt", f.ID, action.Width)
			}
		}
	}
}
