package figure

import (
	"strings"

	"gonum.org/v1/plot/vg"
)

// heads are the names of the groups over two facing pages, in up to three lines.
type heads [2][]string

var headText = lettering{size: headSize, bold: true, color: InkColor}

// signRoom is the room for a group's sign before its name.
const signRoom = vg.Length(9)

func layHeads(groups []Group, pages [2]int, page vg.Length) heads {
	var h heads
	for i, g := range pages {
		lines := headText.wrap(groups[g].Label, page-signRoom-2)
		if len(lines) > 3 {
			lines = append(lines[:2], headText.fit(strings.Join(lines[2:], " "), page-signRoom-2))
		}
		h[i] = lines
	}
	return h
}

func (h heads) height() vg.Length {
	return 7 + lineGap*vg.Length(max(1, len(h[0]), len(h[1])))
}

// draw sets one head above a page whose middle and top are given, the sign
// before its first line.
func (h heads) draw(p *pen, page int, look Look, middle, top vg.Length, sign bool) {
	for i, line := range h[page] {
		x := middle - headText.width(line)/2 + signRoom/2
		y := top + 9 + lineGap*vg.Length(len(h[page])-1-i)
		if i == 0 && sign {
			p.mark(look, vg.Point{X: x - signRoom + 2, Y: y}, false)
		}
		p.text(headText.at(0, 0.5), vg.Point{X: x, Y: y}, line)
	}
}
