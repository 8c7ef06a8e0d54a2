// Package lining reads the clay of a furnace: how refractory it was and how hot
// it got.
//
// Unlike the other packages of phase it works on analyses as given, not on the
// melt basis: clays hold water, and their indices are stated as the trade
// states them. FeO_t stands for all iron as FeO.
package lining
