// Package plan says what to charge: it takes the ores and fluxes that the
// notebook names, with their analyses, and finds the weights whose slag meets a
// target, with what is uncertain about it and what else could be done.
//
// The stoichiometry is assay/balance's, the search phase/charge's, the heat
// phase/heat's; this package joins them, which neither side may.
package plan
