package figure

import (
	"strings"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// tuck is the part of the type size by which a subscript digit moves towards its
// neighbours on either side: the face gives it the cell of a full digit, 0.556 wide,
// of which it fills the middle half, and "SiO₂" would fall apart.
const tuck = 0.11

// tucked reports a letter that is moved together with its neighbours.
func tucked(r rune) bool { return r >= '₀' && r <= '₉' }

// widthOf is the printed length of a line in a face.
func widthOf(face font.Face, s string) vg.Length {
	n := 0
	for _, r := range s {
		if tucked(r) {
			n++
		}
	}
	return face.Width(s) - vg.Length(2*n)*tuck*face.Font.Size
}

// runsOf takes a line apart before and behind its subscripts, and tells how far
// from its beginning each piece is set.
func runsOf(face font.Face, s string) (pieces []string, at []vg.Length) {
	x := vg.Length(0)
	for s != "" {
		sub := strings.IndexFunc(s, tucked)
		end := sub
		switch {
		case sub < 0:
			end = len(s)
		case sub == 0:
			end = len("₀")
			x -= tuck * face.Font.Size
		}
		pieces, at = append(pieces, s[:end]), append(at, x)
		x += face.Width(s[:end])
		if sub == 0 {
			x -= tuck * face.Font.Size
		}
		s = s[end:]
	}
	return pieces, at
}
