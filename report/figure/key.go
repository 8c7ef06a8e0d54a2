package figure

import (
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/recorder"
)

// key lists the samples of a page with the look of their lines, in columns
// below the page.
type key struct {
	names   []string
	strokes []Stroke
	step    vg.Length // width of a column
	columns int
	half    vg.Length // of the sheet
}

const keySign = vg.Length(26)

// layKeys gives a key to each page on which not every line has room for its
// name. A trial drawing tells which.
func (f *curvesSheet) layKeys() {
	if f.body.Crowded() {
		return
	}
	trial := &pen{width: f.width, height: f.height()}
	trial.Canvas = draw.NewCanvas(new(recorder.Canvas), trial.width, trial.height)
	var drawn [2][][]vg.Point
	for page, side := range f.body.Pages {
		for _, c := range side.Lines {
			drawn[page] = append(drawn[page], f.run(page, c)...)
		}
	}
	f.nameLevels(trial, f.body.Levels, nil, drawn)
	for page, side := range f.body.Pages {
		if !f.nameCurves(trial, page) {
			f.keys[page] = layKey(side, f.width/2)
		}
	}
}

func layKey(side CurvePage, half vg.Length) key {
	k := key{half: half}
	widest := vg.Length(0)
	for i, n := range side.Strand() {
		if n < len(k.names) {
			continue
		}
		name := small.fit(side.Lines[i].Sample, curveName)
		widest = max(widest, small.width(name))
		k.names = append(k.names, name)
		k.strokes = append(k.strokes, CurveStroke(side.Group, n, false))
	}
	k.step = keySign + widest + 8
	k.columns = min(max(1, int((half-4)/k.step)), len(k.names))
	return k
}

func (k key) rows() int { return (len(k.names) + max(1, k.columns) - 1) / max(1, k.columns) }

func (k key) height() vg.Length {
	if len(k.names) == 0 {
		return 0
	}
	return legendStep*vg.Length(k.rows()) + 4
}

// draw sets the key into its half of the sheet, below a height, column by
// column.
func (k key) draw(p *pen, left, below vg.Length) {
	x0 := left + (k.half-k.step*vg.Length(k.columns)+8)/2
	for i, name := range k.names {
		at := vg.Point{
			X: x0 + k.step*vg.Length(i/k.rows()),
			Y: below - 7 - legendStep*vg.Length(i%k.rows()),
		}
		p.strokeOf(k.strokes[i], []vg.Point{at, {X: at.X + keySign - 4, Y: at.Y}})
		p.text(small.at(0, 0.5), vg.Point{X: at.X + keySign, Y: at.Y}, name)
	}
}
