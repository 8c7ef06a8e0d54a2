package quality

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Chart is a control chart of single readings (Shewhart): a middle, warning
// limits at two and action limits at three standard deviations.
type Chart struct {
	Readings []float64
	Middle   float64
	SD       float64
	Assigned bool     // middle and SD are given, not from the readings
	Signals  []Signal // what the readings show
	Drift    float64  // change from one reading to the next; NaN with fewer than four
	UDrift   float64
	Drifts   bool // the change is significant at 95 %
}

// Signal is a reading that a rule of the chart picks out.
type Signal struct {
	Index  int
	Act    bool // else a warning
	Reason string
}

// rangeToSD turns the mean moving range of single readings into a standard
// deviation (Shewhart's d₂ for pairs).
const rangeToSD = 1 / 1.128

// FewReadings is the number below which limits drawn from the readings
// themselves say little; common practice asks for twenty.
const FewReadings = 20

// ChartOf draws a chart about the readings' own mean, with the standard
// deviation from their moving range, which a slow drift does not widen.
func ChartOf(readings []float64) Chart {
	c := Chart{Readings: readings, Middle: Repeats(readings).Mean()}
	var moving float64
	for i := 1; i < len(readings); i++ {
		moving += math.Abs(readings[i]-readings[i-1]) / float64(len(readings)-1)
	}
	c.SD = moving * rangeToSD
	c.judge()
	return c
}

// ChartAbout draws a chart about an assigned value with a given standard
// deviation, which holds however few readings there are.
func ChartAbout(readings []float64, middle, sd float64) Chart {
	c := Chart{Readings: readings, Middle: middle, SD: sd, Assigned: true}
	c.judge()
	return c
}

// Warning and Action are the limits of the chart.
func (c Chart) Warning() (lo, hi float64) { return c.Middle - 2*c.SD, c.Middle + 2*c.SD }

// Action limits; see Warning.
func (c Chart) Action() (lo, hi float64) { return c.Middle - 3*c.SD, c.Middle + 3*c.SD }

// judge applies the rules in common use: one reading beyond the action limit,
// two of three beyond the same warning limit, eight in a row on one side, and a
// trend. Limits from fewer than eight readings pick out nothing.
func (c *Chart) judge() {
	c.Drift, c.UDrift = math.NaN(), math.NaN()
	n := len(c.Readings)
	if c.SD > 0 && (c.Assigned || n >= 8) {
		c.beyond()
	}
	if n < 4 {
		return
	}
	order := make([]float64, n)
	for i := range order {
		order[i] = float64(i)
	}
	l, err := Ordinary(order, c.Readings)
	if err != nil {
		return
	}
	c.Drift, c.UDrift = l.B, l.UB
	t := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(n - 2)}.Quantile(0.975)
	c.Drifts = l.UB > 0 && math.Abs(l.B) > t*l.UB
}

func (c *Chart) beyond() {
	side := func(i int, limit float64) int {
		switch d := (c.Readings[i] - c.Middle) / c.SD; {
		case d > limit:
			return 1
		case d < -limit:
			return -1
		}
		return 0
	}
	run := 0
	for i := range c.Readings {
		switch {
		case side(i, 3) != 0:
			c.Signals = append(c.Signals, Signal{i, true, "beyond the action limit"})
		case side(i, 2) != 0 && (i > 0 && side(i-1, 2) == side(i, 2) || i > 1 && side(i-2, 2) == side(i, 2)):
			c.Signals = append(c.Signals, Signal{i, true, "the second of three beyond the same warning limit"})
		case side(i, 2) != 0:
			c.Signals = append(c.Signals, Signal{i, false, "beyond the warning limit"})
		}
		if s := side(i, 0); i > 0 && s != 0 && s == side(i-1, 0) {
			run++
		} else {
			run = 1
		}
		if run == 8 {
			c.Signals = append(c.Signals, Signal{i, false, "the eighth in a row on one side of the middle"})
		}
	}
}

// Trust says in plain words how far limits from so few readings can be
// trusted; empty where they can.
func (c Chart) Trust() string {
	n := len(c.Readings)
	switch {
	case c.Assigned || n >= FewReadings:
		return ""
	case n < 8:
		return fmt.Sprintf("%d readings do not make limits of their own; common practice asks for %d", n, FewReadings)
	}
	return fmt.Sprintf("limits from %d readings are themselves known to about %.0f %% only", n, 100/math.Sqrt(2*float64(n-1)))
}
