package figure

// Diagram is a plane of two numbers with named lines and fields, and in it the
// windows of samples or groups: for instance buffers of oxygen in a diagram of
// oxygen potential against temperature.
//
// A plane of samples, such as a biplot, has points in place of windows.
//
// Lines and regions are cut at the frame, and windows held to it. What lies
// outside altogether is refused, for it would vanish without a word.
type Diagram struct {
	X, Y    Axis
	Lines   []NamedLine
	Boxes   []Span
	Points  []Spot
	Regions []Region
	Hollow  string // what hollow points are; needed where there are any
}

// Spot is a sample at its place in the plane, which is inside the frame, or a
// reading that is no sample. Error bars are one standard uncertainty either way,
// cut at the frame.
type Spot struct {
	Group   int
	Sample  string // empty for what is no sample: it cannot be picked
	Name    string // heading of the hover text where Sample is empty
	X, Y    float64
	UX, UY  float64 // 0 or NaN for no bar
	Hollow  bool
	Details []Detail
}

// Bars are the ends of a spot's error bars in the Frame of the diagram, the
// level one first; nil where there is none.
func (d *Diagram) Bars(s Spot) (out [][2][2]float64) {
	x, y := d.X.Held(s.X), d.Y.Held(s.Y)
	if s.UX > 0 {
		out = append(out, [2][2]float64{{d.X.Held(s.X - s.UX), y}, {d.X.Held(s.X + s.UX), y}})
	}
	if s.UY > 0 {
		out = append(out, [2][2]float64{{x, d.Y.Held(s.Y - s.UY)}, {x, d.Y.Held(s.Y + s.UY)}})
	}
	return out
}

// NamedLine is a line lettered along its run, such as a buffer, through at
// least two points.
type NamedLine struct {
	Label   string
	X, Y    []float64
	Style   int // chooses the pattern (LineStroke)
	Details []Detail
}

// Span is a window: an interval on Y at a place or over a range of X, drawn as
// a bar with caps and the group's mark in its middle, and over a range as a
// tinted box as well.
type Span struct {
	Group    int
	Sample   string  // empty when the window is that of the whole group
	X0, X1   float64 // equal for a window at one place
	From, To float64 // on Y; -Inf or +Inf where the window is open
	Flagged  bool    // outside the model's range, drawn hollow
	Details  []Detail
}

// Region is a field: a polygon of at least three corners with a light ground.
type Region struct {
	Label string
	X, Y  []float64
}

// Frame is the geometry of the diagram.
func (d *Diagram) Frame() Frame { return Frame{d.X, d.Y} }
