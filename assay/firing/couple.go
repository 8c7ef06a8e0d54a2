package firing

import (
	"fmt"
	"math"
)

// Couple is a type of thermocouple by its letter; empty where nobody said.
type Couple string

// coupleType is what the standard gives of a type. Tolerances are those of
// IEC 60584-1 (from memory): class 1 and 2, the larger of a fixed and a
// relative part, for t up to the end given.
type coupleType struct {
	top    float64 // °C, end of the reference table
	fixed  [2]float64
	share  [2]float64
	end    [2]float64 // °C, up to which the tolerance is stated
	steady float64    // °C, above which wires of usual thickness drift or fail (common practice)
}

var couples = map[Couple]coupleType{
	"K": {1372, [2]float64{1.5, 2.5}, [2]float64{0.004, 0.0075}, [2]float64{1000, 1200}, 1250},
	"N": {1300, [2]float64{1.5, 2.5}, [2]float64{0.004, 0.0075}, [2]float64{1000, 1200}, 1250},
	"J": {1200, [2]float64{1.5, 2.5}, [2]float64{0.004, 0.0075}, [2]float64{750, 750}, 750},
	"S": {1768, [2]float64{1, 1.5}, [2]float64{0, 0.0025}, [2]float64{1600, 1600}, 1500},
	"R": {1768, [2]float64{1, 1.5}, [2]float64{0, 0.0025}, [2]float64{1600, 1600}, 1500},
	"B": {1820, [2]float64{1.5, 1.5}, [2]float64{0.0025, 0.0025}, [2]float64{1700, 1700}, 1700},
}

// Couples lists the types that are known.
func Couples() []string { return []string{"B", "J", "K", "N", "R", "S"} }

// Top returns the end of the type's reference table in °C; no reading lies
// above it.
func (c Couple) Top() float64 { return couples[c].top }

// Steady returns the temperature in °C above which a couple of the type may
// drift or fail (common practice).
func (c Couple) Steady() float64 { return couples[c].steady }

// Tolerance returns the limit of error of a new couple at t °C, either way.
// stated is false above the range of the standard, where the relative part is
// carried on.
func (c Couple) Tolerance(class int, t float64) (limit float64, stated bool) {
	k, ok := couples[c]
	if !ok || class < 1 || class > 2 {
		return math.NaN(), false
	}
	i := class - 1
	limit = math.Max(k.fixed[i], k.share[i]*math.Abs(t))
	if class == 1 && (c == "S" || c == "R") {
		limit = math.Max(1, 1+0.003*(t-1100))
	}
	return limit, t <= k.end[i]
}

// Judge is how readings are judged: by which couple and class, and over which
// gap nothing is known.
type Judge struct {
	Couple Couple // of channels that do not name theirs
	Class  int    // of tolerance, 1 or 2
	Gap    float64
}

// Check tells what is wrong with it.
func (j Judge) Check() error {
	if _, ok := couples[j.Couple]; !ok {
		return fmt.Errorf("%q is no known type of thermocouple; use one of %v", j.Couple, Couples())
	}
	if j.Class != 1 && j.Class != 2 {
		return fmt.Errorf("the class of tolerance is 1 or 2, not %d", j.Class)
	}
	if !(j.Gap > 0) {
		return fmt.Errorf("the gap is a time in minutes above 0, not %g", j.Gap)
	}
	return nil
}

// couple is the channel's own type, or the one taken for all.
func (j Judge) couple(c Channel) Couple {
	if c.Couple != "" {
		return c.Couple
	}
	return j.Couple
}

// Tolerance is that of a channel's couple.
func (j Judge) Tolerance(c Channel, t float64) (limit float64, stated bool) {
	return j.couple(c).Tolerance(j.Class, t)
}

// Steady is the limit of a channel's couple.
func (j Judge) Steady(c Channel) float64 { return j.couple(c).Steady() }
