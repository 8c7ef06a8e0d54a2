package charge

import (
	"fmt"
	"math"
	"strings"

	"smeltbook/phase/slag"
)

// Quantity is what a term of a target is about.
type Quantity string

const (
	Liquidus  Quantity = "liquidus_c"
	Viscosity Quantity = "viscosity_pa_s" // of the liquid, crystals left aside
	Content   Quantity = "content_wt_pct"
	Ratio     Quantity = "ratio"
)

// Term is one thing that is asked of the slag: a value from Lo to Hi. Lo is 0
// where only the most is stated, Hi is +Inf where only the least is.
type Term struct {
	Of          Quantity
	Over, Under slag.Oxide // of a ratio, wt% over wt%; a content has Over alone
	AtC         float64    // °C, of a viscosity
	Lo, Hi      float64
}

// AtMost is a term with an upper end alone.
func AtMost(of Quantity, hi float64) Term { return Term{Of: of, Hi: hi} }

// Name says what the term is about: "liquidus", "FeO/SiO2".
func (t Term) Name() string {
	switch t.Of {
	case Liquidus:
		return "liquidus"
	case Viscosity:
		return fmt.Sprintf("viscosity at %g °C", t.AtC)
	case Content:
		return t.Over.String()
	}
	return t.Over.String() + "/" + t.Under.String()
}

// Unit is the unit of the term's value, empty for a ratio.
func (t Term) Unit() string {
	switch t.Of {
	case Liquidus:
		return "°C"
	case Viscosity:
		return "Pa·s"
	case Content:
		return "wt%"
	}
	return ""
}

// String says the term in words: "liquidus at most 1200 °C".
func (t Term) String() string {
	unit := t.Unit()
	if unit != "" {
		unit = " " + unit
	}
	switch {
	case math.IsInf(t.Hi, 1):
		return fmt.Sprintf("%s at least %g%s", t.Name(), t.Lo, unit)
	case t.Lo > 0:
		return fmt.Sprintf("%s from %g to %g%s", t.Name(), t.Lo, t.Hi, unit)
	}
	return fmt.Sprintf("%s at most %g%s", t.Name(), t.Hi, unit)
}

// miss is how far a value is off, at most 0 where it is within: in steps of 50
// °C, of a factor of two, of 3 wt% and of a tenth of a ratio, which weigh alike
// when the nearest mixture is sought (our convention).
func (t Term) miss(x float64) float64 {
	const degrees, content, ratio = 50, 3, 0.1
	step := func(x, end float64) float64 {
		switch t.Of {
		case Liquidus:
			return (x - end) / degrees
		case Viscosity:
			return math.Log2(x / end)
		case Content:
			return (x - end) / content
		}
		return (x - end) / (ratio * math.Max(end, ratio))
	}
	worst := math.Inf(-1)
	if !math.IsInf(t.Hi, 1) {
		worst = step(x, t.Hi)
	}
	if t.Lo > 0 {
		worst = math.Max(worst, -step(x, t.Lo))
	}
	if math.IsNaN(worst) {
		return math.Inf(1)
	}
	return worst
}

// Check finds terms that make no sense, and contents and ratios that no slag
// can have at once.
func Check(target []Term) error {
	for _, t := range target {
		switch {
		case math.IsNaN(t.Lo) || math.IsNaN(t.Hi) || t.Lo < 0 || t.Hi < 0:
			return fmt.Errorf("%s: a limit is never negative", t.Name())
		case t.Lo > t.Hi:
			return fmt.Errorf("%s from %g to %g contradicts itself; give the lower limit first", t.Name(), t.Lo, t.Hi)
		case t.Of == Content && t.Lo > 100:
			return fmt.Errorf("%s: no slag holds %g wt%%", t.Name(), t.Lo)
		case t.Of == Ratio && t.Over == t.Under:
			return fmt.Errorf("%s is always 1 and no target", t.Name())
		}
	}
	// The least contents, each counted once, may not sum to more than the slag.
	least := map[slag.Oxide]float64{}
	why := map[slag.Oxide]string{}
	for _, t := range target {
		if t.Of == Content && t.Lo > least[t.Over] {
			least[t.Over], why[t.Over] = t.Lo, t.String()
		}
	}
	for range target { // a ratio may stand on another
		for _, t := range target {
			if x := t.Lo * least[t.Under]; t.Of == Ratio && x > least[t.Over] {
				least[t.Over], why[t.Over] = x, t.String()
			}
		}
	}
	sum := 0.0
	var said []string
	for o := slag.Oxide(0); o < slag.NumOxides; o++ {
		if sum += least[o]; least[o] > 0 {
			said = append(said, why[o])
		}
	}
	if sum > 100 {
		return fmt.Errorf("%s contradict each other: they need %.0f wt%% of slag in 100", strings.Join(said, " and "), sum)
	}
	for _, t := range target {
		if t.Of == Content && least[t.Over] > t.Hi || t.Of == Ratio && least[t.Over] > t.Hi*(100-least[t.Over]) {
			return fmt.Errorf("%s contradicts %s", t, why[t.Over])
		}
	}
	return nil
}
