package flow

import (
	"fmt"

	"smeltbook/phase/slag"
)

// Choice is a model with the reason for which it was taken.
type Choice struct {
	Model  Model
	Reason string // a plain sentence without full stop
}

// Choose picks the model for a melt by its iron, all of it as wt% FeO: from 25
// wt% Utigard & Warczok 1995, which was fitted to smelting slags; below 15 wt%
// Urbain 1981, which was fitted to melts of lime, alumina and silica and bears
// that much iron; between them Urbain 1987, the one that has both kinds of
// modifier. The order below 25 wt% is our convention.
func Choose(w slag.Wt) Choice {
	w = w.Normalise()
	switch iron := allIron(&w); {
	case iron >= ironRich:
		return Choice{UtigardWarczok1995{}, fmt.Sprintf("the slag holds %.1f wt%% FeO; from %d wt%% the model fitted to iron-rich smelting slags is taken", iron, ironRich)}
	case iron > urbainIron:
		return Choice{Urbain1987{}, fmt.Sprintf("the slag holds %.1f wt%% FeO, too little for the model of iron-rich smelting slags (from %d wt%%) and too much for that of lime–alumina–silica melts (to %d wt%%); the one with separate modifiers is taken", iron, ironRich, urbainIron)}
	default:
		return Choice{Urbain1981{}, fmt.Sprintf("the slag holds %.1f wt%% FeO; up to %d wt%% the model of lime–alumina–silica melts is taken", iron, urbainIron)}
	}
}
