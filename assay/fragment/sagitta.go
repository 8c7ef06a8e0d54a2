package fragment

import "math"

// k95 is the normal quantile of a two-sided 95 % interval.
const k95 = 1.959964

// Limits are a diameter in mm with its 95 % limits. High is infinite where the
// reading does not rule out a straight edge; all are then "at least Low".
type Limits struct{ Value, Low, High float64 }

// Diameter returns that of the circle whose chord has a sagitta.
func Diameter(chord, sagitta float64) float64 { return chord*chord/(4*sagitta) + sagitta }

// Sagitta returns that of a chord in a circle of a diameter: the inverse of
// Diameter for an arc of less than half the circle.
func Sagitta(chord, diameter float64) float64 {
	r := diameter / 2
	return r - math.Sqrt(r*r-chord*chord/4)
}

// Curvature is what one fragment says: 2/diameter in 1/mm with its standard
// uncertainty. It may be negative within its error.
type Curvature struct{ K, U float64 }

// Limits turns a curvature into a diameter with limits k standard
// uncertainties away.
func (c Curvature) Limits(k float64) Limits {
	of := func(x float64) float64 {
		if x <= 0 {
			return math.Inf(1)
		}
		return 2 / x
	}
	return Limits{of(c.K), of(c.K + k*c.U), of(c.K - k*c.U)}
}

// OfSagitta returns the curvature of an arc from its chord and sagitta in mm.
// Its standard uncertainty is that of the sagitta, and of the chord, which
// counts twice its relative size (law of propagation, JCGM 100:2008, 5.1.2).
func OfSagitta(chord, uChord, sagitta, uSagitta float64) Curvature {
	n := chord*chord + 4*sagitta*sagitta
	k := 8 * sagitta / n
	byS := 8/n - 64*sagitta*sagitta/(n*n)
	byC := -16 * sagitta * chord / (n * n)
	return Curvature{k, math.Hypot(byS*uSagitta, byC*uChord)}
}

// OfTemplate returns the curvature of an edge that lies between two rings of a
// rim template, any place between them as likely as another.
func OfTemplate(from, to float64) Curvature {
	a, b := 2/to, 2/from
	return Curvature{(a + b) / 2, (b - a) / math.Sqrt(12)}
}

// LeastChord returns the chord in mm below which a fragment of a ring of a
// diameter cannot be told from a straight edge with 95 % confidence, and the
// chord from which the diameter is known to a share of itself, by a sagitta
// read to u.
func LeastChord(diameter, u, share float64) (straight, known float64) {
	of := func(s float64) float64 {
		if s >= diameter/2 {
			return diameter
		}
		return 2 * math.Sqrt(s*(diameter-s))
	}
	return of(k95 * u), of(k95 * u / share)
}
