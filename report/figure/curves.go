package figure

import "slices"

// Curves shows one line a sample on two facing pages with shared axes. The
// horizontal axis runs from left to right on both pages.
//
// A line may leave the frame: it is cut at the edge, and what lies outside is
// not drawn. A line that lies outside altogether is refused, for it would
// vanish without a word.
type Curves struct {
	X, Y       Axis
	Pages      [2]CurvePage
	References []Reference // on X: vertical lines or bands on both pages
	Levels     []Reference // on Y: lines or bands across both pages
	Gutter     []string    // short lines printed between the pages
}

// CurvePage is one side of a spread. Group is an index into Figure.Groups.
type CurvePage struct {
	Group int
	Lines []Curve
}

// Curve is a sample's line through at least two points, X and Y of the same
// length. Curves of one sample on a page share their colour and pattern: a
// line that leaves the model's range is two curves that meet.
type Curve struct {
	Sample  string
	X, Y    []float64
	Dashed  bool // outside the model's range, drawn dotted
	Details []Detail
}

// Strand gives every line of a page the number of its sample, counted in the
// order in which samples first occur; it chooses the look of the line
// (CurveStroke).
func (p CurvePage) Strand() []int {
	numbers := map[string]int{}
	out := make([]int, len(p.Lines))
	for i, c := range p.Lines {
		n, known := numbers[c.Sample]
		if !known {
			n = len(numbers)
			numbers[c.Sample] = n
		}
		out[i] = n
	}
	return out
}

// crowd is the most samples of a page whose lines differ and are named; with
// more, looks would come back for the fourth time.
const crowd = 90

// Crowded reports whether a page has too many samples for names.
func (c *Curves) Crowded() bool {
	for _, p := range c.Pages {
		if s := p.Strand(); len(s) > 0 && slices.Max(s) >= crowd {
			return true
		}
	}
	return false
}

// Strokes are the looks of the lines of a page.
func (c *Curves) Strokes(page int) []Stroke {
	side, crowded := c.Pages[page], c.Crowded()
	out := make([]Stroke, len(side.Lines))
	for i, n := range side.Strand() {
		out[i] = CurveStroke(side.Group, n, side.Lines[i].Dashed)
		if crowded {
			out[i] = crowdStroke(side.Group, side.Lines[i].Dashed)
		}
	}
	return out
}

// Frame is the geometry of either page.
func (c *Curves) Frame() Frame { return Frame{c.X, c.Y} }
