package hearth

// Layer is one of the layers of a wall, from the hot face outwards.
type Layer string

const (
	Slagged   Layer = "slagged"
	Bloated   Layer = "bloated"
	Vitrified Layer = "vitrified"
	Oxidised  Layer = "oxidised"
	Grey      Layer = "grey"
	Raw       Layer = "raw"
)

// Layers lists them from the hot face outwards.
func Layers() []Layer { return []Layer{Slagged, Bloated, Vitrified, Oxidised, Grey, Raw} }

// Mark is the temperature that the outer border of a layer stands for, as a
// band in °C in which it may lie anywhere.
type Mark struct {
	Layer    Layer
	Low      float64
	High     float64
	Evidence string
}

// Marks returns the bands of the borders that are used; the border of the
// slagged layer is none, for slag also soaks in.
func Marks() []Mark {
	return []Mark{
		{Bloated, 1100, 1250, "one fired clay bloated at about 1200 °C; others begin a hundred degrees lower (common practice)"},
		{Vitrified, 750, 900, "first glass in a clay poor in lime, 750–850 °C and 50 °C either way (after Maniatis & Tite 1981, from memory)"},
		{Oxidised, 500, 700, "red of iron oxide and carbon burnt out (common practice)"},
		{Grey, 300, 500, "charred humus; clay gives off its water above (common practice)"},
	}
}
