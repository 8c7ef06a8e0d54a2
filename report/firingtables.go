package report

import (
	"fmt"
	"math"
	"regexp"

	"smeltbook/assay/firing"
	"smeltbook/assay/quantity"
	"smeltbook/report/page"
)

// story tells of the hottest place in a few sentences.
func (l logged) story(j firing.Judge) []string {
	h, ok := l.HotZone(1000, j)
	if !ok {
		return []string{fmt.Sprintf("Firing %s: no temperature was read.", l.Run)}
	}
	text := fmt.Sprintf("Firing %s%s. The hottest reading is %.0f °C at %s, by %s; by the tolerance of the couple %.0f to %.0f °C.", l.Run, dated(l.Firing), h.C.Value, l.Clock(h.At), h.Channel, h.C.Low, h.C.High)
	var others []string
	for _, o := range h.Others {
		if math.IsNaN(o.C) {
			others = append(others, o.Channel+" read nothing")
		} else {
			others = append(others, fmt.Sprintf("%s %.0f °C", o.Channel, o.C))
		}
	}
	if len(others) > 0 {
		text += " At that moment: " + list(others) + "."
	}
	if !math.IsNaN(h.Spread) {
		text += fmt.Sprintf(" While the hottest was above %.0f °C the channels lay %.0f °C apart (median).", h.Over, h.Spread)
	} else if len(l.Channels) == 1 {
		text += " There was one couple, so how the heat lay in the furnace is not known."
	}
	return []string{text}
}

// spanCell prints a value with its limits below.
func spanCell(s firing.Span, format string) page.Cell {
	v := s.Value
	return page.Cell{Text: fmt.Sprintf(format, s.Value), Sub: fmt.Sprintf(format+"–"+format, s.Low, s.High), Sort: &v}
}

// timesTable gives of each couple how hot, how long and how fast.
func (b *builder) timesTable(logs []logged, j firing.Judge, at []float64) *page.Table {
	t := &page.Table{
		Caption: "What each couple says: highest reading, minutes above temperatures, rates of heating.",
		Columns: []page.Column{{Head: "couple", Sub: "firing"}, {Head: "highest", Unit: "°C", Numeric: true}, {Head: "at"}},
		Notes:   []string{"Small figures are limits of error, not standard uncertainties: from the tolerance of a new couple, and for times above a temperature from the gaps as well. ≥: the couple ended while it was above. Flagged: above what the couple bears."},
	}
	for _, x := range at {
		t.Columns = append(t.Columns, page.Column{Head: fmt.Sprintf("above %.0f °C", x), Unit: "min", Numeric: true})
	}
	t.Columns = append(t.Columns, page.Column{Head: "200 to 1000 °C", Unit: "°C/min", Numeric: true}, page.Column{Head: "steepest", Unit: "°C/min", Sub: "over 10 min", Numeric: true}, page.Column{Head: "gaps", Unit: "min", Numeric: true}, page.Column{Head: "faults", Numeric: true})
	for _, l := range logs {
		for _, c := range l.Channels {
			p, ok := c.Peak(j)
			if !ok {
				continue
			}
			high := spanCell(p.C, "%.0f")
			high.Note = p.At.At.String()
			if p.Beyond {
				high.Class = page.Flagged
			}
			row := page.Row{Cells: []page.Cell{{Text: c.Name, Sub: l.Run, Note: c.At.String()}, high, textCell(l.Clock(p.At.Min))}}
			for _, x := range at {
				a := c.Above(x, j)
				cell := spanCell(a.Minutes, "%.0f")
				if a.AtLeast {
					cell.Text = "≥ " + cell.Text
				}
				if a.Gaps > 0 {
					cell.Note = fmt.Sprintf("upper limit counts %.0f min of gaps", a.Gaps)
				}
				if a.Minutes.High == 0 {
					cell = page.Cell{Text: "0", Sort: new(float64)}
				}
				row.Cells = append(row.Cells, cell)
			}
			mean, steep := page.Cell{Text: "–", Class: page.Absent, Note: "did not pass both, or a gap lies there"}, page.Cell{Text: "–", Class: page.Absent, Note: "too few readings in ten minutes"}
			if r, ok := c.Heating(200, 1000, j); ok {
				mean = spanCell(r.PerMin, "%.1f")
			}
			if r, ok := c.Steepest(10, j); ok {
				steep = spanCell(r.PerMin, "%.0f")
				steep.Note = "from " + l.Clock(r.From)
			}
			gaps := 0.0
			for _, g := range c.Gaps(j) {
				gaps += g[1] - g[0]
			}
			row.Cells = append(row.Cells, mean, steep, numberCell(gaps, 0), numberCell(float64(len(c.Faults)), 0))
			t.Rows = append(t.Rows, row)
		}
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return b.table(t)
}

// burningTable gives charcoal burnt, its rate, and whether the air fits it.
func (b *builder) burningTable(logs []logged, diameter quantity.Quantity) *page.Table {
	section := firing.Section(diameter)
	t := &page.Table{
		Caption: "Charcoal and air: what burnt, how fast, and what share of its carbon the air lets leave as CO.",
		Columns: []page.Column{{Head: "firing"}, {Head: "air on", Unit: "h", Numeric: true}, {Head: "charcoal burnt", Unit: "kg", Numeric: true},
			{Head: "burning rate", Unit: "kg/h", Sub: "all of it over the blowing", Numeric: true}, {Head: "burning rate", Unit: "kg/h", Sub: "charges at one level", Numeric: true},
			{Head: "of the section", Unit: "kg/h/m²", Numeric: true}, {Head: "air", Unit: "L/min", Numeric: true}, {Head: "it asks for", Unit: "L/min at 0 °C", Sub: "to CO – to CO₂", Numeric: true}, {Head: "carbon as CO", Unit: "%", Numeric: true}, {Head: "verdict"}},
		Notes: []string{fmt.Sprintf("Section: a circle of %g ± %g cm, %s m². Burning before the air came on counts as if it were under it, so the rate over the blowing is rather high and the share as CO as well.", diameter.Value, diameter.U, section.Text())},
	}
	for _, l := range logs {
		rate := quantity.Ratio(l.burnt, l.blown, "kg/h")
		level, ok := l.LevelRate()
		if !ok {
			level = quantity.None(quantity.Missing, nan, "kg/h")
		}
		asks, share, verdict := page.Cell{Text: "–", Class: page.Absent, Note: "needs air (L/min), charcoal, charcoal left and events for air on and off"}, page.Cell{Text: "–", Class: page.Absent}, textCell("not known")
		if g := l.budget; g != nil {
			asks = page.Cell{Text: fmt.Sprintf("%.0f–%.0f", g.Least.Value, g.Most.Value), Sort: &g.Least.Value}
			share = cellOf(percent(g.Monoxide))
			verdict = textCell("air and charcoal agree")
			if !g.Holds {
				verdict = page.Cell{Text: "they do not agree", Class: page.Flagged}
			}
		}
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{{Text: l.Run, Note: l.run.At.String()}, orCell(l.blown, "no event says when the air was on"), orCell(l.burnt, "charcoal left was not weighed"),
			orCell(rate, "charcoal burnt or blowing is not known"), orCell(level, "fewer than three charges with charcoal under the air"), orCell(quantity.Ratio(rate, section, "kg/h/m²"), "no burning rate"),
			orCell(l.air, "not recorded"), asks, share, verdict}})
	}
	return b.table(t)
}

var aboveField = regexp.MustCompile(`(?i)^above (\d{3,4}) ?°C$`)

// besideTable sets the log beside what the field sheet says of the firing; nil
// where there is nothing to compare.
func (b *builder) besideTable(logs []logged, j firing.Judge) *page.Table {
	t := &page.Table{
		Caption: "The log beside the field sheet of the firings.",
		Columns: []page.Column{{Head: "firing"}, {Head: "what"}, {Head: "log", Numeric: true}, {Head: "field sheet", Numeric: true}, {Head: "they"}},
		Notes:   []string{"Two agree when they differ by no more than twice the standard uncertainty of their difference, temperatures and times when the sheet's, give or take twice its own, lies within the limits of the log. Weights of the log that state no uncertainty count as exact."},
	}
	for _, l := range logs {
		if !l.known {
			continue
		}
		add := func(what string, log, sheet page.Cell, agree bool) {
			word := textCell("agree")
			if !agree {
				word = page.Cell{Text: "differ", Class: page.Flagged}
			}
			t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{textCell(l.Run), textCell(what), log, sheet, word}})
		}
		ore, flux, coal, _ := l.Charged()
		for _, x := range []struct {
			name string
			log  quantity.Quantity
		}{{"ore", ore}, {"flux", flux}, {"charcoal", coal}} {
			sheet, ok := l.run.Mass(x.name)
			if second, has := l.run.Mass("second flux"); has && x.name == "flux" {
				sheet = quantity.Sum("kg", sheet, second)
			}
			if ok && x.log.Known() && sheet.Known() {
				add(x.name+", kg", cellOf(x.log), cellOf(sheet), math.Abs(x.log.Value-sheet.Value) <= 2*math.Hypot(finiteOr(x.log.U, 0), finiteOr(sheet.U, 0))+1e-9)
			}
		}
		if sheet, ok := l.run.Number("blowing", "h"); ok && l.blown.Known() {
			add("air on, h", cellOf(l.blown), cellOf(sheet), math.Abs(l.blown.Value-sheet.Value) <= 2*math.Hypot(l.blown.U, finiteOr(sheet.U, 0))+1e-9)
		}
		within := func(sheet quantity.Quantity, s firing.Span) bool {
			u := 2 * finiteOr(sheet.U, 0)
			return sheet.Value+u >= s.Low && sheet.Value-u <= s.High
		}
		h, ok := l.HotZone(1000, j)
		if !ok {
			continue
		}
		if sheet, ok := l.run.Number("T max", "°C"); ok {
			add("highest, °C", spanCell(h.C, "%.0f"), cellOf(sheet), within(sheet, h.C))
		}
		for _, f := range l.run.Fields {
			g := aboveField.FindStringSubmatch(f.Name)
			if g == nil {
				continue
			}
			var tc float64
			fmt.Sscan(g[1], &tc)
			for _, c := range l.Channels {
				if sheet, ok := l.run.Number(f.Name, "min"); ok && c.Name == h.Channel {
					a := c.Above(tc, j)
					add("above "+g[1]+" °C, min", spanCell(a.Minutes, "%.0f"), cellOf(sheet), within(sheet, a.Minutes))
				}
			}
		}
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return b.table(t)
}

// eventsTable lists what was done and when; nil where no event was noted.
func (b *builder) eventsTable(logs []logged) *page.Table {
	t := &page.Table{
		Caption: "What was done, and when.",
		Columns: []page.Column{{Head: "firing"}, {Head: "at"}, {Head: "event"}, {Head: "ore", Unit: "kg", Numeric: true}, {Head: "flux", Unit: "kg", Numeric: true}, {Head: "charcoal", Unit: "kg", Numeric: true}, {Head: "note"}},
		Long:    true,
	}
	for _, l := range logs {
		for _, e := range l.Events {
			cells := []page.Cell{textCell(l.Run), textCell(l.Clock(e.Min)), {Text: e.What, Note: e.At.String()}}
			for _, q := range []quantity.Quantity{e.Ore, e.Flux, e.Charcoal} {
				if q.Known() {
					cells = append(cells, cellOf(q))
				} else {
					cells = append(cells, page.Cell{})
				}
			}
			t.Rows = append(t.Rows, page.Row{Cells: append(cells, textCell(e.Note))})
		}
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return b.table(t)
}
