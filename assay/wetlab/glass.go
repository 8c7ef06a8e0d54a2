package wetlab

import "math"

// mark is a piece of glass of class A with its tolerance, both in mL.
type mark struct{ volume, tolerance float64 }

// Tolerances of class A: volumetric flasks after ISO 1042, pipettes with one
// mark after ISO 648 (from memory, sure).
var (
	flasks   = []mark{{5, 0.025}, {10, 0.025}, {25, 0.04}, {50, 0.06}, {100, 0.10}, {200, 0.15}, {250, 0.15}, {500, 0.25}, {1000, 0.40}, {2000, 0.60}}
	pipettes = []mark{{1, 0.008}, {2, 0.010}, {5, 0.015}, {10, 0.02}, {20, 0.03}, {25, 0.03}, {50, 0.05}, {100, 0.08}}
)

// roomSwing is how far from 20 °C the glass is assumed to be, in kelvin.
const roomSwing = 3.0

// glassU returns the standard uncertainty of a volume measured with the
// smallest glass that holds it: tolerance as a triangle, temperature as a
// rectangle with the expansion of water, 2.1·10⁻⁴ per kelvin (EURACHEM/CITAC
// QUAM, example A1; from memory, sure).
func glassU(v float64, glasses []mark) float64 {
	last := glasses[len(glasses)-1]
	tolerance := last.tolerance * v / last.volume
	for _, g := range glasses {
		if v <= g.volume {
			tolerance = g.tolerance
			break
		}
	}
	return math.Hypot(tolerance/math.Sqrt(6), v*2.1e-4*roomSwing/math.Sqrt(3))
}
