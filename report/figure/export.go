package figure

import (
	"fmt"

	"gonum.org/v1/plot/vg/vgsvg"
)

// Format is a kind of file that a figure is handed to a journal in.
type Format string

// The formats. Lettering is outlines in AsSVG and AsPNG, because programs that
// edit drawings pass over faces embedded in SVG and put in one of their own;
// in AsPDF it is text in embedded faces, so it can be searched and edited.
const (
	AsSVG Format = "svg"
	AsPDF Format = "pdf"
	AsPNG Format = "png" // at PNGDotsPerInch, on white
)

// Formats are all formats.
var Formats = []Format{AsSVG, AsPDF, AsPNG}

// Export draws the figure for a journal, at its final size: lettering is 7 to
// 8 pt and lines are 0.3 to 1.25 pt at every width. It needs no face of the
// machine it is drawn or read on, and the same figure gives the same bytes.
//
// The error is that of Validate, or says that the width is out of range or the
// format is none.
func (f Figure) Export(as Format, widthMM float64) ([]byte, error) {
	d, err := f.drawing(widthMM)
	if err != nil {
		return nil, err
	}
	switch as {
	case AsSVG:
		canvas := vgsvg.New(d.width, d.height)
		d.on(outlines{canvas})
		return f.finish(canvas, d, journalDecimals)
	case AsPDF:
		return f.pdf(d)
	case AsPNG:
		return f.png(d)
	}
	return nil, fmt.Errorf("figure %q: %q is no format of figures; use svg, pdf or png", f.ID, as)
}
