package report

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/firing"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
	"smeltbook/phase/furnace"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
)

// firingOptions are those of a firing entry.
type firingOptions struct {
	Firings      []string
	Temperatures []float64 // °C, of which the time above is asked
	Couple       string    // type of thermocouples that name none
	Class        *int      // of their tolerance
	Gap          *float64  // minutes without a reading that are not bridged
	Diameter     *float64  // cm, of the bed
	Carbon       *float64  // % of the charcoal
	Air          *float64  // L/min, where the field sheet has none
	AirAt        *float64  `yaml:"air_at"` // °C where the air was measured
}

// What is taken where the notebook does not say (common practice), with the
// standard uncertainty of each.
const (
	usualDiameter, diameterU = 40.0, 1.0 // cm
	carbonU                  = 0.05      // mass fraction
	usualAirAt               = 15.0      // °C
	usualGap                 = 5.0       // min
)

var usualTemperatures = []float64{1085, 1150, 1200}

// firingUsed is what a firing entry rested on, for the methods.
type firingUsed struct {
	judge firing.Judge
	air   bool
}

// logged is a firing with its record in the field sheets.
type logged struct {
	firing.Firing
	run    assay.Run
	known  bool    // the field sheets have the run
	zero   float64 // minutes on the clock from which its figure counts
	blown  quantity.Quantity
	burnt  quantity.Quantity // kg of charcoal
	budget *furnace.Budget
	air    quantity.Quantity // L/min as measured
}

// firingEntry shows the course of firings: temperatures with the charges among
// them, times above temperatures, burning, and whether air and charcoal agree.
func firingEntry(_ context.Context, b *builder, e *notebook.Entry, out *page.Entry) error {
	var o firingOptions
	if !b.options(e, &o) {
		return nil
	}
	logs, ok := b.logs(e, o.Firings)
	if !ok {
		return nil
	}
	a := assumer{b: b, e: e}
	judge := firing.Judge{Couple: "K"}
	if named := slices.ContainsFunc(logs, func(l logged) bool {
		return slices.ContainsFunc(l.Channels, func(c firing.Channel) bool { return c.Couple == "" })
	}); named || o.Couple != "" {
		judge.Couple = firing.Couple(a.word("couple", o.Couple, "K", firing.Couples()))
	}
	judge.Class = 2
	if o.Class == nil {
		a.assume("class", "tolerance of class 2")
	} else {
		judge.Class = *o.Class
	}
	judge.Gap = a.number("gap", o.Gap, usualGap, 0.1, 120, "minutes")
	at := o.Temperatures
	if len(at) == 0 {
		at = usualTemperatures
		a.assume("temperatures", "time above 1085 °C (copper melts), 1150 and 1200 °C")
	}
	for _, t := range at {
		if !(t >= 100 && t <= 1700) {
			b.fail(e, "BAD_RANGE", "temperatures are in °C, from 100 to 1700, not %g", t)
			return nil
		}
	}
	diameter := quantity.WithU(a.number("diameter", o.Diameter, usualDiameter, 5, 300, "cm"), diameterU, "cm", "assumed, ± 1 cm")
	carbon := quantity.WithU(a.number("carbon", o.Carbon, 100*furnace.Charcoal().Carbon, 40, 100, "%")/100, carbonU, "1", "assumed, ± 0.05")
	airAt := a.number("air_at", o.AirAt, usualAirAt, -30, 60, "°C")
	if o.Air != nil {
		a.number("air", o.Air, 0, 1, 1e5, "L/min")
	}
	if a.failed {
		return nil
	}
	if err := judge.Check(); err != nil {
		b.fail(e, "BAD_COUPLE", "%v", err)
		return nil
	}
	used := firingUsed{judge: judge}
	var told source.Notices
	for i := range logs {
		ns := logs[i].supply(o.Air, airAt, carbon)
		told = append(told, ns...)
		used.air = used.air || logs[i].budget != nil
		told = append(told, logs[i].couplesTold(judge)...)
	}
	figures, err := b.courses(logs, judge, at)
	if err != nil {
		return err
	}
	for i, l := range logs {
		out.Parts = append(out.Parts, page.Lines(l.story(judge)...))
		if figures[i] != nil {
			out.Parts = append(out.Parts, figures[i])
		}
	}
	out.Parts = append(out.Parts, page.Lines("A couple tells of the place of its tip and of nothing else. A few centimetres towards the pipe or the wall are easily a hundred degrees; so the highest reading is a least for the hottest place of the fire, and a time above a temperature is that of this one place. How hot the slag was, no couple here says."))
	for _, t := range []*page.Table{b.timesTable(logs, judge, at), b.burningTable(logs, diameter), b.besideTable(logs, judge), b.eventsTable(logs)} {
		if t != nil {
			out.Parts = append(out.Parts, t)
		}
	}
	out.Parts = append(out.Parts, a.parts()...)
	if len(told) > 0 {
		out.Parts = append(out.Parts, &page.Notices{List: told})
	}
	b.firings = append(b.firings, used)
	out.Margin = firingMargin(logs)
	return nil
}

// logs returns the logs of the firings named, or all.
func (b *builder) logs(e *notebook.Entry, names []string) ([]logged, bool) {
	all := b.study.Campaign.Firings
	if len(all) == 0 {
		b.lack(e, "NO_LOG", "no field sheet logs a firing; add a logger's file with columns such as Time and Pipe (°C), named after its firing, and a sheet of events with the columns Run, Time, Event, Ore (kg), Flux (kg) and Charcoal (kg), or take this block out")
		return nil, false
	}
	var known []string
	for _, f := range all {
		known = append(known, f.Run)
	}
	if len(names) == 0 {
		names = known
	}
	var out []logged
	for _, name := range names {
		i := slices.IndexFunc(known, func(k string) bool { return strings.EqualFold(k, name) })
		if i < 0 {
			b.fail(e, "UNKNOWN_FIRING", "no field sheet logs a firing %q%s", name, source.DidYouMean(name, known))
			return nil, false
		}
		l := logged{Firing: all[i], blown: all[i].BlownHours()}
		l.run, l.known = b.study.Campaign.Run(all[i].Run)
		if spans, _ := l.Blowing(); len(spans) > 0 && !l.Elapsed {
			l.zero = spans[0][0]
		} else if from, ok := l.Start(); ok {
			l.zero = from
		}
		out = append(out, l)
	}
	return out, true
}

// supply works out what burnt, and whether the air fits it.
func (l *logged) supply(air *float64, airAt float64, carbon quantity.Quantity) source.Notices {
	_, _, charged, _ := l.Charged()
	if q, ok := l.run.Mass("charcoal"); ok {
		charged = q
	}
	left, ok := l.run.Mass("charcoal left")
	l.burnt = quantity.None(quantity.Missing, nan, "kg")
	if ok {
		l.burnt = quantity.Difference(charged, left)
	}
	l.air = quantity.None(quantity.Missing, nan, "L/min")
	if q, ok := l.run.Number("air", "L/min"); ok {
		l.air = q
	} else if air != nil {
		l.air = quantity.New(*air, "L/min", "the notebook states no uncertainty")
	}
	if !l.air.Known() || !l.burnt.Known() || !l.blown.Known() {
		return nil
	}
	budget, err := furnace.BudgetOf(l.air.Scale(furnace.Normal(1, airAt, 1.01325), "L/min"), l.blown, l.burnt, carbon)
	if err != nil {
		return source.Notices{{Severity: source.Warning, Code: "AIR_BUDGET", At: l.run.Cell("Air"), Message: l.Run + ": " + err.Error()}}
	}
	l.budget = &budget
	for i := range budget.Notices {
		budget.Notices[i].At = l.run.Cell("Air")
	}
	return budget.Notices
}

// couplesTold warns of couples beyond what they bear.
func (l *logged) couplesTold(j firing.Judge) source.Notices {
	var ns source.Notices
	for _, c := range l.Channels {
		p, ok := c.Peak(j)
		switch {
		case !ok:
			ns.Add(source.Warning, "COUPLE_SILENT", c.At, "%s: %q never read a temperature", l.Run, c.Name)
		case p.Beyond:
			ns.Add(source.Warning, "COUPLE_BEYOND", p.At.At, "%s: %q read %.0f °C; above about %.0f °C a couple of this type drifts or fails (common practice), so its later readings may be off; check it against another before the next firing", l.Run, c.Name, p.At.C, j.Steady(c))
		}
		if ok && p.Lost {
			last := c.Readings[len(c.Readings)-1]
			ns.Add(source.Warning, "COUPLE_LOST", last.At, "%s: %q read nothing after %s (%.0f °C); its times above a temperature are a least", l.Run, c.Name, l.Clock(last.Min), last.C)
		}
	}
	return ns
}

func firingMargin(logs []logged) []string {
	var files []string
	readings, events := 0, 0
	for _, l := range logs {
		for _, c := range l.Channels {
			readings += len(c.Readings)
			if !slices.Contains(files, c.At.File) {
				files = append(files, c.At.File)
			}
		}
		for _, e := range l.Events {
			if !slices.Contains(files, e.At.File) {
				files = append(files, e.At.File)
			}
		}
		events += len(l.Events)
	}
	return []string{fmt.Sprintf("%s, %s of %s", counted(readings, "reading"), counted(events, "event"), counted(len(logs), "firing")), "from " + strings.Join(files, ", ")}
}
