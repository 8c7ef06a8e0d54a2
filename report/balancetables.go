package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"smeltbook/assay/balance"
	"smeltbook/assay/quantity"
	"smeltbook/report/page"
)

// byFiring heads a table with a column for each firing.
func byFiring(first string, fired []firedBalance, unit string) []page.Column {
	cols := []page.Column{{Head: first}}
	for _, x := range fired {
		cols = append(cols, page.Column{Head: x.run.ID, Unit: unit, Numeric: true})
	}
	return cols
}

func noCell(why string) page.Cell { return page.Cell{Text: "–", Class: page.Absent, Note: why} }

// copperTable tells the copper of each firing place by place, prills by sieve.
func (b *builder) copperTable(fired []firedBalance) *page.Table {
	t := &page.Table{
		Caption: "Copper by place, in grams, ± one standard uncertainty, and in per cent of the copper charged.",
		Columns: byFiring("copper in", fired, "g"),
		Notes:   []string{"Won is ingot and prills together over the copper charged: the yield on what was there to be won. The uncertainties of ore, slag and scales are in it."},
	}
	var names []string
	for _, x := range fired {
		for i, p := range x.copper.Places[:len(x.copper.Places)-1] {
			if !slices.Contains(names, p.Name) {
				at := len(names)
				if i > 0 { // behind the place that stands before it here
					at = slices.Index(names, x.copper.Places[i-1].Name) + 1
				}
				names = slices.Insert(names, at, p.Name)
			}
		}
	}
	row := func(name string, of func(firedBalance) page.Cell) {
		r := page.Row{Cells: []page.Cell{textCell(name)}}
		for _, x := range fired {
			r.Cells = append(r.Cells, of(x))
		}
		t.Rows = append(t.Rows, r)
	}
	row("all that was charged", func(x firedBalance) page.Cell { return gramCell(x.copper.Charged, "") })
	for _, name := range append(names, balance.UnaccountedFor) {
		row(name, func(x firedBalance) page.Cell {
			i := slices.IndexFunc(x.copper.Places, func(p balance.Place) bool { return p.Name == name })
			if i < 0 {
				return noCell("none was weighed")
			}
			p := x.copper.Places[i]
			return gramCell(p.Kg, fmt.Sprintf("%.1f %%", 100*p.Share.Value))
		})
	}
	row("won, % of the copper charged", func(x firedBalance) page.Cell { return shareCell(x.copper.Won) })
	row("in the ingot alone, %", func(x firedBalance) page.Cell { return shareCell(x.copper.Ingot) })
	return b.table(t)
}

// gramCell prints kg as g, the uncertainty behind it and something below.
func gramCell(kg quantity.Quantity, below string) page.Cell {
	c := inOneLine(cellOf(withoutCells(kg.Scale(1000, "g"))))
	c.Sub = strings.Replace(below, "-", quantity.Minus, 1)
	return c
}

func shareCell(q quantity.Quantity) page.Cell {
	return inOneLine(cellOf(withoutCells(q.Scale(100, "%"))))
}

// closingTable tells what of each element is unaccounted for.
func (b *builder) closingTable(fired []firedBalance) *page.Table {
	t := &page.Table{
		Caption: "What is unaccounted for of each element: in less out, in grams, ± one standard uncertainty, with out as a part of in below.",
		Columns: byFiring("element", fired, "g"),
		Notes:   []string{"Marked where the difference has less than one chance in twenty to come of the uncertainties stated (Student's t). Point at a cell for z and P. Of elements marked * some may leave with gas and flying ash, or go unseen into the metal: what is missing of them is no error. In round brackets where something was not analysed for the element."},
	}
	for _, el := range elementsOf(fired) {
		row := page.Row{Cells: []page.Cell{textCell(el)}}
		if slices.Contains(balance.MayLeave(), el) {
			row.Cells[0].Text += " *"
		}
		for _, x := range fired {
			i := slices.IndexFunc(x.Elements, func(e balance.ElementBalance) bool { return e.Element == el })
			if i < 0 {
				row.Cells = append(row.Cells, noCell("not analysed"))
				continue
			}
			row.Cells = append(row.Cells, closingCell(x.Elements[i]))
		}
		t.Rows = append(t.Rows, row)
	}
	return b.table(t)
}

func closingCell(e balance.ElementBalance) page.Cell {
	below := ""
	if e.OutIn.Known() {
		below = fmt.Sprintf("%.0f %%", 100*e.OutIn.Value)
	}
	c := gramCell(e.Unaccounted, below)
	c.Note = fmt.Sprintf("in %s, out %s, z %s, P %s", inGrams(e.In), inGrams(e.Out), signed(math.Round(100*e.Z)/100), chance(e.P))
	if len(e.Unknown) > 0 {
		c.Text = "(" + c.Text + ")"
		c.Note += "; not analysed: " + list(e.Unknown)
	} else if e.P < 0.05 && !e.MayLeave {
		c.Class = page.Flagged
	}
	return c
}

// chance prints a probability.
func chance(p float64) string {
	switch {
	case math.IsNaN(p):
		return "not known"
	case p < 0.001:
		return "< 0.001"
	}
	return fmt.Sprintf("%.3f", p)
}

func elementsOf(fired []firedBalance) []string {
	var out []string
	for _, x := range fired {
		for _, e := range x.Elements {
			if !slices.Contains(out, e.Element) {
				out = append(out, e.Element)
			}
		}
	}
	return out
}

// testTable judges each firing by all elements at once.
func (b *builder) testTable(fired []firedBalance) *page.Table {
	t := &page.Table{
		Caption: "Do weights and analyses of a firing agree? All elements that cannot leave unseen made to balance at once by least squares.",
		Columns: []page.Column{{Head: "firing"}, {Head: "elements"}, {Head: "χ²", Numeric: true}, {Head: "degrees of freedom", Numeric: true}, {Head: "P", Numeric: true}, {Head: "reading most likely off"}},
		Notes:   []string{"P is the chance of a worse disagreement if all uncertainties are as stated; below 0.05 something is wrong with a weight, an analysis or the pieces taken for the whole. A reading is named where its adjustment, corrected for having looked at all readings, has less than that chance."},
	}
	for _, x := range fired {
		p := page.Cell{Text: chance(x.P), Sort: &x.P}
		if x.P < 0.05 {
			p.Class = page.Flagged
		}
		row := page.Row{Cells: []page.Cell{{Text: x.run.ID, Note: x.run.At.String()}, textCell(strings.Join(x.Tested, ", ")), numberCell(x.Chi2, 1), numberCell(float64(x.DoF), 0), p, suspectCell(x)}}
		t.Rows = append(t.Rows, row)
	}
	return b.table(t)
}

func suspectCell(x firedBalance) page.Cell {
	s := x.Suspect
	if s == nil {
		return textCell("none")
	}
	others := quantity.WithU(s.Others, s.OthersU, s.Read.Unit, "")
	c := page.Cell{Text: fmt.Sprintf("%s: read %s, by all others %s", s.What, s.Read.WithUnit(), others.WithUnit()), Class: page.Flagged,
		Note: fmt.Sprintf("z %s, P %s", signed(math.Round(100*s.Z)/100), chance(s.P))}
	if len(s.Or) > 0 {
		c.Text += "; or else " + list(s.Or)
	}
	return c
}

// streamTable lists the contained masses stream by stream.
func (b *builder) streamTable(fired []firedBalance) *page.Table {
	t := &page.Table{
		Caption: "Contained masses, stream by stream, in grams.",
		Columns: []page.Column{{Head: "firing"}, {Head: "stream"}, {Head: "weight", Unit: "g, dry", Numeric: true}},
		Long:    true, Compact: true, Sortable: true, Filterable: true,
		Notes: []string{"± is one standard uncertainty, in the notes of the cells. A content below its limit counts as anything up to it."},
	}
	elements := elementsOf(fired)
	for _, e := range elements {
		t.Columns = append(t.Columns, page.Column{Head: e, Unit: "g", Numeric: true})
	}
	for _, x := range fired {
		for i, s := range x.Streams {
			name := "in: " + s.Name
			if s.Out {
				name = "out: " + s.Name
			}
			row := page.Row{Cells: []page.Cell{{Text: x.run.ID}, {Text: name, Note: s.Assays.Name}, plainGram(s.Mass, origin(s.Mass.From))}}
			for _, el := range elements {
				c := noCell("not analysed")
				for _, e := range x.Elements {
					if e.Element == el && !slices.Contains(e.Unknown, s.Name) {
						c = plainGram(e.Kg[i], "")
					}
				}
				row.Cells = append(row.Cells, c)
			}
			t.Rows = append(t.Rows, row)
		}
	}
	return b.table(t)
}

// plainGram prints grams to the place that matters, with the uncertainty as a
// note.
func plainGram(kg quantity.Quantity, from string) page.Cell {
	g := kg.Scale(1000, "g")
	v, _ := quantity.Number(g.Value, g.U)
	return page.Cell{Text: v, Sort: &g.Value, Note: strings.Join(nonEmpty("± "+short(orZero(g.U))+" g", from), "; ")}
}
