package copper

import (
	"fmt"
	"math"

	"smeltbook/assay/quantity"
)

// Densities at room temperature in g/cm³: copper metal (handbooks, from
// memory) and the span of solid copper slags.
const copperSolid = 8.96

// SolidSlag is the span of densities of solid copper slag in g/cm³.
func SolidSlag() Interval { return Interval{3.16, 3.87} }

// Prills is what image analysis of polished sections found of copper metal.
type Prills struct {
	Area        quantity.Quantity // share of the area, which is that of the volume, in "1" or "vol%"
	SlagDensity Interval          // g/cm³ at room temperature; zero: SolidSlag
}

// MetalFromArea returns the wt% of metallic copper in a slag whose sections
// show the share phi (0 to 1) of their area as copper, with a slag of the
// given density in g/cm³, both at room temperature:
//
//	w = 100 φ ρ_Cu/(φ ρ_Cu + (1 − φ) ρ_slag)
func MetalFromArea(phi, slagDensity float64) (float64, error) {
	if !(phi >= 0) || phi > 1 || !(slagDensity > 0) {
		return math.NaN(), fmt.Errorf("prills on %g of the area in slag of %g g/cm³ are impossible; give the area as a share from 0 to 1", phi, slagDensity)
	}
	return 100 * phi * copperSolid / (phi*copperSolid + (1-phi)*slagDensity), nil
}

// interval returns the wt% of metal that the area and the densities allow.
func (p Prills) interval() (Interval, error) {
	area, err := asShare(p.Area)
	if err != nil {
		return Interval{}, fmt.Errorf("prill area: %w", err)
	}
	rho := p.SlagDensity
	if rho == (Interval{}) {
		rho = SolidSlag()
	}
	if !(rho.Lo > 0) || rho.Lo > rho.Hi {
		return Interval{}, fmt.Errorf("a density of slag from %g to %g g/cm³ is impossible", rho.Lo, rho.Hi)
	}
	lo, err := MetalFromArea(area.Lo, rho.Hi)
	if err != nil {
		return Interval{}, err
	}
	hi, err := MetalFromArea(min(area.Hi, 1), rho.Lo)
	return Interval{lo, hi}, err
}

// asShare returns the bounds of a share that is stated in "1" or per cent.
func asShare(q quantity.Quantity) (Interval, error) {
	switch q.Unit {
	case "1":
	case "vol%", "%", "area%":
		q = q.Scale(0.01, "1")
	default:
		return Interval{}, fmt.Errorf("%q is no unit of a share; give it in 1 or vol%%", q.Unit)
	}
	i, ok := bounds(q)
	if !ok {
		return Interval{}, fmt.Errorf("the share is not known (%s)", q.Mark())
	}
	return i, nil
}

// coverage is the factor on standard uncertainties by which measurements
// become intervals: about 95 %.
const coverage = 2

// bounds returns what q may stand for: the value within twice its standard
// uncertainty, or from zero to a limit; never below zero.
func bounds(q quantity.Quantity) (Interval, bool) {
	lo, hi := q.Bounds()
	if math.IsNaN(lo) || math.IsInf(hi, 1) {
		return Interval{}, false
	}
	if q.HasU() {
		lo, hi = lo-coverage*q.U, hi+coverage*q.U
	}
	return Interval{max(lo, 0), max(hi, 0)}, true
}
