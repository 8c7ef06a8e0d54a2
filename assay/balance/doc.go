// Package balance reckons with masses: what a charge gives, where the copper of
// a firing went and whether its weights close, and of what a slag is made. It
// knows stoichiometry and weighing, not what the melt did.
package balance
