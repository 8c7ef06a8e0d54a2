package melt

import (
	"fmt"
	"math"

	"smeltbook/assay/source"
	"smeltbook/phase/slag"
)

// Slope is how the liquidus answers to one oxide.
type Slope struct {
	Oxide slag.Oxide
	PerWt float64 // °C per wt% of the oxide in the melt, the others giving way in proportion
}

// Slopes holds the slopes for the oxides of the model, in the order SiO2, FeO,
// CaO, Al2O3, MgO, MnO, K2O, Na2O, Fe2O3, ZnO, TiO2, P2O5. Fe2O3 is ferric iron
// here, and its slope is NaN in a melt without FeO.
type Slopes struct {
	Slopes        []Slope
	Steepest      Slope // zero where the liquidus is flat or unknown on all sides
	VerySensitive bool  // the steepest slope exceeds 50 °C per wt%
	Notices       source.Notices
}

const (
	slopeStep      = 0.5  // wt%
	sensitiveSlope = 50.0 // °C per wt%
)

// Slopes returns how the liquidus of w changes with each oxide, by differences
// over ±0.5 wt%; one-sided where there is less than that to take away, or where
// one of the two melts has no liquidus. An oxide for which neither side has an
// answer has a slope of NaN.
func (m *Model) Slopes(w slag.Wt) (Slopes, error) {
	if err := checkMelt(w); err != nil {
		return Slopes{}, err
	}
	w = m.restated(w).Normalise()
	var s search
	here, err := m.onset(&s, &w)
	if err != nil {
		return Slopes{}, err
	}
	var out Slopes
	for _, c := range modelled {
		slope := Slope{Oxide: c.oxide, PerWt: m.slope(&s, w, c.oxide, here.tc())}
		out.Slopes = append(out.Slopes, slope)
		if math.Abs(slope.PerWt) > math.Abs(out.Steepest.PerWt) {
			out.Steepest = slope
		}
	}
	if math.Abs(out.Steepest.PerWt) > sensitiveSlope {
		out.VerySensitive = true
		out.Notices = append(out.Notices, source.Notice{
			Severity: source.Warning, Code: "LIQUIDUS_VERY_SENSITIVE",
			Message: fmt.Sprintf("the liquidus is very sensitive here: it changes by %.0f °C per wt%% %v", out.Steepest.PerWt, out.Steepest.Oxide),
		})
	}
	return out, nil
}

// slope returns the difference quotient for one oxide; tc is the liquidus of w.
func (m *Model) slope(s *search, w slag.Wt, oxide slag.Oxide, tc float64) float64 {
	at := func(amount float64) (float64, bool) {
		if amount < 0 || amount > 100 {
			return 0, false
		}
		v := w
		v[oxide] = 0
		v = v.Normalise()
		for o := range v {
			v[o] *= (100 - amount) / 100
		}
		v[oxide] = amount
		o, err := m.onset(s, &v)
		return o.tc(), err == nil
	}
	more, okMore := at(w[oxide] + slopeStep)
	less, okLess := at(w[oxide] - slopeStep)
	switch {
	case okMore && okLess:
		return (more - less) / (2 * slopeStep)
	case okMore:
		return (more - tc) / slopeStep
	case okLess:
		return (tc - less) / slopeStep
	}
	return math.NaN()
}
