// Package lining reads the clay of a furnace: how refractory it was, how hot
// it got, how much of it went into the slag, and what the ash of the fuel
// brought.
//
// Unlike the other packages of phase it works on analyses as given, not on the
// melt basis: clays hold water, and their indices are stated as the trade
// states them. FeO_t stands for all iron as FeO.
package lining
