package figure

import (
	"fmt"
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"
)

// planSheet is a Plan laid out at a width: two panels, each with its own bar
// of scale.
type planSheet struct {
	body   *Plan
	width  vg.Length
	radius vg.Length // of the largest ring on paper
	per    vg.Length // points for a mm in the plan
	tall   vg.Length
}

const (
	planFoot = vg.Length(34)
	planHead = vg.Length(16)
)

func layPlan(b *Plan, width vg.Length) *planSheet {
	f := &planSheet{body: b, width: width}
	f.radius = min(width*0.22, 125)
	f.per = f.radius / vg.Length(b.High/2+b.Wall)
	f.tall = 2*f.radius + 10
	return f
}

func (f *planSheet) height() vg.Length { return f.tall + planFoot + planHead }

// Grounds of layers from the hot face outwards, dark to light.
var layerFills = []string{"#4A4A4A", "#8A7F78", "#B98A6A", "#D9925F", "#B8B8B4", "#E6DCC8"}

func (f *planSheet) draw(p *pen) {
	mid := vg.Point{X: f.radius + 14, Y: planFoot + f.radius + 5}
	head := small
	head.bold = true
	p.text(head.at(0.5, 0), vg.Point{X: mid.X, Y: f.height() - 9}, "plan")
	f.ring(p, mid)
	f.bar(p, vg.Point{X: mid.X, Y: 14}, f.per, f.body.Value*0.8)
	if len(f.body.Layers) > 0 {
		f.section(p, 2*f.radius+58, f.width-14)
	}
}

// ring draws the band of inner faces that are allowed, the best of them, the
// outside of the wall and the fragments.
func (f *planSheet) ring(p *pen, mid vg.Point) {
	at := func(d float64) vg.Length { return f.per * vg.Length(d/2) }
	band := ink(LookOf(1).Fill)
	band.A = 0x90
	p.fill(band, circlePoints(mid, at(f.body.High)))
	p.fill(color.NRGBA{0xFF, 0xFF, 0xFF, 0xFF}, circlePoints(mid, at(f.body.Low)))
	closed := func(d float64) []vg.Point { c := circlePoints(mid, at(d)); return append(c, c[0]) }
	p.stroke(LookOf(1).Edge, 0.5, []vg.Length{3, 1.5}, closed(f.body.Low), closed(f.body.High))
	p.stroke(LookOf(1).Edge, 1, nil, closed(f.body.Value))
	if f.body.Wall > 0 {
		p.stroke(MutedColor, 0.6, []vg.Length{1, 1.5}, closed(f.body.Value+2*f.body.Wall))
	}
	f.pieces(p, mid)
	lines := []string{fmt.Sprintf("inside %.0f %s", f.body.Value, f.body.Scale), fmt.Sprintf("allowed %.0f to %.0f", f.body.Low, f.body.High)}
	if f.body.Open {
		lines[1] = fmt.Sprintf("allowed %.0f and more", f.body.Low)
	}
	if f.body.Wall > 0 {
		lines = append(lines, fmt.Sprintf("dotted: wall of %.0f", f.body.Wall))
	}
	for i, s := range lines {
		p.text(small.at(0.5, 0.5), mid.Add(vg.Point{Y: lineGap * (vg.Length(len(lines)-1)/2 - vg.Length(i))}), s)
	}
}

// pieces sets the fragments side by side on the best ring.
func (f *planSheet) pieces(p *pen, mid vg.Point) {
	r := f.per * vg.Length(f.body.Value/2)
	n := len(f.body.Pieces)
	for i, x := range f.body.Pieces {
		turn := math.Pi/2 - 2*math.Pi*float64(i)/float64(max(n, 1))
		half := math.Asin(math.Min(1, x.Chord/f.body.Value))
		var arc []vg.Point
		for k := 0; k <= 24; k++ {
			sin, cos := math.Sincos(turn - half + 2*half*float64(k)/24)
			arc = append(arc, mid.Add(vg.Point{X: r * vg.Length(cos), Y: r * vg.Length(sin)}))
		}
		p.stroke(InkColor, 2.6, nil, arc)
		sin, cos := math.Sincos(turn)
		in := r - f.per*vg.Length((f.body.Value-f.body.Low)/2) - 7
		p.textIfFree(small.at(vg.Length(0.5+0.5*cos), 0.5), mid.Add(vg.Point{X: in * vg.Length(cos), Y: in * vg.Length(sin)}), x.Name, nil)
	}
}

func circlePoints(mid vg.Point, r vg.Length) []vg.Point {
	var out []vg.Point
	const n = 120
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / n)
		out = append(out, mid.Add(vg.Point{X: r * vg.Length(cos), Y: r * vg.Length(sin)}))
	}
	return out
}

// section draws the layers of the wall side by side, the hot face left, each
// border with its error above and its temperature below.
func (f *planSheet) section(p *pen, left, right vg.Length) {
	head := small
	head.bold = true
	p.text(head.at(0.5, 0), vg.Point{X: (left + right) / 2, Y: f.height() - 9}, head.fit(f.body.WallTitle, right-left))
	per := (right - left - 8) / vg.Length(f.body.Thickest)
	low, high := planFoot+f.tall*0.30, planFoot+f.tall*0.62
	x := func(mm float64) vg.Length { return left + per*vg.Length(mm) }
	last := 0.0
	for i, l := range f.body.Layers {
		a, b := x(last), x(l.Outer)
		corners := uprightBox(a, low, b, high)
		p.fill(ink(layerFills[i%len(layerFills)]), corners[:])
		p.stroke(InkColor, 0.5, nil, append(corners[:], corners[0]))
		name := vg.Point{X: (a + b) / 2, Y: high + 16}
		label := small
		label.ax, label.ay, label.angle = 0, 0.5, math.Pi/3
		p.text(label, name, l.Label)
		p.stroke(MutedColor, hairWidth, nil, []vg.Point{{X: (a + b) / 2, Y: high}, {X: (a + b) / 2, Y: high + 12}})
		switch {
		case l.Broken:
			p.stroke(InkColor, 0.9, nil, tornEdge(b, low-3, high+3))
		default:
			lo, hi := x(math.Max(l.Outer-l.U, 0)), x(l.Outer+l.U)
			y := low - 5
			p.stroke(InkColor, 0.7, nil, []vg.Point{{X: lo, Y: y}, {X: hi, Y: y}}, []vg.Point{{X: lo, Y: y - 1.5}, {X: lo, Y: y + 1.5}}, []vg.Point{{X: hi, Y: y - 1.5}, {X: hi, Y: y + 1.5}})
			if l.Temperature != "" {
				text := small
				text.ax, text.ay, text.angle = 1, 0.5, math.Pi/3
				p.text(text, vg.Point{X: b, Y: y - 6}, l.Temperature)
			}
		}
		last = l.Outer
	}
	turned := lettering{size: smallSize, color: InkColor, ax: 0.5, ay: 0, angle: math.Pi / 2}
	p.text(turned, vg.Point{X: left - 4, Y: (low + high) / 2}, "hot face")
	f.bar(p, vg.Point{X: (left + right) / 2, Y: 14}, per, f.body.Thickest*0.5)
}

// tornEdge is the zigzag of a break.
func tornEdge(x, low, high vg.Length) []vg.Point {
	var out []vg.Point
	for i := 0; i <= 8; i++ {
		side := vg.Length(1.6)
		if i%2 == 1 {
			side = -side
		}
		out = append(out, vg.Point{X: x + side, Y: low + (high-low)*vg.Length(i)/8})
	}
	return out
}

// bar draws a bar of scale of a round length, at most as long as asked.
func (f *planSheet) bar(p *pen, mid vg.Point, per vg.Length, most float64) {
	length := math.Pow(10, math.Floor(math.Log10(most)))
	for _, k := range []float64{5, 2} {
		if length*k <= most {
			length *= k
			break
		}
	}
	half := per * vg.Length(length) / 2
	p.stroke(InkColor, 0.8, nil, []vg.Point{{X: mid.X - half, Y: mid.Y}, {X: mid.X + half, Y: mid.Y}},
		[]vg.Point{{X: mid.X - half, Y: mid.Y - 2}, {X: mid.X - half, Y: mid.Y + 2}}, []vg.Point{{X: mid.X + half, Y: mid.Y - 2}, {X: mid.X + half, Y: mid.Y + 2}})
	p.text(small.at(0.5, 1), vg.Point{X: mid.X, Y: mid.Y - 4}, fmt.Sprintf("%g %s", length, f.body.Scale))
}
