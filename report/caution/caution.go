// Package caution holds the warnings that belong to this work: those that always
// hold, and those that the data themselves call for. Report, charge sheet and
// plan take their sentences from here, so that none is milder than another.
//
// All of it is common practice. It stands behind local codes and the judgement of
// licensed people, which Behind says wherever cautions are shown.
package caution

// Caution is one thing that can hurt, with the usual care.
type Caution struct {
	Code string // "carbon_monoxide"
	Name string // "Carbon monoxide"
	Text string // what it does, and the usual care
}

// Behind holds for every caution.
const Behind = "local codes and licensed practice go before each of these."

// Always returns what holds for every firing, whatever was analysed.
func Always() []Caution {
	return []Caution{
		{"carbon_monoxide", "Carbon monoxide", "Carbon monoxide kills without smell: fire in the open, stay upwind, never alone, a monitor at head height from lighting to cold."},
		{"molten_metal", "Molten slag and metal", "Molten slag and metal burst on damp ground: dry lining, tools, moulds and the ground around; warm the charge before it goes in; face shield, leather, closed shoes."},
		{"fire", "Fire", "Fire: spark break, water and sand at hand but away from the melt, someone who watches until it is cold."},
		{"silica_dust", "Silica dust", "Crushing ore, flux and lining makes silica dust: wet it down, and wear a fitted mask."},
	}
}

// Fume is an element that leaves a furnace, a roast or a crusher with the gas or
// the dust.
type Fume struct {
	Element string // "As"
	Name    string // "arsenic"
	Text    string // what it does, and the usual care; begins with the name
	// Least is wt% from which a charge sheet, which has little room, tells of
	// it; our own choice, and no limit of what is safe.
	Least float64
}

// Fumes returns the elements that are looked for in what is charged.
func Fumes() []Fume {
	return []Fume{
		{"As", "arsenic", "arsenic, and its fume is poison: upwind, suitable breathing protection, no food near, clothes washed apart.", 0.005},
		{"Sb", "antimony", "antimony, and its fume and dust are poison: upwind, suitable breathing protection, hands washed before eating.", 0.005},
		{"Pb", "lead", "lead, and its fume and dust are poison: upwind, suitable breathing protection, hands washed before eating.", 0.01},
		{"S", "sulphur", "sulphur, and sulphur dioxide burns eyes and lungs: upwind, and away from the fume of the first hour.", 0.05},
	}
}

// Unknown is the care where a stock was not analysed for something.
const Unknown = "treat the fume as if they held it"
