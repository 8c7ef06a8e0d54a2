package figure

import (
	"bytes"
	"fmt"
	"html"
	"math"
	"regexp"
	"strconv"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"
)

// Widths that a figure can be drawn at, in millimetres. Below the first the
// lettering has no room.
const (
	MinWidthMM = 80
	MaxWidthMM = 400
)

// sheet is a body laid out at a width: it knows its height before it is drawn.
type sheet interface {
	height() vg.Length
	draw(p *pen)
}

// layOut chooses the layout of the figure's body.
func (f Figure) layOut(width vg.Length) sheet {
	switch body := f.Body.(type) {
	case *Ternary:
		return layTernary(body, f.Groups, width)
	case *Facing:
		return layFacing(body, f.Groups, width)
	case *Profile:
		return layProfile(body, f.Groups, width)
	case *Curves:
		return layCurves(body, f.Groups, width)
	case *Diagram:
		return layDiagram(body, f.Groups, width)
	case *Bands:
		return layBands(body, width)
	case *Intervals:
		return layIntervals(body, width)
	case *Plan:
		return layPlan(body, width)
	}
	return nil
}

// SVG draws the figure at a printed width. The height follows from what the
// figure shows. Lettering is 7 to 8 pt at that width, the background is
// transparent, text stays text. The same figure always gives the same bytes.
//
// The root element carries the printed size and shrinks with its container
// when it stands in a page; title and desc are the figure's Caption and Alt.
//
// The error is that of Validate, or says that the width is out of range.
func (f Figure) SVG(widthMM float64) ([]byte, error) {
	d, err := f.drawing(widthMM)
	if err != nil {
		return nil, err
	}
	canvas := vgsvg.New(d.width, d.height)
	d.on(canvas)
	return f.finish(canvas, d, pageDecimals)
}

// drawing is a figure laid out at a width, to be drawn on any canvas.
type drawing struct {
	plan          sheet
	width, height vg.Length
}

func (f Figure) drawing(widthMM float64) (drawing, error) {
	if err := f.Validate(); err != nil {
		return drawing{}, err
	}
	if !(widthMM >= MinWidthMM && widthMM <= MaxWidthMM) {
		return drawing{}, fmt.Errorf("figure %q: width %v mm is not between %d and %d mm", f.ID, widthMM, MinWidthMM, MaxWidthMM)
	}
	width := vg.Length(widthMM) * vg.Millimeter
	plan := f.layOut(width)
	return drawing{plan, width, plan.height()}, nil
}

// on draws on a canvas and returns the pen, which knows what was lettered.
func (d drawing) on(canvas vg.Canvas) *pen {
	p := &pen{Canvas: draw.NewCanvas(canvas, d.width, d.height), width: d.width, height: d.height}
	d.plan.draw(p)
	return p
}

// finish replaces the root element by our own and tidies what is inside it.
func (f Figure) finish(canvas *vgsvg.Canvas, d drawing, decimals int) ([]byte, error) {
	var written bytes.Buffer
	if _, err := canvas.WriteTo(&written); err != nil {
		return nil, fmt.Errorf("figure %q: %w", f.ID, err)
	}
	raw := written.String()
	start := strings.Index(raw, "<svg")
	if start < 0 {
		return nil, fmt.Errorf("figure %q: the drawing has no root element", f.ID)
	}
	end := strings.IndexByte(raw[start:], '>')
	inside := raw[start+end+1:]

	var out bytes.Buffer
	mm := func(l vg.Length) string { return trimmed(float64(l/vg.Millimeter), 2) }
	pt := func(l vg.Length) string { return trimmed(l.Points(), 2) }
	fmt.Fprintf(&out, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %s %s" width="%smm" height="%smm" `,
		pt(d.width), pt(d.height), mm(d.width), mm(d.height))
	fmt.Fprintf(&out, `style="max-width:100%%;height:auto" font-family="Notebook Figures, Liberation Sans, Arial, Helvetica, sans-serif" role="img"`)
	if f.Caption != "" {
		fmt.Fprintf(&out, ` aria-labelledby="%s-title"`, f.ID)
	}
	if f.Alt != "" {
		fmt.Fprintf(&out, ` aria-describedby="%s-desc"`, f.ID)
	}
	out.WriteString(">\n")
	if f.Caption != "" {
		fmt.Fprintf(&out, "<title id=\"%s-title\">%s</title>\n", f.ID, html.EscapeString(clean(f.Caption)))
	}
	if f.Alt != "" {
		fmt.Fprintf(&out, "<desc id=\"%s-desc\">%s</desc>\n", f.ID, html.EscapeString(clean(f.Alt)))
	}
	out.WriteString(compact(merge(tidy(inside)), decimals))
	return out.Bytes(), nil
}

var (
	// Text content cannot look like an attribute: its quotes are escaped.
	numericAttribute = regexp.MustCompile(` (?:d|x|y|transform)="[^"]*"`)
	decimalNumber    = regexp.MustCompile(`[0-9]+(?:\.[0-9]+)?(?:e[-+]?[0-9]+)?`)
	negativeZero     = regexp.MustCompile(`([^0-9])-0([^0-9.])`)
	fontStyle        = regexp.MustCompile(`\n\tstyle="font-family:[^;"]*;font-variant:[^;"]*;font-weight:([a-z0-9]+);font-style:([a-z]+);?`)
)

// tidy shortens numbers to hundredths of a point and leaves out the font
// properties that the root element already states.
func tidy(s string) string {
	s = numericAttribute.ReplaceAllStringFunc(s, func(attribute string) string {
		return negativeZero.ReplaceAllString(decimalNumber.ReplaceAllStringFunc(attribute, func(n string) string {
			v, err := strconv.ParseFloat(n, 64)
			if err != nil {
				return n
			}
			return trimmed(v, 2)
		}), "${1}0$2")
	})
	return fontStyle.ReplaceAllStringFunc(s, func(style string) string {
		part := fontStyle.FindStringSubmatch(style)
		out := ` style="`
		if part[1] != "normal" {
			out += "font-weight:" + part[1] + ";"
		}
		if part[2] != "normal" {
			out += "font-style:" + part[2] + ";"
		}
		return out
	})
}

// merge joins a filled path with the stroked path of the same outline that
// follows it, so that a mark is one element.
func merge(s string) string {
	const unfilled = `style="fill:none;`
	lines := strings.SplitAfter(s, "\n")
	var out strings.Builder
	for i := 0; i < len(lines); i++ {
		d, style, ok := strings.Cut(lines[i], `style="fill:#`)
		if ok && i+1 < len(lines) && strings.HasPrefix(d, "<path ") {
			if stroke, ok := strings.CutPrefix(lines[i+1], d+unfilled); ok {
				fill, _, _ := strings.Cut(style, `"`)
				out.WriteString(d + `style="fill:#` + fill + ";" + stroke)
				i++
				continue
			}
		}
		out.WriteString(lines[i])
	}
	return out.String()
}

// trimmed prints a number with at most some decimals and no trailing zeros.
func trimmed(v float64, decimals int) string {
	scale := math.Pow(10, float64(decimals))
	return strconv.FormatFloat(math.Round(v*scale)/scale, 'f', -1, 64)
}
