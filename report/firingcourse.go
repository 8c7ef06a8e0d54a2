package report

import (
	"fmt"
	"math"
	"regexp"
	"strings"

	"smeltbook/assay/firing"
	"smeltbook/assay/quantity"
	"smeltbook/report/figure"
	"smeltbook/report/page"
)

// courses draws the temperatures of each firing with what was done, all on the
// same axes; nil for a firing without readings.
func (b *builder) courses(logs []logged, j firing.Judge, at []float64) ([]*page.Figure, error) {
	var xs, ys []float64
	ys = append(append(ys, 0), at...)
	for _, l := range logs {
		if from, to, ok := l.shown(); ok {
			xs = append(xs, from, to)
		}
		for _, c := range l.Channels {
			for _, r := range c.Readings {
				ys = append(ys, r.C)
			}
		}
	}
	out := make([]*page.Figure, len(logs))
	if len(xs) == 0 {
		return out, nil
	}
	x, y := timeAxis(xs), axisFor("temperature", "°C", ys)
	y.Min = math.Min(y.Min, 0)
	for i, l := range logs {
		if _, _, ok := l.shown(); !ok {
			continue
		}
		f, err := b.course(l, j, at, x, y)
		if err != nil {
			return nil, err
		}
		out[i] = f
	}
	return out, nil
}

// timeAxis holds all times, in minutes, and ends on whole tens.
func timeAxis(xs []float64) figure.Axis {
	lo, hi := extent(xs)
	step := math.Max(10, roundStep((hi-lo)/50))
	return figure.Axis{Label: "time", Unit: "min", Min: math.Floor((lo-1)/step) * step, Max: math.Ceil((hi+1)/step) * step}
}

// chargeNumber is what a charge is called in the figure: the number that ends
// its name, where there is one.
var chargeNumber = regexp.MustCompile(`\d+$`)

// shown is the range of a firing's figure: its readings and the events among
// them.
func (l logged) shown() (from, to float64, ok bool) {
	from, to = math.Inf(1), math.Inf(-1)
	for _, c := range l.Channels {
		if n := len(c.Readings); n > 0 {
			from, to, ok = math.Min(from, c.Readings[0].Min), math.Max(to, c.Readings[n-1].Min), true
		}
	}
	if !l.Elapsed {
		for _, e := range l.Events {
			from, to = math.Min(from, e.Min), math.Max(to, e.Min)
		}
	}
	return from - l.zero, to - l.zero, ok
}

func (b *builder) course(l logged, j firing.Judge, at []float64, x, y figure.Axis) (*page.Figure, error) {
	x.Label = "time after the air came on"
	spans, _ := l.Blowing()
	if len(spans) == 0 || l.Elapsed {
		x.Label = "time from the beginning of the log"
	}
	d := &figure.Diagram{X: x, Y: y}
	if !l.Elapsed {
		for _, s := range spans {
			a, z := s[0]-l.zero, s[1]-l.zero
			d.Regions = append(d.Regions, figure.Region{Label: "air on", X: []float64{a, z, z, a}, Y: []float64{y.Min, y.Min, y.Max, y.Max}})
		}
	}
	for _, t := range at {
		d.Lines = append(d.Lines, figure.NamedLine{Label: fmt.Sprintf("%.0f °C", t), X: []float64{x.Min, x.Max}, Y: []float64{t, t}, Style: 4})
	}
	faults, gaps := 0, 0
	for k, c := range l.Channels {
		faults += len(c.Faults)
		parts := l.strokes(c, j)
		longest := 0
		for i, p := range parts {
			if len(p.X) > len(parts[longest].X) {
				longest = i
			}
		}
		gaps += len(c.Gaps(j))
		for i, p := range parts {
			p.Style = k % 3
			if i == longest {
				p.Label = c.Name
			}
			d.Lines = append(d.Lines, p)
		}
	}
	if !l.Elapsed {
		l.markEvents(d)
	}
	caption := fmt.Sprintf("Firing %s%s: temperatures of %s, as read. Triangles along the foot are charges, hollow ones other events.", l.Run, dated(l.Firing), counted(len(l.Channels), "couple"))
	if gaps > 0 {
		caption += fmt.Sprintf(" Where a line is broken nothing was read for more than %g minutes.", j.Gap)
	}
	if faults > 0 {
		caption += fmt.Sprintf(" Left out: %s that are no temperature.", strings.Replace(counted(faults, "entry"), "entrys", "entries", 1))
	}
	return b.figure(figure.Figure{Caption: caption,
		Alt:    fmt.Sprintf("Curves of temperature against time for the couples of firing %s, with the charges marked below and the time with the air on shaded.", l.Run),
		Groups: []figure.Group{{Name: "charge", Label: "charge"}}, Body: d}, page.Wide)
}

func dated(f firing.Firing) string {
	if f.Day == "" {
		return ""
	}
	return ", " + f.Day
}

// strokes are the stretches of a channel without gap; a reading by itself is
// no line.
func (l logged) strokes(c firing.Channel, j firing.Judge) []figure.NamedLine {
	var out []figure.NamedLine
	var now figure.NamedLine
	end := func() {
		if len(now.X) > 1 {
			now.X, now.Y = thinned(now.X, now.Y)
			out = append(out, now)
		}
		now = figure.NamedLine{Details: []figure.Detail{{Label: "couple", Value: c.Name}}}
	}
	for i, r := range c.Readings {
		if i == 0 || r.Min-c.Readings[i-1].Min > j.Gap {
			end()
		}
		now.X, now.Y = append(now.X, r.Min-l.zero), append(now.Y, r.C)
	}
	end()
	return out
}

// mostPoints of a line in the figure; more cannot be told apart in print.
const mostPoints = 800

// thinned keeps of a long line the lowest and the highest point of each step.
func thinned(xs, ys []float64) (x, y []float64) {
	n := len(xs)
	if n <= mostPoints {
		return xs, ys
	}
	step := (n + mostPoints/2 - 1) / (mostPoints / 2)
	for from := 0; from < n; from += step {
		lo, hi := from, from
		for i := from; i < min(from+step, n); i++ {
			if ys[i] < ys[lo] {
				lo = i
			}
			if ys[i] > ys[hi] {
				hi = i
			}
		}
		for _, i := range []int{min(lo, hi), max(lo, hi)} {
			if len(x) == 0 || xs[i] > x[len(x)-1] {
				x, y = append(x, xs[i]), append(y, ys[i])
			}
		}
	}
	return x, y
}

// markEvents sets charges, by number, and other events along the foot.
func (l logged) markEvents(d *figure.Diagram) {
	foot := d.Y.Min + 0.035*(d.Y.Max-d.Y.Min)
	for _, e := range l.Events {
		at := e.Min - l.zero
		if at < d.X.Min || at > d.X.Max {
			continue
		}
		s := figure.Spot{Sample: e.What, X: at, Y: foot, Hollow: e.Kind != firing.Charge, Details: []figure.Detail{{Label: "at", Value: l.Clock(e.Min)}}}
		if e.Kind == firing.Charge {
			if n := chargeNumber.FindString(e.What); n != "" {
				s.Sample = n
			}
			s.Details = append(s.Details, figure.Detail{Label: "event", Value: e.What})
		} else {
			d.Hollow = "another event"
		}
		for _, x := range []struct {
			name string
			q    quantity.Quantity
		}{{"ore", e.Ore}, {"flux", e.Flux}, {"charcoal", e.Charcoal}} {
			if x.q.Known() && x.q.Value > 0 {
				s.Details = append(s.Details, figure.Detail{Label: x.name, Value: x.q.WithUnit()})
			}
		}
		if e.Note != "" {
			s.Details = append(s.Details, figure.Detail{Label: "note", Value: e.Note})
		}
		d.Points = append(d.Points, s)
	}
}
