// Package furnace is the physics of a small bowl of charcoal blown with air: how
// hot, how reducing, how soon, on how much air and charcoal, and what takes the
// heat.
//
// The bed is cut into zones along the way of the gas. In the first, before the
// mouth of the pipe, oxygen burns to carbon dioxide; how far it reaches follows
// from the transfer of oxygen to the lumps. Above it the dioxide, and steam, are
// reduced by charcoal as fast as their rates allow; charcoal comes down against
// the gas and is heated by it; zones exchange heat by radiation through the
// lumps; the wall takes heat as clay and ground do after so many hours, damp
// ground as it dries; the top radiates. Solve balances the heat of every zone.
//
// Sources: stoichiometry and gas by NASA polynomials (phase/redox); transfer in
// packed beds after Wakao & Funazkri 1978, Chem. Eng. Sci. 33:1375; rates of
// charcoal with CO2 and steam as used by Bryden & Ragland 1996, Energy &
// Fuels 10:269 (both from memory); conduction after Carslaw & Jaeger 1959. What
// had to be assumed is listed with its spread by Parameters.
//
// Left out: dissociation above 2000 °C, what is volatile in charcoal, how slag
// and metal carry heat downwards, and the swing between strokes. Temperatures
// are means of zones; a couple in the flame reads higher, one at the wall lower.
package furnace
