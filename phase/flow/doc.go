// Package flow says how a slag ran: its viscosity with and without crystals,
// its density and surface tension, and how fast drops of copper sank through
// it.
//
// Viscosity models carry the names of their authors and stand behind one
// interface, Model. Each was fitted to a kind of melt, so Choose picks one by
// composition and says why; the others are for comparison (Compare). Outside a
// model's range the number is still given, with a notice that names the model;
// where a formula has no value it is refused with an error. No model is better
// than a factor of two on such slags, which every answer carries as its band.
//
// A slag that is not all molten is asked through Crystals: the model describes
// the liquid that is left, Einstein–Roscoe the solids in it, so that viscosity
// against temperature is one curve through the melting interval.
//
// Temperatures are in °C at the border of the package and in kelvin inside the
// formulas; viscosity is in Pa·s, density in g/cm³, surface tension in mN/m.
// Settling is in SI units throughout.
package flow
