package report

import (
	"fmt"
	"math"
	"strings"

	"smeltbook/phase/redox"
	"smeltbook/report/page"
)

// soft reports whether an end of the window rests on an unsure witness.
func (w windowOf) soft() bool {
	for _, i := range []int{w.FromLow, w.FromHigh} {
		if i >= 0 && w.Bounds[i].Soft {
			return true
		}
	}
	return false
}

// reason says why a window ends where it does.
func (w windowOf) reason(i int) string {
	if i < 0 {
		return "nothing bounds this side"
	}
	return formulaText(w.Bounds[i].Reason)
}

// because names the witness of an end in a few words, with its whole sentence
// as a note.
func (w windowOf) because(i int) page.Cell {
	reason := w.reason(i)
	for _, x := range witnesses {
		if strings.Contains(reason, x.in) {
			return page.Cell{Text: x.words, Note: reason}
		}
	}
	return page.Cell{Text: reason}
}

// witnesses are words for what bounds a window, by what its sentence holds.
var witnesses = []struct{ in, words string }{
	{"gas over charcoal", "charcoal gas"},
	{"copper metal was there", "copper metal"},
	{"no iron metal", "no iron metal"},
	{"iron metal was there", "iron metal"},
	{"iron is ferric", "ferric iron"},
	{"can have been dissolved", "copper found"},
}

// byFerric prints what ferric iron alone says.
func (w windowOf) byFerric() page.Cell {
	for _, b := range w.Bounds {
		if !b.Soft || b.Source != redox.KressCarmichael {
			continue
		}
		lo := b.Low
		c := page.Cell{Text: oneDecimal(b.Low) + " to " + oneDecimal(b.High), Sort: &lo, Note: b.Source}
		if math.IsInf(lo, 0) {
			c.Text, c.Sort = "at most "+oneDecimal(b.High), nil
		}
		if w.Ignored {
			c.Class = page.Flagged
			c.Note += "; not used: it contradicts the other observations"
		}
		return c
	}
	return page.Cell{Text: "–", Class: page.Absent, Note: w.note}
}

// oneDecimal prints an oxygen potential to the tenth, which is finer than any
// is known.
func oneDecimal(x float64) string {
	switch {
	case math.IsInf(x, 0):
		return "open"
	case x < 0:
		return fmt.Sprintf("−%.1f", -x)
	}
	return fmt.Sprintf("%.1f", x)
}

func (b *builder) windowTable(groups pair, cond redoxConditions, windows map[string]windowOf) *page.Table {
	t := &page.Table{
		Caption: fmt.Sprintf("Oxygen potential of each slag at %.0f °C, with the reasons.", cond.tc),
		Columns: []page.Column{{Head: "sample"},
			{Head: "log fO₂ at least", Unit: "log bar", Sub: "CO/CO₂", Numeric: true}, {Head: "because"},
			{Head: "at most", Unit: "log bar", Sub: "CO/CO₂", Numeric: true}, {Head: "because"},
			{Head: "ferric iron", Unit: "% of Fe", Numeric: true}, {Head: "log fO₂ by it", Unit: "log bar", Numeric: true}},
		Sortable: true, Filterable: true,
		Notes: []string{
			"Because: no iron metal formed, though FeO of an activity from half its mole fraction to 1 would have given it below; copper found: no more than all of it can have been dissolved under copper metal; ferric iron: the share titrated, within twice its uncertainty; charcoal gas: balance with carbon. The sentence with its numbers shows on pointing.",
			"CO/CO₂ is that of a furnace gas in balance with the oxygen potential at this temperature: the more CO, the more reducing.",
			"The ends have the uncertainty of their models and of the analyses taken at twice its standard uncertainty; to the tenth they are as sharp as they can be read.",
		},
	}
	for i, g := range groups {
		for _, s := range g.Samples {
			w := windows[s.ID]
			row := page.Row{Sample: s.ID, Side: sideOf(i), Cells: []page.Cell{sampleCell(s)}}
			if w.Why != "" {
				absent := page.Cell{Text: "–", Class: page.Absent, Note: w.Why}
				row.Cells = append(row.Cells, absent, textCell(w.Why), absent, absent, absent, absent)
				t.Rows = append(t.Rows, row)
				continue
			}
			ferric := page.Cell{Text: w.ferric, Note: w.note}
			if w.ferric == "–" {
				ferric.Class = page.Absent
			}
			row.Cells = append(row.Cells, endCell(w, w.Low, cond.tc), w.because(w.FromLow),
				endCell(w, w.High, cond.tc), w.because(w.FromHigh), ferric, w.byFerric())
			t.Rows = append(t.Rows, row)
		}
	}
	return b.table(t)
}

// endCell prints an end of a window, and below it the gas in balance with it.
func endCell(w windowOf, end, tc float64) page.Cell {
	if math.IsInf(end, 0) {
		return page.Cell{Text: "open", Class: page.Absent}
	}
	c := page.Cell{Text: oneDecimal(end), Sort: &end}
	if r, err := redox.GasRatio(end, tc); err == nil {
		c.Sub = short(r)
	}
	if w.Contradicted {
		c.Class = page.Flagged
		c.Note = "two observations exclude each other at this temperature"
	}
	return c
}
