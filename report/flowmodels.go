package report

import (
	"fmt"
	"strings"

	"smeltbook/phase/flow"
	"smeltbook/report/page"
)

// modelsTable lists what all models say.
func (b *builder) modelsTable(groups pair, cond flowConditions, melts map[string]flowing) *page.Table {
	t := &page.Table{
		Caption:  fmt.Sprintf("Viscosity of the liquid at %.0f °C in Pa·s by all models.", cond.tc),
		Columns:  []page.Column{{Head: "sample"}},
		Sortable: true, Long: true, Compact: true,
		Notes: []string{"Point at a value to see why it is outside the range. Each value holds within a factor of two at best, which is why the models may differ by more."},
	}
	for _, m := range flow.Models() {
		name, year := cutYear(m.Name())
		t.Columns = append(t.Columns, page.Column{Head: name, Sub: year, Numeric: true})
	}
	for i, g := range groups {
		for _, s := range g.Samples {
			f := melts[s.ID]
			if f.compare == nil {
				continue
			}
			row := page.Row{Sample: s.ID, Side: sideOf(i), Cells: []page.Cell{sampleCell(s)}}
			for _, a := range f.compare {
				row.Cells = append(row.Cells, answerCell(a, f.slag != nil && a.Model.Key() == f.slag.Model.Key()))
			}
			t.Rows = append(t.Rows, row)
		}
	}
	return b.table(t)
}

func answerCell(a flow.Answer, taken bool) page.Cell {
	if a.Err != nil {
		return page.Cell{Text: "–", Class: page.Absent, Note: a.Err.Error()}
	}
	eta := a.Eta
	c := page.Cell{Text: short(eta), Sort: &eta}
	var notes []string
	for _, n := range a.Notices {
		notes = append(notes, formulaText(n.Message))
	}
	c.Note = strings.Join(notes, "; ")
	switch {
	case outside(a.Notices):
		c.Class = page.OutOfRange
	case taken:
		c.Class = page.Clear
	}
	if taken {
		c.Sub = "taken"
	}
	return c
}

// cutYear parts "Urbain 1981" into author and year.
func cutYear(name string) (author, year string) {
	if i := strings.LastIndex(name, " "); i > 0 {
		return name[:i], name[i+1:]
	}
	return name, ""
}
