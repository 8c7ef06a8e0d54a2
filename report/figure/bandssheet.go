package figure

import "gonum.org/v1/plot/vg"

// bandsSheet is Bands laid out at a width.
type bandsSheet struct {
	body        *Bands
	rows        []BandLayout
	tall        vg.Length
	width       vg.Length
	left, right vg.Length // room for the names and for the labels
}

const (
	bandBar  = vg.Length(5) // width of the bars at either end
	bandEdge = vg.Length(0.4)
)

var bandName = lettering{size: headSize, bold: true, color: InkColor}

func layBands(b *Bands, width vg.Length) *bandsSheet {
	f := &bandsSheet{body: b, width: width}
	rows, tall := b.Layout()
	f.rows, f.tall = rows, vg.Length(tall)
	for _, r := range b.Rows {
		f.left = max(f.left, bandName.width(r.Name), small.width(r.Total))
		for _, p := range r.Parts {
			f.right = max(f.right, small.width(p.Label))
		}
	}
	f.left, f.right = min(f.left, 0.25*width)+10, min(f.right, 0.42*width)+10
	return f
}

func (f *bandsSheet) height() vg.Length { return f.tall + 12 }

func (f *bandsSheet) y(down float64) vg.Length { return f.height() - 6 - vg.Length(down) }

func (f *bandsSheet) draw(p *pen) {
	x0, x1 := f.left+bandBar, f.width-f.right-bandBar
	for i, r := range f.body.Rows {
		l := f.rows[i]
		middle := f.y((l.Top + l.Bottom) / 2)
		p.text(bandName.at(1, 0), vg.Point{X: f.left - 5, Y: middle + 1.5}, bandName.fit(r.Name, f.left-8))
		p.text(small.at(1, 1), vg.Point{X: f.left - 5, Y: middle - 2.5}, small.fit(r.Total, f.left-8))
		for k, part := range r.Parts {
			b, look := l.Bands[k], PartLookOf(part.Place)
			if part.thickness() > 0 {
				var pts []vg.Point
				for _, q := range b.Outline() {
					pts = append(pts, vg.Point{X: x0 + (x1-x0)*vg.Length(q[0]), Y: f.y(q[1])})
				}
				p.fill(ink(BandFill(part.Place)), pts)
				p.stroke(MutedColor, bandEdge, nil, append(pts, pts[0]))
				p.hatched(look, x1, f.y(b.Right[1]), x1+bandBar, f.y(b.Right[0]))
			}
			p.text(small.at(0, 0.5), vg.Point{X: x1 + bandBar + 5, Y: f.y(b.Label)}, small.fit(part.Label, f.right-8))
		}
		bar := uprightBox(f.left, f.y(l.Bottom), f.left+bandBar, f.y(l.Top))
		p.fill(ink(InkColor), bar[:])
	}
}

// bandContrast is the contrast of a band against white paper: light enough for
// its edge to show.
const bandContrast = 1.35

// BandFill is the light ground of the band of a place; white stays white.
func BandFill(place int) string {
	if fill := PartLookOf(place).Fill; fill != "#FFFFFF" {
		return tint(fill, bandContrast)
	}
	return "#FFFFFF"
}
