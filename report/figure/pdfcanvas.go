package figure

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"math"

	"codeberg.org/go-pdf/fpdf"
	stdfont "golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// pdfCanvas draws on a page of a PDF document. The canvas that comes with the
// drawing library letters in one Western code page, which has no subscripts and
// no Greek; this one takes every letter that the face has.
type pdfCanvas struct {
	doc    *fpdf.Fpdf
	height vg.Length
	faces  map[string]bool // that the document holds, by style
	alpha  float64         // as the document has it
	pdfState
	saved []pdfState
}

// pdfState is what Push saves. Places are turned, then moved.
type pdfState struct {
	origin vg.Point
	angle  float64
	width  vg.Length
	dashes []vg.Length
	offset vg.Length
	color  color.NRGBA
}

const pdfFamily = "LiberationSans"

func newPDFCanvas(doc *fpdf.Fpdf, height vg.Length) *pdfCanvas {
	c := &pdfCanvas{doc: doc, height: height, faces: map[string]bool{}, alpha: 1}
	vg.Initialize(c)
	return c
}

func (c *pdfCanvas) SetLineWidth(w vg.Length)               { c.width = w }
func (c *pdfCanvas) SetLineDash(d []vg.Length, o vg.Length) { c.dashes, c.offset = d, o }
func (c *pdfCanvas) SetColor(k color.Color)                 { c.color = color.NRGBAModel.Convert(k).(color.NRGBA) }
func (c *pdfCanvas) Rotate(radians float64)                 { c.angle += radians }
func (c *pdfCanvas) Translate(by vg.Point)                  { c.origin = c.moved(by) }
func (c *pdfCanvas) Push()                                  { c.saved = append(c.saved, c.pdfState) }

func (c *pdfCanvas) Pop() {
	c.pdfState = c.saved[len(c.saved)-1]
	c.saved = c.saved[:len(c.saved)-1]
}

// Scale fails the document: figures are drawn at their final size, and so are
// the sizes of their letters.
func (c *pdfCanvas) Scale(_, _ float64) {
	c.doc.SetError(errors.New("a figure is drawn at its final size and cannot be scaled"))
}

// DrawImage fails the document: no figure holds a bitmap.
func (c *pdfCanvas) DrawImage(vg.Rectangle, image.Image) {
	c.doc.SetError(errors.New("a figure holds no bitmaps"))
}

// moved is a point as the page has it, with y still upwards.
func (c *pdfCanvas) moved(p vg.Point) vg.Point {
	sin, cos := math.Sincos(c.angle)
	return vg.Point{
		X: c.origin.X + p.X*vg.Length(cos) - p.Y*vg.Length(sin),
		Y: c.origin.Y + p.X*vg.Length(sin) + p.Y*vg.Length(cos),
	}
}

// place is a point in the document's coordinates, y downwards.
func (c *pdfCanvas) place(p vg.Point) (x, y float64) {
	p = c.moved(p)
	return p.X.Points(), (c.height - p.Y).Points()
}

func (c *pdfCanvas) setAlpha() {
	if a := float64(c.color.A) / 255; a != c.alpha {
		c.doc.SetAlpha(a, "Normal")
		c.alpha = a
	}
}

func (c *pdfCanvas) Stroke(path vg.Path) {
	if c.width <= 0 {
		return
	}
	dashes := make([]float64, len(c.dashes))
	for i, d := range c.dashes {
		dashes[i] = d.Points()
	}
	c.setAlpha()
	c.doc.SetDrawColor(int(c.color.R), int(c.color.G), int(c.color.B))
	c.doc.SetLineWidth(c.width.Points())
	c.doc.SetDashPattern(dashes, c.offset.Points())
	c.trace(path)
	c.doc.DrawPath("D")
}

func (c *pdfCanvas) Fill(path vg.Path) {
	c.setAlpha()
	c.doc.SetFillColor(int(c.color.R), int(c.color.G), int(c.color.B))
	c.trace(path)
	c.doc.DrawPath("F")
}

func (c *pdfCanvas) trace(path vg.Path) {
	for _, part := range path {
		x, y := c.place(part.Pos)
		switch part.Type {
		case vg.MoveComp:
			c.doc.MoveTo(x, y)
		case vg.LineComp:
			c.doc.LineTo(x, y)
		case vg.ArcComp:
			c.arc(part)
		case vg.CurveComp:
			ax, ay := c.place(part.Control[0])
			if len(part.Control) == 1 {
				c.doc.CurveTo(ax, ay, x, y)
				continue
			}
			bx, by := c.place(part.Control[1])
			c.doc.CurveBezierCubicTo(ax, ay, bx, by, x, y)
		case vg.CloseComp:
			c.doc.ClosePath()
		}
	}
}

// arc goes to the start of an arc and along it, a quarter of a circle or less
// at a time: a cubic then strays from the circle by less than 0.03 % of its
// radius.
func (c *pdfCanvas) arc(part vg.PathComp) {
	on := func(angle, along float64) vg.Point { // a point of the circle, or on its tangent there
		sin, cos := math.Sincos(angle)
		return part.Pos.Add(vg.Point{X: vg.Length(cos - along*sin), Y: vg.Length(sin + along*cos)}.Scale(part.Radius))
	}
	pieces := math.Ceil(math.Abs(part.Angle) / (math.Pi / 2))
	step := part.Angle / pieces
	handle := 4.0 / 3 * math.Tan(step/4)
	x, y := c.place(on(part.Start, 0))
	c.doc.LineTo(x, y)
	for i := range int(pieces) {
		from := part.Start + float64(i)*step
		ax, ay := c.place(on(from, handle))
		bx, by := c.place(on(from+step, -handle))
		x, y := c.place(on(from+step, 0))
		c.doc.CurveBezierCubicTo(ax, ay, bx, by, x, y)
	}
}

// FillString sets a line as text, in a face that the document holds the used
// part of.
func (c *pdfCanvas) FillString(face font.Face, at vg.Point, text string) {
	style := ""
	if face.Font.Weight == stdfont.WeightBold {
		style += "B"
	}
	if face.Font.Style == stdfont.StyleItalic {
		style += "I"
	}
	if !c.faces[style] {
		var file bytes.Buffer
		if _, err := face.Face.WriteSourceTo(nil, &file); err != nil {
			c.doc.SetError(err)
			return
		}
		c.doc.AddUTF8FontFromBytes(pdfFamily, style, file.Bytes())
		c.faces[style] = true
	}
	c.setAlpha()
	c.doc.SetFont(pdfFamily, style, face.Font.Size.Points())
	c.doc.SetTextColor(int(c.color.R), int(c.color.G), int(c.color.B))
	x, y := c.place(at)
	pieces, along := runsOf(face, inFace(face, text))
	if c.angle != 0 {
		c.doc.TransformBegin()
		c.doc.TransformRotate(c.angle*180/math.Pi, x, y)
		defer c.doc.TransformEnd()
	}
	for i, piece := range pieces {
		c.doc.Text(x+along[i].Points(), y, piece)
	}
}

// inFace puts the replacement character for letters that the face has not; the
// document's writer cannot hold all of them.
func inFace(face font.Face, text string) string {
	var buf sfnt.Buffer
	out := []rune(text)
	for i, r := range out {
		if glyph, err := face.Face.GlyphIndex(&buf, r); err != nil || glyph == 0 {
			out[i] = '\uFFFD'
		}
	}
	return string(out)
}
