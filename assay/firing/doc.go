// Package firing reads what was logged of a firing, temperatures of
// thermocouples and events with their charges, onto one clock, and works out
// what such a log can say: how long it was how hot, how fast it heated, how
// much charcoal burnt and whether the air fits the charcoal.
//
// A reading that the couple cannot have made (open circuit, above the table of
// its type) is a fault and never a temperature. Nothing is filled in: a gap
// stays a gap, and what may have happened in it widens the limits.
package firing
