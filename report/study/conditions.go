package study

import "smeltbook/phase"

// Assumed conditions where the notebook states none. They appear in the
// report's methods.
const (
	DefaultSeed  = 1
	DefaultDraws = 400
	DefaultTC    = 1200 // °C
)

// DefaultLogPO2 brackets the oxygen potential of a charcoal-fired copper
// smelt: above that of iron metal, below that at which copper oxidises
// (common practice).
var defaultLogPO2 = [2]float64{-11, -9}

// ConditionsOf returns the conditions for a notebook's seed and number of
// draws; zero stands for "not stated".
func ConditionsOf(seed uint64, draws int) phase.Conditions {
	if seed == 0 {
		seed = DefaultSeed
	}
	if draws == 0 {
		draws = DefaultDraws
	}
	return phase.Conditions{TC: DefaultTC, LogPO2: defaultLogPO2, Seed: seed, Draws: draws}
}
