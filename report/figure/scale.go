package figure

import (
	"fmt"
	"math"
	"strconv"
)

// Tick is a lettered place on an axis.
type Tick struct {
	Value float64
	Label string // empty for a minor tick
}

// Fraction gives the place of v on the axis: 0 at Min, 1 at Max, even steps
// in the logarithm when Log is set.
func (a Axis) Fraction(v float64) float64 {
	if a.Log {
		return math.Log(v/a.Min) / math.Log(a.Max/a.Min)
	}
	return (v - a.Min) / (a.Max - a.Min)
}

// Held is Fraction held to the axis: 0 below Min, 1 above Max.
func (a Axis) Held(v float64) float64 {
	if v <= a.Min {
		return 0
	}
	if v >= a.Max {
		return 1
	}
	return a.Fraction(v)
}

// Title is the printed name of the axis with its unit.
func (a Axis) Title() string {
	if a.Unit == "" {
		return a.Label
	}
	return a.Label + " (" + a.Unit + ")"
}

// Ticks returns about the wanted number of lettered ticks, all within the
// axis. A log axis is lettered at decades, and at 2 and 5 as well when it
// spans few of them; its other whole multiples are minor ticks.
func (a Axis) Ticks(want int) []Tick {
	if a.Log {
		return a.logTicks(want)
	}
	step := niceStep((a.Max - a.Min) / float64(max(want, 1)))
	decimals := decimalsOf(step)
	var ticks []Tick
	for i := math.Ceil(a.Min/step - 1e-9); i*step <= a.Max+step*1e-9; i++ {
		v := math.Min(math.Max(i*step, a.Min), a.Max)
		ticks = append(ticks, Tick{v, number(i*step, decimals)})
	}
	return ticks
}

func (a Axis) logTicks(want int) []Tick {
	decades := math.Log10(a.Max / a.Min)
	if decades < 0.7 { // less than a factor of five: even steps read better
		linear := a
		linear.Log = false
		return linear.Ticks(want)
	}
	every := int(math.Max(1, math.Ceil(decades/float64(max(want, 1)))))
	twoFive := 3*decades <= float64(want)+2
	var ticks []Tick
	for e := int(math.Floor(math.Log10(a.Min))); float64(e) <= math.Ceil(math.Log10(a.Max)); e++ {
		for m := 1; m < 10; m++ {
			v, err := strconv.ParseFloat(fmt.Sprintf("%de%d", m, e), 64)
			if err != nil || v < a.Min*(1-1e-9) || v > a.Max*(1+1e-9) {
				continue
			}
			label := ""
			if m == 1 && e%every == 0 || twoFive && (m == 2 || m == 5) {
				label = number(v, max(0, -e))
			}
			if label != "" || every == 1 {
				ticks = append(ticks, Tick{v, label})
			}
		}
	}
	return ticks
}

// niceStep is the smallest of 1, 2 and 5 times a power of ten that is at least x.
func niceStep(x float64) float64 {
	p := math.Pow(10, math.Floor(math.Log10(x)))
	for _, m := range []float64{1, 2, 5} {
		if m*p >= x*(1-1e-9) {
			return m * p
		}
	}
	return 10 * p
}

// decimalsOf is the number of decimals that show a step of 1, 2 or 5 times a
// power of ten.
func decimalsOf(step float64) int {
	return max(0, int(-math.Floor(math.Log10(step)+1e-9)))
}

// number letters a value with a true minus sign.
func number(v float64, decimals int) string {
	if v == 0 {
		v = 0 // no negative zero
	}
	s := strconv.FormatFloat(math.Abs(v), 'f', decimals, 64)
	if v < 0 {
		return "−" + s
	}
	return s
}

// AxisFor returns an axis that holds every finite value with a little room,
// its ends on whole steps. A log axis leaves values that are not positive out
// of account. The error says so when nothing is left to show.
func AxisFor(label, unit string, log bool, values ...float64) (Axis, error) {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) || log && v <= 0 {
			continue
		}
		lo, hi = math.Min(lo, v), math.Max(hi, v)
	}
	if lo > hi {
		return Axis{}, fmt.Errorf("axis %q: no value that can be shown", label)
	}
	axis := Axis{Label: label, Unit: unit, Log: log}
	if log {
		axis.Min, axis.Max = logFloor(lo/1.1), logCeil(hi*1.1)
		return axis, nil
	}
	if lo == hi {
		pad := math.Max(math.Abs(lo)*0.1, 1e-3)
		lo, hi = lo-pad, hi+pad
	}
	room := (hi - lo) * 0.05
	floor := lo - room
	if lo >= 0 && floor < 0 {
		floor = 0
	}
	step := niceStep((hi - lo) / 6)
	axis.Min = math.Floor(floor/step+1e-9) * step
	axis.Max = math.Ceil((hi+room)/step-1e-9) * step
	return axis, nil
}

// logFloor is the largest of 1, 2 and 5 times a power of ten not above v.
func logFloor(v float64) float64 {
	p := math.Pow(10, math.Floor(math.Log10(v)))
	for _, m := range []float64{5, 2} {
		if m*p <= v {
			return m * p
		}
	}
	return p
}

// logCeil is the smallest of 1, 2 and 5 times a power of ten not below v.
func logCeil(v float64) float64 {
	p := math.Pow(10, math.Floor(math.Log10(v)))
	for _, m := range []float64{1, 2, 5} {
		if m*p >= v {
			return m * p
		}
	}
	return 10 * p
}
