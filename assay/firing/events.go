package firing

import (
	"strings"

	"smeltbook/assay/quantity"
	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
)

var (
	runFields   = []string{"run", "firing"}
	eventFields = []string{"event", "what"}
	noteFields  = []string{"note", "notes", "remarks"}
)

var kilograms = map[string]float64{"kg": 1, "g": 1e-3}

// event reads a row of an events sheet; ok is false where it tells nothing.
func (r *reader) event(t *sheet.Records, at moment) (Event, bool) {
	e := Event{Min: at.min, At: at.rec.Cells[0].At}
	if what, cell := t.Text(at.rec, eventFields...); what != "" {
		e.What, e.At = what, cell
	}
	e.Note, _ = t.Text(at.rec, noteFields...)
	e.Ore, e.Flux, e.Charcoal = r.charged(t, at.rec, "ore"), r.charged(t, at.rec, "flux"), r.charged(t, at.rec, "charcoal")
	e.Kind = kindOf(e.What)
	for _, q := range []quantity.Quantity{e.Ore, e.Flux, e.Charcoal} {
		if q.Known() && q.Value > 0 {
			e.Kind = Charge
		}
	}
	return e, e.What != "" || e.Note != "" || e.Kind == Charge
}

// charged reads a weight in kg, with the uncertainty of a ± column behind it.
func (r *reader) charged(t *sheet.Records, rec sheet.Record, name string) quantity.Quantity {
	missing := quantity.None(quantity.Missing, 0, "kg")
	i := t.Index(name)
	if i < 0 || i >= len(rec.Cells) || rec.Cells[i].Empty() || rec.Cells[i].Class == quantity.Missing {
		return missing
	}
	f, c := t.Fields[i], rec.Cells[i]
	factor, ok := kilograms[strings.ToLower(f.Unit)]
	switch {
	case !ok:
		r.tell("EVENT_UNIT", source.Cell{File: t.File, Sheet: t.Sheet, Ref: f.Ref}, source.Error, "the %s has the unit %q; write it in the heading: %s (kg)", name, f.Unit, f.Name)
		return missing
	case c.Class != quantity.Measured:
		r.tell("EVENT_NUMBER", c.At, source.Error, "%q is no weight of %s; write a number, or leave the cell empty", c.Text, name)
		return missing
	case c.Value < 0:
		r.tell("EVENT_NUMBER", c.At, source.Error, "a charge of %g %s %s is impossible; what was taken out is an event without a weight", c.Value, f.Unit, name)
		return missing
	}
	q := quantity.New(c.Value*factor, "kg", "the sheet states no uncertainty", c.At)
	if k := i + 1; k < len(rec.Cells) && strings.Contains(strings.ReplaceAll(t.Fields[k].Name, "+/-", "±"), "±") && rec.Cells[k].Class == quantity.Measured && rec.Cells[k].Value > 0 {
		q.U, q.UNote = rec.Cells[k].Value*factor, "from the sheet, "+rec.Cells[k].At.Ref
	}
	return q
}

// kindOf reads what an event does from its words.
func kindOf(what string) Kind {
	words := strings.FieldsFunc(strings.ToLower(what), func(r rune) bool { return !('a' <= r && r <= 'z') })
	has := func(any ...string) bool {
		for _, w := range words {
			for _, a := range any {
				if w == a {
					return true
				}
			}
		}
		return false
	}
	air := has("air", "blow", "blowing", "blast", "bellows", "blower", "blowpipe", "blowpipes")
	switch {
	case has("logger", "log", "logging") && has("on", "start", "started", "starts", "begin", "begins"):
		return LogOn
	case air && has("off", "stop", "stopped", "stops", "end", "ended", "ends", "pause", "paused", "out"):
		return AirOff
	case air && has("on", "start", "started", "starts", "begin", "began", "begins", "again", "resumed", "resume"):
		return AirOn
	case has("lit", "light", "lighted", "lighting", "ignition", "ignited"):
		return Lighted
	case has("charge", "charged", "batch", "fill", "filled"):
		return Charge
	}
	return Other
}

// isEvents reports a sheet of events: it has their times and says what
// happened.
func isEvents(t *sheet.Records) bool {
	if _, ok := timingOf(t); !ok {
		return false
	}
	return t.Has(eventFields...)
}
