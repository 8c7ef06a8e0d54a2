package figure

import "gonum.org/v1/plot/vg"

// strip holds the names of vertical references over a page, in as many rows as
// they need to stand clear of each other.
type strip struct {
	names []stripName
	rows  int
}

type stripName struct {
	text        string
	left, width vg.Length // from the left edge of the page
	row         int
}

var stripText = lettering{size: smallSize, italic: true, color: RefColor}

func layStrip(axis Axis, references []Reference, page vg.Length) strip {
	var s strip
	for _, r := range references {
		n := stripName{text: stripText.fit(r.Label, page)}
		if n.text == "" {
			continue
		}
		n.width = stripText.width(n.text)
		middle := page * vg.Length(axis.Held(r.From)+axis.Held(r.To)) / 2
		n.left = max(0, min(middle-n.width/2, page-n.width))
		for !s.free(n) {
			n.row++
		}
		s.names = append(s.names, n)
		s.rows = max(s.rows, n.row+1)
	}
	return s
}

// free tells whether a name has its place in its row to itself.
func (s strip) free(n stripName) bool {
	for _, o := range s.names {
		if o.row == n.row && n.left < o.left+o.width+5 && o.left < n.left+n.width+5 {
			return false
		}
	}
	return true
}

func (s strip) height() vg.Length {
	if s.rows == 0 {
		return 0
	}
	return 2 + lineGap*vg.Length(s.rows)
}

// draw sets the names over a page whose left edge and top are given.
func (s strip) draw(p *pen, left, top vg.Length) {
	for _, n := range s.names {
		p.text(stripText.at(0, 0.5), vg.Point{X: left + n.left, Y: top + 7 + lineGap*vg.Length(n.row)}, n.text)
	}
}
