package figure

// Shape is the outline of a point.
type Shape int

// The shapes, in the order in which groups take them.
const (
	Triangular Shape = iota
	Round
	Square
	Diamond
	Inverted // a triangle on its tip
)

// Look is how the points of a group are drawn. Colours are #RRGGBB from the
// palette of Okabe and Ito (jfly.uni-koeln.de/color, 2008), which readers with
// any of the common colour deficiencies can tell apart.
type Look struct {
	Shape Shape
	Fill  string
	Edge  string
}

var looks = []Look{
	{Triangular, "#D55E00", "#8F3F00"}, // vermillion
	{Round, "#A9D8F5", "#0072B2"},      // blue, the inside light
	{Square, "#009E73", "#00634A"},     // bluish green
	{Diamond, "#F2C4DC", "#A3507E"},    // reddish purple, the inside light
	{Inverted, "#E69F00", "#8A5F00"},   // orange
	{Square, "#F0E442", "#5E5910"},     // yellow
	{Round, "#333333", "#000000"},      // black
}

// LookOf gives the look of the group at a place in Figure.Groups.
func LookOf(group int) Look {
	return looks[group%len(looks)]
}

// Hatch is a pattern of lines over a part of a bar.
type Hatch int

// The hatches.
const (
	Plain Hatch = iota
	Rising
	Falling
	Crossed
)

// PartLook is how a part of a stacked bar is drawn: a fill of its own
// lightness and a hatch, so that the parts differ without colour.
type PartLook struct {
	Fill  string
	Hatch Hatch
	Line  string // colour of the hatch
}

var partLooks = []PartLook{
	{"#4D4D4D", Plain, ""},
	{"#E69F00", Rising, "#6B4A00"},
	{"#F7F1A6", Plain, ""},
	{"#009E73", Falling, "#CFEFE4"},
	{"#FFFFFF", Crossed, "#666666"},
	{"#CC79A7", Plain, ""},
}

// PartLookOf gives the look of the part at a place in Facing.Stack.
func PartLookOf(part int) PartLook {
	return partLooks[part%len(partLooks)]
}

// Greys and inks shared by the drawings.
const (
	InkColor   = "#222222" // text and frames
	MutedColor = "#5F5F5F" // secondary text
	GridColor  = "#DDDDDD" // grids
	IsoColor   = "#8A8A8A" // isotherms
	BandColor  = "#EFEBDD" // reference bands
	RefColor   = "#6E5F2E" // reference lines and their lettering
)
