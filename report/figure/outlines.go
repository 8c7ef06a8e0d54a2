package figure

import (
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// outlines is a canvas that draws lettering as the outlines of its letters, so
// that it looks the same on a machine without the face.
type outlines struct{ vg.Canvas }

// FillString draws a line from its base line on, kerned as it is measured.
func (c outlines) FillString(face font.Face, at vg.Point, text string) {
	var (
		buf   sfnt.Buffer
		path  vg.Path
		em    = fixed.Int26_6(face.Face.UnitsPerEm()) // so that lengths come in units of the face
		scale = face.Font.Size / vg.Length(em)
		last  sfnt.GlyphIndex
	)
	for i, r := range text {
		glyph, err := face.Face.GlyphIndex(&buf, r)
		if err != nil {
			continue // only of a damaged face, and ours is built in
		}
		if i > 0 {
			if kern, err := face.Face.Kern(&buf, last, glyph, em, 0); err == nil {
				at.X += vg.Length(kern) * scale
			}
		}
		if tucked(r) {
			at.X -= tuck * face.Font.Size
		}
		if segments, err := face.Face.LoadGlyph(&buf, glyph, em, nil); err == nil {
			path = append(path, glyphPath(segments, at, scale)...)
		}
		if advance, err := face.Face.GlyphAdvance(&buf, glyph, em, 0); err == nil {
			at.X += vg.Length(advance) * scale
		}
		if tucked(r) {
			at.X -= tuck * face.Font.Size
		}
		last = glyph
	}
	if len(path) > 0 {
		c.Fill(path)
	}
}

// glyphPath places the contours of a glyph, which are closed and run downwards.
func glyphPath(segments sfnt.Segments, at vg.Point, scale vg.Length) vg.Path {
	var path vg.Path
	place := func(p fixed.Point26_6) vg.Point {
		return vg.Point{X: at.X + vg.Length(p.X)*scale, Y: at.Y - vg.Length(p.Y)*scale}
	}
	for i, s := range segments {
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			if i > 0 {
				path.Close()
			}
			path.Move(place(s.Args[0]))
		case sfnt.SegmentOpLineTo:
			path.Line(place(s.Args[0]))
		case sfnt.SegmentOpQuadTo:
			path.QuadTo(place(s.Args[0]), place(s.Args[1]))
		case sfnt.SegmentOpCubeTo:
			path.CubeTo(place(s.Args[0]), place(s.Args[1]), place(s.Args[2]))
		}
	}
	if len(segments) > 0 {
		path.Close()
	}
	return path
}
