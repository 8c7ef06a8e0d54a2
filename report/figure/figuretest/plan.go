package figuretest

import "smeltbook/report/figure"

// Plan is a furnace with four fragments and the wall of one of them.
func Plan() figure.Figure {
	return figure.Figure{ID: "plan", Caption: "A furnace to scale.", Alt: "A ring and a section through its wall.", Groups: Groups(),
		Body: &figure.Plan{Scale: "mm", Low: 300, Value: 340, High: 420, Wall: 60,
			Pieces:    []figure.PlanPiece{{Name: "LS-W1", Chord: 60}, {Name: "LS-W2", Chord: 44}, {Name: "LS-W3", Chord: 97}, {Name: "LS-W4", Chord: 114}},
			WallTitle: "wall of LS-W4 in section", Thickest: 110,
			Layers: []figure.PlanLayer{{Label: "slagged", Outer: 3, U: 1.5}, {Label: "vitrified", Outer: 40, U: 1.5, Temperature: "750–900 °C"}, {Label: "grey", Outer: 100, U: 1.5, Broken: true}}}}
}
