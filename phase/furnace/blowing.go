package furnace

import (
	"fmt"
	"math"
)

// Blower is a kind of bellows, or people with blowpipes, at work.
type Blower struct {
	Kind      string  // "blowpipe", "bag", "piston", "fan"
	Number    int     // at work at a time
	Stroke    float64 // L of free air for a stroke; for blowpipe and fan L/min
	PerMinute float64 // strokes; 1 for blowpipe and fan
	Leak      float64 // share of the air that does not reach the pipe
	Duty      float64 // share of the time in which it blows
}

// Blowers are the usual kinds by name, one of each. A blowpipe gives at most 75
// L/min (tf.uni-kiel.de); half of it is kept up, a bag of skin holds 5 to 10 L,
// a piston some litres, and thirty strokes a minute can be kept up (common
// practice).
func Blowers() map[string]Blower {
	return map[string]Blower{
		"blowpipe": {"blowpipe", 1, 40, 1, 0.05, 0.6},
		"bag":      {"bag", 1, 7, 25, 0.25, 0.5},
		"piston":   {"piston", 1, 4, 30, 0.15, 0.5},
		"fan":      {"fan", 1, 400, 1, 0.10, 1},
	}
}

// Limits of people (common practice): strokes that one keeps up, the most that
// is blown by mouth, and the work of arms in watts over an hour.
const (
	MostStrokes  = 40.0
	MostBlowpipe = 75.0
	MostWatts    = 60.0
	halfUseful   = 0.5 // share of the work at a bellows that goes into the air
)

// Check refuses what is no blower.
func (b Blower) Check() error {
	switch {
	case b.Kind != "blowpipe" && b.Kind != "bag" && b.Kind != "piston" && b.Kind != "fan":
		return fmt.Errorf("air is blown by blowpipe, bag, piston or fan, not by %q", b.Kind)
	case b.Number < 1 || b.Number > 50:
		return fmt.Errorf("%d blowers are impossible; give 1 to 50", b.Number)
	case !(b.Stroke > 0 && b.Stroke <= 5000):
		return fmt.Errorf("a stroke of %g L is impossible", b.Stroke)
	case !(b.PerMinute > 0 && b.PerMinute <= 200):
		return fmt.Errorf("%g strokes a minute are impossible", b.PerMinute)
	case !(b.Leak >= 0 && b.Leak < 1):
		return fmt.Errorf("a leakage of %g is impossible; give a share below 1", b.Leak)
	case !(b.Duty > 0 && b.Duty <= 1):
		return fmt.Errorf("blowing for a share of %g of the time is impossible", b.Duty)
	}
	return nil
}

// Free is the air of all of them that reaches the pipe, L/min as it is.
func (b Blower) Free() float64 {
	return float64(b.Number) * b.Stroke * b.PerMinute * (1 - b.Leak)
}

// Air is the blast that reaches the fire, for air of a temperature in °C and a
// pressure in bar.
func (b Blower) Air(tc, bar float64) Air {
	if b.Kind == "blowpipe" {
		return Breath(Normal(b.Free(), 34, bar))
	}
	return FreeAir(Normal(b.Free(), tc, bar), tc)
}

// For returns how many of them give a flow in L/min of free air.
func (b Blower) For(free float64) int {
	b.Number = 1
	return int(math.Ceil(free/b.Free() - 1e-9))
}

// Watts is the work of one person at it against a pressure (Pa) in the pipe,
// leakage and friction counted.
func (b Blower) Watts(pressure float64) float64 {
	if b.Kind == "fan" {
		return 0
	}
	return pressure * b.Stroke * b.PerMinute / 60000 / halfUseful
}
