// Package melt tells at what temperature a slag is wholly molten, and which
// mineral comes first when it cools.
//
// The liquid is a pair (quasichemical) solution on one lattice of cations
// (Pelton & Blander 1986, Metallurgical Transactions B 17:805–815); the solids
// are pure minerals and simple solid solutions, each held to its melting
// point. The energies are our own fit to 136 published points (command refit);
// FIT.md says how well it does on them, without a part of them, and on points
// kept aside.
//
// FeO and Fe2O3 count as analysed. Without Fe2O3 the iron is that of a melt which
// touches metallic iron; a slag that holds magnetite then starts to crystallise
// higher than the model says.
//
// The files follow the model: component.go, associate.go and mixture.go hold
// the liquid, pairs.go its inner equations, gradient.go and probe.go what a fit
// needs, solids.go and calcic.go the minerals, references.go what depends on
// temperature alone, search.go the way from 3200 K down to the liquidus; map.go,
// contour.go, boundary.go and field.go draw what they find over a triangle.
package melt
