package furnace

import (
	"fmt"
	"math"
)

// Moment is the furnace some minutes after it was lit and blown.
type Moment struct {
	Minutes   float64
	HotTC     float64 // burning zone
	BedTC     float64 // lower bed
	WallW     float64 // into wall and ground
	WallMJ    float64 // that went into them since
	CarbonKgH float64
}

// Course is how a furnace heats up.
type Course []Moment

// moments is the number of steps in time of a course, at intervals that grow.
const moments = 40

// HeatUp follows the furnace from lighting for a number of hours, without a
// charge: charcoal warms up, and wall and ground take what Conduct says they
// take at that time. The whole bed counts as lit from the start; lighting it
// comes before.
func (f Furnace) HeatUp(hours float64) (Course, error) {
	f.Hours = hours
	if err := f.check(); err != nil {
		return nil, err
	}
	c := make(Course, moments)
	var s solver
	var w shell
	if err := f.heatUp(&s, &w, c); err != nil {
		return nil, err
	}
	return c, nil
}

func (f *Furnace) heatUp(s *solver, w *shell, c Course) error {
	var times [moments]float64
	var walls [moments]Drying
	last := f.Hours * 3600
	first := min(60, last/moments)
	for i := range times {
		times[i] = first * math.Pow(last/first, float64(i)/(moments-1))
	}
	w.conduct(f.Bowl.Radius(), f.Bowl.Lining, &f.Lining, &f.Ground, faceTC, f.AmbientTC, times[:], walls[:])
	per := 1 / (faceTC - f.AmbientTC) / f.Bowl.Wall()
	s.prepare(f, walls[0].Watts*per)
	s.charge = 0
	for i := range s.T {
		s.T[i] = s.ambient
	}
	s.flows()
	before, stored := 0.0, 0.0
	for i, t := range times {
		s.wall, s.dt, s.old = walls[i].Watts*per, t-before, s.T
		if _, err := s.settle(); err != nil {
			return fmt.Errorf("after %.0f minutes: %w", t/60, err)
		}
		st := s.state(0)
		stored += st.Wall * s.dt / 1e6
		c[i] = Moment{t / 60, st.HotTC(), st.BedTC(), st.Wall, stored, st.CarbonKgH}
		before = t
	}
	return nil
}

// Reaches returns the minutes after which the burning zone has a temperature in
// °C; NaN where it does not reach it.
func (c Course) Reaches(tc float64) float64 {
	for i, m := range c {
		if m.HotTC < tc {
			continue
		}
		if i == 0 {
			return m.Minutes
		}
		return between(tc, c[i-1].HotTC, m.HotTC, c[i-1].Minutes, m.Minutes)
	}
	return math.NaN()
}

// At returns the temperature of the burning zone in °C some minutes after
// lighting; that of the first or the last moment outside of the course.
func (c Course) At(minutes float64) float64 {
	for i, m := range c {
		if m.Minutes < minutes {
			continue
		}
		if i == 0 {
			return m.HotTC
		}
		return between(minutes, c[i-1].Minutes, m.Minutes, c[i-1].HotTC, m.HotTC)
	}
	return c[len(c)-1].HotTC
}

// between is on the line from (x0, y0) to (x1, y1).
func between(x, x0, x1, y0, y1 float64) float64 { return y0 + (y1-y0)*(x-x0)/(x1-x0) }
