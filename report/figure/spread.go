package figure

// Spread is the geometry of a Facing: each page is a unit square, sample
// slots from left to right, the axis upwards.
type Spread struct{ Facing *Facing }

// Slot is the middle of the i-th sample's slot on a page, as a fraction of
// the page's width.
func (s Spread) Slot(page, i int) float64 {
	return (float64(i) + 0.5) / float64(len(s.Facing.Pages[page].Marks))
}

// Height is the place of a value as a fraction of the page's height, held to
// the page: an error bar may end beyond the axis.
func (s Spread) Height(v float64) float64 { return s.Facing.Axis.Held(v) }

// Bar is the lower and upper end of a mark's error bar, one standard
// uncertainty either way unless the mark has ends of its own, in axis units
// held to the axis. ok is false when there is none to draw.
func (s Spread) Bar(m Mark) (lo, hi float64, ok bool) {
	if !m.hasBar() {
		return 0, 0, false
	}
	a := s.Facing.Axis
	if m.Ends != nil {
		return max(m.Ends.Lo, a.Min), min(m.Ends.Hi, a.Max), true
	}
	return max(m.Value-m.U, a.Min), min(m.Value+m.U, a.Max), true
}

// Rows is the geometry of a Profile: rows from the top down, each one unit
// high; the axis runs from 0 at the gutter to 1 at the outer edge.
type Rows struct{ Profile *Profile }

// Out is the distance of a value from the gutter as a fraction of the page's
// width.
func (r Rows) Out(v float64) float64 { return r.Profile.Axis.Fraction(v) }

// Middle is the middle of a row, counted from the top.
func (r Rows) Middle(row int) float64 { return float64(row) + 0.5 }

// Down is the place of the i-th mark of a row, counted from the top. Marks
// step through the row by the golden ratio so that equal values lie side by
// side and every drawing of the same data is the same.
func (r Rows) Down(row, i int) float64 {
	const golden, spread = 0.6180339887498949, 0.52
	t := 0.5 + golden*float64(i)
	return r.Middle(row) + spread*(t-float64(int(t))-0.5)
}
