package figure

import (
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	stdfont "golang.org/x/image/font"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/font/liberation"
	"gonum.org/v1/plot/vg"
)

// Type sizes at printed size, in points. Journals ask for about 7 pt.
const (
	smallSize = vg.Length(7)
	headSize  = vg.Length(8)
	lineGap   = vg.Length(9)
)

// Parts of the type size that capitals rise above and descenders fall below
// the base line.
const (
	capHeight = 0.73
	descender = 0.21
)

// lettering is the style of one piece of text. ax and ay say which point of
// the text is placed: 0 left or base line, 1 right or top of capitals.
type lettering struct {
	size   vg.Length
	bold   bool
	italic bool
	color  string
	ax, ay vg.Length
	angle  float64 // radians, anticlockwise
}

var small = lettering{size: smallSize, color: InkColor}

func (l lettering) at(ax, ay vg.Length) lettering { l.ax, l.ay = ax, ay; return l }

// fonts holds the parsed faces; it is never changed after the first use.
var fonts = sync.OnceValue(func() *font.Cache {
	return font.NewCache(liberation.Collection())
})

func (l lettering) face() font.Face {
	f := font.Font{Typeface: "Liberation", Variant: "Sans", Size: l.size}
	if l.bold {
		f.Weight = stdfont.WeightBold
	}
	if l.italic {
		f.Style = stdfont.StyleItalic
	}
	return fonts().Lookup(f, l.size)
}

// width is the printed length of a line.
func (l lettering) width(s string) vg.Length {
	face := l.face()
	return widthOf(face, clean(s))
}

// box is the space that the text takes when placed at a point.
func (l lettering) box(at vg.Point, s string) box {
	w := l.width(s)
	x0, y0 := -l.ax*w, -l.ay*capHeight*l.size
	return turned(x0, y0-descender*l.size, x0+w, y0+capHeight*l.size, l.angle, at)
}

// fit shortens a line to a width, ending it in an ellipsis.
func (l lettering) fit(s string, width vg.Length) string {
	s = clean(s)
	face := l.face()
	if widthOf(face, s) <= width {
		return s
	}
	runes := []rune(s)
	lo, hi := 0, len(runes)
	for lo < hi { // the longest beginning that fits
		mid := (lo + hi + 1) / 2
		if widthOf(face, shortened(runes, mid)) <= width {
			lo = mid
		} else {
			hi = mid - 1
		}
	}
	if lo == 0 && widthOf(face, "…") > width {
		return ""
	}
	return shortened(runes, lo)
}

func shortened(runes []rune, n int) string {
	return strings.TrimRight(string(runes[:n]), " ") + "…"
}

// wrap breaks a line at spaces to a width; a word that is too long is
// shortened.
func (l lettering) wrap(s string, width vg.Length) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(clean(s)) {
		switch {
		case line == "":
			line = word
		case l.width(line+" "+word) <= width:
			line += " " + word
		default:
			lines = append(lines, l.fit(line, width))
			line = word
		}
	}
	if line != "" {
		lines = append(lines, l.fit(line, width))
	}
	return lines
}

// clean makes any text fit for one line of an XML document: bytes that are not
// UTF-8 and characters that XML forbids become the replacement character,
// line breaks and tabs become spaces.
func clean(s string) string {
	ok := utf8.ValidString(s)
	for _, r := range s {
		ok = ok && !unicode.IsControl(r) && r != 0xFFFE && r != 0xFFFF
	}
	if ok {
		return s
	}
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\r' || r == '\t':
			return ' '
		case unicode.IsControl(r) || r == 0xFFFE || r == 0xFFFF:
			return utf8.RuneError
		}
		return r
	}, strings.ToValidUTF8(s, string(utf8.RuneError)))
}
