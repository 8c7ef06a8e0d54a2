// Package charge finds the mixture of ores and fluxes whose slag meets a target:
// a liquidus and a viscosity not above what the furnace can do, ratios and
// contents within limits.
//
// It knows melts, not materials: what slag a mixture gives is told by the
// caller (Problem.Slag), so that the stoichiometry of a charge stays where
// weights and analyses are. The search is deterministic for a seed.
package charge
