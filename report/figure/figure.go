// Package figure describes the report's figures as plain data and draws them
// for print. The same description feeds the interactive drawing in
// report/chart, so the two cannot disagree.
//
// A description holds finished numbers and finished labels: it knows nothing
// of samples' chemistry. Wherever replica and excavated material meet, the
// description has two pages with shared scales, replica left, excavated right.
package figure

// Figure is one figure of the report.
type Figure struct {
	ID      string  // letters, digits and hyphens, starting with a letter; unique in a report
	Caption string  // one or two sentences, plain text
	Alt     string  // what the figure shows, for readers who cannot see it
	Groups  []Group // the groups that Point.Group and the pages refer to
	Body    Body
}

// Body is a *Ternary, a *Facing, a *Profile, a *Curves, a *Diagram, *Bands,
// *Intervals or *Plan.
type Body interface{ body() }

// Group is a set of samples drawn alike: its place in Figure.Groups chooses
// colour and shape.
type Group struct {
	Name  string // as in the notebook
	Label string // as printed: "fired (experimental slag)"
}

// Detail is a line of a point's hover text.
type Detail struct{ Label, Value string }

// Share is a place in a triangle: the shares of the three corners, adding to 1.
type Share [3]float64

// Ternary is a triangular diagram.
type Ternary struct {
	Corners    [3]string // bottom left, top, bottom right
	Points     []TernaryPoint
	Isotherms  []Isotherm
	Boundaries [][]Share // lines between fields of first phases
	Fields     []FieldLabel
}

// TernaryPoint is a sample in the triangle.
type TernaryPoint struct {
	Group   int
	Sample  string
	At      Share
	Details []Detail
}

// Isotherm is one line of equal liquidus temperature.
type Isotherm struct {
	TC    float64 // °C
	Major bool    // drawn stronger and labelled
	Line  []Share
}

// FieldLabel names a field at a place inside it.
type FieldLabel struct {
	Text string
	At   Share
	Area float64 // share of the triangle that the field covers; where names collide the larger field keeps its own; 0 when unknown
}

// Axis is a numeric axis. Min < Max; both positive when Log is set.
type Axis struct {
	Label    string // "liquidus temperature"
	Unit     string // "°C"
	Min, Max float64
	Log      bool
}

// Reference is a line or band across both pages: a temperature reached, a
// range of common practice. A line has From equal to To.
type Reference struct {
	From, To float64
	Label    string
}

// Facing shows one number per sample on two facing pages with a shared
// vertical axis: points with error bars, or stacked bars when Stack is set.
type Facing struct {
	Axis       Axis
	Pages      [2]Page
	Stack      []string // labels of the parts of a bar, bottom first; nil for points
	References []Reference
	Gutter     []string // short lines printed between the pages: the difference and its uncertainty
	Bars       string   // what error bars are; "± one standard uncertainty" when empty
}

// BarsMean says what the error bars are.
func (f *Facing) BarsMean() string {
	if f.Bars == "" {
		return oneSD
	}
	return f.Bars
}

// oneSD is what error bars are where nothing else is said.
const oneSD = "± one standard uncertainty"

// Page is one side of a spread. Group is an index into Figure.Groups.
type Page struct {
	Group int
	Marks []Mark
}

// Mark is one sample on a page.
type Mark struct {
	Sample  string
	Value   float64   // point, or the sum of Stack
	U       float64   // standard uncertainty; NaN when unknown
	Ends    *Ends     // of the error bar where it is not one U either way
	Stack   []float64 // heights of the parts, as many as Facing.Stack
	Limit   bool      // Value is an upper limit ("below detection"), drawn hollow with an arrow down
	Flagged bool      // outside the model's range, drawn hollow
	Details []Detail
}

// Ends are the lower and the upper end of an error bar, Value between them.
type Ends struct{ Lo, Hi float64 }

// hasBar reports whether the mark has an error bar.
func (m Mark) hasBar() bool { return !m.Limit && (m.Ends != nil || m.U > 0) }

// Profile shows many parts at once on two facing pages: one row a part, the
// row's name in the gutter, a shared horizontal axis that runs outwards from
// the gutter on both pages.
type Profile struct {
	Axis  Axis
	Pages [2]int // indices into Figure.Groups
	Rows  []ProfileRow
}

// ProfileRow is one part, for example an oxide.
type ProfileRow struct {
	Label  string
	Marks  [2][]Mark
	Middle [2]float64 // the group's median, drawn as a tick; NaN for none
}

func (*Ternary) body() {}
func (*Facing) body()  {}
func (*Profile) body() {}
func (*Curves) body()  {}
func (*Diagram) body() {}
func (*Bands) body()   {}
