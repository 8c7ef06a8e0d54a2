// Package melt tells at what temperature a slag is wholly molten, and which
// mineral comes first when it cools.
//
// The liquid is a pair (quasichemical) solution on one lattice of cations
// (Pelton & Blander 1986, Metallurgical Transactions B 17:805–815); the solids
// are pure minerals and simple solid solutions, each held to its melting
// point. The energies are our own fit to 73 published points, so the figures
// of accuracy in README.md are in-sample and flatter the model.
//
// All iron is taken as FeO, as in a melt that touches metallic iron. A slag
// that holds magnetite starts to crystallise higher than the model says.
//
// The files follow the model: component.go and mixture.go hold the liquid,
// pairs.go its inner equations, solids.go and calcic.go the minerals,
// references.go what depends on temperature alone, search.go the way from
// 3200 K down to the liquidus; map.go, contour.go, boundary.go and field.go
// draw what they find over a triangle.
package melt
