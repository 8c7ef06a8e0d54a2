package melt

// Phase is a mineral of the model, or the region of two liquids, under the
// name used in machine-readable output.
type Phase string

// The phases. Pyroxene stands for the calcic and the calcium-free kind alike.
const (
	Olivine            Phase = "olivine"
	Wustite            Phase = "wustite" // up to pure MgO, where it is periclase
	DicalciumSilicate  Phase = "dicalcium_silicate"
	Rankinite          Phase = "rankinite"
	Pseudowollastonite Phase = "pseudowollastonite"
	Wollastonite       Phase = "wollastonite"
	Lime               Phase = "lime"
	Cristobalite       Phase = "cristobalite"
	Tridymite          Phase = "tridymite"
	Corundum           Phase = "corundum"
	Mullite            Phase = "mullite"
	Cordierite         Phase = "cordierite"
	Anorthite          Phase = "anorthite"
	Melilite           Phase = "melilite"
	Spinel             Phase = "spinel"
	Pyroxene           Phase = "pyroxene"
	Leucite            Phase = "leucite"
	KFeldspar          Phase = "k_feldspar"
	Rhodonite          Phase = "rhodonite"
	// Magnetite is the spinel of which more than half, by the weights of the
	// end members in the solution, is Fe3O4.
	Magnetite Phase = "magnetite"
	Nepheline Phase = "nepheline"
	Willemite Phase = "willemite"
	Zincite   Phase = "zincite"
	// TwoLiquids names the field of a map where a silica-rich melt splits in
	// two above the crystallisation of silica. It is never a first phase.
	TwoLiquids Phase = "two_liquids"
)

var phaseLabels = map[Phase]string{
	Wustite: "wüstite", DicalciumSilicate: "dicalcium silicate", KFeldspar: "K-feldspar", TwoLiquids: "two liquids",
}

// Label returns the name for print.
func (p Phase) Label() string {
	if l, ok := phaseLabels[p]; ok {
		return l
	}
	return string(p)
}

// silica reports whether p is a form of SiO2.
func (p Phase) silica() bool { return p == Cristobalite || p == Tridymite }
