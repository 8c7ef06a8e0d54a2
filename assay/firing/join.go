package firing

import (
	"fmt"
	"math"
	"path"
	"slices"

	"smeltbook/assay/source"
)

// firing brings what the sheets tell of one firing onto one clock.
func (r *reader) firing(run string) Firing {
	f := Firing{Run: run}
	var parts []part
	base, dated := math.Inf(1), false
	for _, p := range r.parts {
		if p.run != run {
			continue
		}
		if p.elapsed && p.start != nil {
			p = p.shift(p.start.total())
			p.dated, p.elapsed = p.start.dated, false
		}
		if first, ok := p.first(); ok && p.dated {
			base, dated = math.Min(base, math.Floor(first/dayMinutes)*dayMinutes), true
		}
		parts = append(parts, p)
	}
	if dated {
		f.Day = dayText(int(base / dayMinutes))
	}
	for i, p := range parts {
		if p.dated {
			parts[i] = p.shift(-base)
		}
	}
	r.anchor(parts)
	logged := slices.ContainsFunc(parts, func(p part) bool { return len(p.channels) > 0 })
	f.Elapsed = logged && !slices.ContainsFunc(parts, func(p part) bool { return len(p.channels) > 0 && !p.elapsed })
	for _, p := range parts {
		if p.elapsed && !f.Elapsed {
			continue // told: it has no place on the clock of the others
		}
		for _, c := range p.channels {
			for _, other := range f.Channels {
				if other.Name == c.Name {
					c.Name += " (" + path.Base(p.at.File) + ")"
					break
				}
			}
			f.Channels = append(f.Channels, c)
		}
		f.Events = append(f.Events, p.events...)
	}
	r.overnight(&f, parts)
	slices.SortStableFunc(f.Events, func(a, b Event) int {
		switch {
		case a.Min < b.Min:
			return -1
		case a.Min > b.Min:
			return 1
		}
		return 0
	})
	return f
}

// anchor places sheets that count from the logger's start by the event that
// says when it was started.
func (r *reader) anchor(parts []part) {
	at := math.NaN()
	for _, p := range parts {
		for _, e := range p.events {
			if e.Kind == LogOn && math.IsNaN(at) && !p.elapsed {
				at = e.Min
			}
		}
	}
	for i, p := range parts {
		switch {
		case !p.elapsed:
		case math.IsNaN(at):
			r.notices.Add(source.Warning, "LOG_NO_START", p.at, "the times count from the start of the logger, and nothing says when that was, so charges have no place on its curves; write an event \"logger on\" with its time in the events sheet, or a line \"Start 09:12\" above the table")
		default:
			parts[i] = p.shift(at)
			parts[i].elapsed = false
		}
	}
}

// overnight moves events without date to the next day where the firing was
// logged only there.
func (r *reader) overnight(f *Firing, parts []part) {
	first := math.Inf(1)
	for _, c := range f.Channels {
		if len(c.Readings) > 0 {
			first = math.Min(first, c.Readings[0].Min)
		}
	}
	for _, p := range parts {
		if p.dated || len(p.channels) > 0 {
			continue
		}
		for i, e := range f.Events {
			if e.At.File == p.at.File && e.At.Sheet == p.at.Sheet && e.Min < first-dayMinutes/2 && !f.Elapsed {
				f.Events[i].Min += dayMinutes
			}
		}
	}
}

// shift returns a part with its clock moved.
func (p part) shift(by float64) part {
	p.channels, p.events = slices.Clone(p.channels), slices.Clone(p.events)
	for i := range p.channels {
		c := &p.channels[i]
		c.Readings, c.Faults = slices.Clone(c.Readings), slices.Clone(c.Faults)
		for k := range c.Readings {
			c.Readings[k].Min += by
		}
		for k := range c.Faults {
			c.Faults[k].Min += by
		}
	}
	for i := range p.events {
		p.events[i].Min += by
	}
	return p
}

// first is the earliest time of a part.
func (p part) first() (float64, bool) {
	first := math.Inf(1)
	for _, c := range p.channels {
		if len(c.Readings) > 0 {
			first = math.Min(first, c.Readings[0].Min)
		}
	}
	for _, e := range p.events {
		first = math.Min(first, e.Min)
	}
	return first, !math.IsInf(first, 1)
}

// Clock prints a time of a firing: "14:05", with the day where it is a later
// one, or minutes from the logger's start.
func (f Firing) Clock(min float64) string {
	if f.Elapsed {
		return fmtC(math.Round(min*10)/10) + " min"
	}
	whole := int(math.Round(min))
	days := int(math.Floor(float64(whole) / dayMinutes))
	whole -= days * dayMinutes
	s := fmt.Sprintf("%02d:%02d", whole/60, whole%60)
	if days > 0 {
		s += fmt.Sprintf(" (+%d d)", days)
	}
	return s
}
