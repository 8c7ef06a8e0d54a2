// Package wetlab turns what was read at the bench (balance, burette, flask,
// pipette, photometer, flame) into concentrations in wt%.
//
// A Determination is one line of a readings sheet: a sample, a method, an
// analyte and the readings that the method needs, each with its standard
// uncertainty, stated on the sheet or assumed and said to be so. Compute gives
// the Result: a value with its propagated uncertainty, the formula and source
// of the method, and notices about the blank, the scope of the standard and
// the readings that were not used. Interferences names what else in the sample
// was counted with the analyte, from the other analyses of the sample.
//
// Molar masses are those of package chem and count as exact: their relative
// uncertainty stays below 0.04 %, with lead and lithium, which are determined
// here by comparison with their own standards, as the exceptions.
package wetlab
