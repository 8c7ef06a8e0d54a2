package flow

import (
	"fmt"
	"math"

	"smeltbook/phase/slag"
)

// Crystals tells what a slag holds at a temperature in °C: the mass share of
// crystals, 0 to 1, and the liquid that is left, in wt%. The liquid holds the
// oxides that no crystal takes too, copper oxide for one, or the curve of
// viscosity would jump where the first crystal comes. Liquid is asked only
// where the share lies between 0 and 1.
type Crystals interface {
	SolidFraction(tc float64) float64
	Liquid(tc float64) slag.Wt
}

// SolidVolume may be implemented by a Crystals that knows the volume share of
// its crystals, 0 to 1. Otherwise Suspension.SolidDensity turns mass into
// volume.
type SolidVolume interface {
	SolidVolume(tc float64) float64
}

// Suspension says how crystals stiffen a slag, after Einstein and Roscoe:
//
//	η = η_liquid·(1 − A·f)^(−N)
//
// with f the volume share of solids. The formula ends at f = 1/A, where the
// solids touch.
type Suspension struct {
	A, N         float64
	SolidDensity float64 // g/cm³ of the crystals, to turn mass into volume
	Source       string
}

// Roscoe returns the suspension of equal spheres, A = 1.35 and N = 2.5 (Roscoe
// 1952), with the density of solid fayalite for the crystals, our convention.
func Roscoe() Suspension {
	return Suspension{A: 1.35, N: 2.5, SolidDensity: 4.32, Source: "Roscoe 1952, Br. J. Appl. Phys. 3:267"}
}

// Spinel returns the suspension fitted to spinel in slag by Wright and others,
// A = 4.24 and N = 1.28 (from memory).
func Spinel() Suspension {
	return Suspension{A: 4.24, N: 1.28, SolidDensity: 4.32, Source: "Wright, Zhang, Sun & Jahanshahi 2000, Metall. Mater. Trans. B 31:97"}
}

// lowerBound is the volume share of solids above which a slag may behave as a
// Bingham body (Wright et al. 2001, J. Non-Cryst. Solids 282:15), so that the
// factor is a lower bound.
const lowerBound = 0.2

// Factor returns by how much a volume share f of solids stiffens the liquid.
// It refuses a share outside 0 to 1 and one at which the solids touch.
func (s Suspension) Factor(f float64) (float64, error) {
	switch {
	case !(f >= 0) || f > 1:
		return math.NaN(), fmt.Errorf("a share of solids of %g is impossible; give one from 0 to 1", f)
	case s.A*f >= 1:
		return math.NaN(), fmt.Errorf("with %.0f vol%% of crystals the slag no longer flows: the formula for suspensions ends at %.1f vol%%, where the crystals touch", 100*f, 100/s.A)
	}
	return s.factor(f), nil
}

// factor is Factor without the refusals, +Inf where the solids touch.
func (s Suspension) factor(f float64) float64 {
	if f <= 0 {
		return 1
	}
	if s.A*f >= 1 {
		return math.Inf(1)
	}
	return math.Pow(1-s.A*f, -s.N)
}

// volumeShare turns a mass share of solids into one of volume.
func volumeShare(mass, solidDensity, liquidDensity float64) float64 {
	if mass <= 0 || mass >= 1 {
		return mass
	}
	s, l := mass/solidDensity, (1-mass)/liquidDensity
	return s / (s + l)
}

func (s Suspension) check() error {
	if !(s.A >= 1) || !(s.N > 0) || !(s.SolidDensity > 0) {
		return fmt.Errorf("a suspension with A = %g, N = %g and crystals of %g g/cm³ is impossible; A must be at least 1 and the others above 0", s.A, s.N, s.SolidDensity)
	}
	return nil
}
