package melt

import (
	"math"
	"testing"
)

// TestFusionTerm: ΔG/RT of melting vanishes at the melting point, and by the
// equation of Gibbs and Helmholtz its slope is −ΔH(T)/RT², with ΔH growing by the
// heat capacity of fusion.
func TestFusionTerm(t *testing.T) {
	for _, f := range []fusion{
		{tm: 1826, heat: 133e3},
		{tm: 1826, heat: 133e3, gain: 68},
		{tm: 1664, heat: 138e3, gain: 75},
	} {
		if g := f.fusionTerm(f.tm); math.Abs(g) > 1e-12 {
			t.Errorf("%+v: %g at the melting point", f, g)
		}
		for _, T := range []float64{1200, 1400, f.tm, 2200} {
			const h = 0.01
			slope := (f.fusionTerm(T+h) - f.fusionTerm(T-h)) / (2 * h)
			want := -(f.heat + f.gain*(T-f.tm)) / (gasConstant * T * T)
			if math.Abs(slope/want-1) > 1e-6 {
				t.Errorf("%+v at %g K: slope %g, want %g", f, T, slope, want)
			}
		}
	}
}
