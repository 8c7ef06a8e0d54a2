package firing

import (
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// Firing is the log of one firing. All times are minutes after midnight of
// its first day; where Elapsed is set nobody noted when the logger started,
// times of readings count from its start and events have no place among them.
type Firing struct {
	Run      string
	Day      string // "2026-07-11", empty where no sheet dates it
	Elapsed  bool
	Channels []Channel
	Events   []Event // in order of time
}

// Channel is one thermocouple.
type Channel struct {
	Name     string // as headed, without unit
	Unit     string // as written: "°C", "°F" or "K"; readings are in °C
	Couple   Couple
	At       source.Cell // the heading
	Readings []Reading   // in order of time, no two at one time
	Faults   []Fault
}

// Reading is one temperature.
type Reading struct {
	Min float64
	C   float64 // °C
	At  source.Cell
}

// Fault is an entry that is no temperature.
type Fault struct {
	Min  float64
	Text string // as written
	Why  string
	At   source.Cell
}

// Event is a row of the events sheet.
type Event struct {
	Min                 float64
	What                string
	Kind                Kind
	Ore, Flux, Charcoal quantity.Quantity // kg; Missing where the row has none
	Note                string
	At                  source.Cell
}

// Kind is what an event does to the sums.
type Kind int

const (
	Other   Kind = iota
	Charge       // ore, flux or charcoal went in
	AirOn        // bellows or blower began, or began again
	AirOff       // they paused or ended
	LogOn        // the logger was started
	Lighted      // the fire was lit
)

// Start and End return the first and the last time of readings and events; ok
// is false where there is none.
func (f Firing) Start() (min float64, ok bool) { from, _, ok := f.span(); return from, ok }

// End is the last time of the log.
func (f Firing) End() (min float64, ok bool) { _, to, ok := f.span(); return to, ok }

func (f Firing) span() (from, to float64, ok bool) {
	take := func(m float64) {
		if !ok || m < from {
			from = m
		}
		if !ok || m > to {
			to = m
		}
		ok = true
	}
	for _, c := range f.Channels {
		if n := len(c.Readings); n > 0 {
			take(c.Readings[0].Min)
			take(c.Readings[n-1].Min)
		}
	}
	for _, e := range f.Events {
		if !f.Elapsed {
			take(e.Min)
		}
	}
	return from, to, ok
}
