package report

import (
	"fmt"
	"math"
	"slices"

	"smeltbook/report/figure"
	"smeltbook/report/page"
)

// notApart is the part of a bar that stands for sources merged over kinds.
const notApart = "not to be told apart"

func (b *builder) originsFigure(groups pair, slags map[string]unmixedSlag, by string) (*page.Figure, error) {
	body := &figure.Facing{Axis: figure.Axis{Label: "share of the slag", Unit: "%", Min: 0, Max: 100}}
	kinds := presentKinds(slags, by)
	merged := false
	for _, u := range slags {
		if x, ok := u.chosen(by); ok {
			v, _ := u.mergedShare(x)
			merged = merged || v > 0
		}
	}
	body.Stack = kinds
	if merged {
		body.Stack = append(body.Stack[:len(kinds):len(kinds)], notApart)
	}
	for i, g := range groups {
		body.Pages[i].Group = i
		for _, s := range g.Samples {
			u := slags[s.ID]
			x, ok := u.chosen(by)
			if !ok {
				continue
			}
			m := figure.Mark{Sample: s.ID, U: nan}
			for _, kind := range kinds {
				v, lo, hi, ok := u.kindShare(x, kind)
				m.Stack = append(m.Stack, 100*v)
				m.Value += 100 * v
				if ok {
					m.Details = append(m.Details, figure.Detail{Label: kind, Value: fmt.Sprintf("%.0f %% (%.0f–%.0f)", 100*v, 100*lo, 100*hi)})
				}
			}
			if merged {
				v, told := u.mergedShare(x)
				m.Stack = append(m.Stack, 100*v)
				m.Value += 100 * v
				for _, text := range told {
					m.Details = append(m.Details, figure.Detail{Label: notApart, Value: text})
				}
			}
			m.Value = math.Min(m.Value, 100)
			m.Details = append(m.Details, figure.Detail{Label: "sources", Value: u.from})
			body.Pages[i].Marks = append(body.Pages[i].Marks, m)
		}
	}
	return b.figure(figure.Figure{
		Caption: fmt.Sprintf("What the slags are made of, unmixed %s: %s. Shares of the oxides of the slag; their intervals are in the table.", tracerPhrase(by), whoIsShown(body, groups)),
		Alt:     fmt.Sprintf("Stacked bars of the shares of the sources in the slags of %s on the left page and of %s on the right.", groups[0].Label(), groups[1].Label()),
		Groups:  groups.figureGroups(), Body: body,
	}, page.Facing)
}

func tracerPhrase(by string) string {
	if by == defaultTracers || by == "without iron" {
		return by
	}
	return "by " + by
}

// presentKinds are the kinds of sources of some slag, in their order.
func presentKinds(slags map[string]unmixedSlag, by string) []string {
	var out []string
	for _, kind := range originKinds {
		for _, u := range slags {
			if x, ok := u.chosen(by); ok {
				if _, _, _, ok := u.kindShare(x, kind); ok {
					out = append(out, kind)
					break
				}
			}
		}
	}
	return out
}

// originsTable gives the shares with their intervals, the range over all choices
// of tracers, and what the weights of the firing say.
func (b *builder) originsTable(groups pair, slags map[string]unmixedSlag, by string) *page.Table {
	kinds := presentKinds(slags, by)
	t := &page.Table{
		Caption:  fmt.Sprintf("Shares of the sources in the slag, %s, in %% of its oxides with 95 %% of the draws; below, from the least to the greatest by any choice of tracers.", tracerPhrase(by)),
		Columns:  []page.Column{{Head: "sample"}},
		Sortable: true, Filterable: true,
		Notes: []string{"Where the lower line is far wider than the upper the choices of tracers disagree: the sources are not what they were taken for, or something left or came that is in none of them. By weight: what the charge of the firing should have given, from the balance. P is the chance of a worse fit if sources and uncertainties are right; where it is below 0.01 the intervals are widened by the misfit."},
	}
	for _, k := range kinds {
		t.Columns = append(t.Columns, page.Column{Head: k, Unit: "%", Numeric: true})
	}
	t.Columns = append(t.Columns, page.Column{Head: "P", Numeric: true}, page.Column{Head: "by weight", Unit: "%", Sub: abbreviated(kinds)}, page.Column{Head: "sources"})
	for i, g := range groups {
		for _, s := range g.Samples {
			u := slags[s.ID]
			row := page.Row{Sample: s.ID, Side: sideOf(i), Cells: []page.Cell{sampleCell(s)}}
			x, ok := u.chosen(by)
			for _, k := range kinds {
				row.Cells = append(row.Cells, originCell(u, x, ok, k))
			}
			p := noCell("no tracer is left to test with")
			if ok && !math.IsNaN(x.P) {
				p = page.Cell{Text: chance(x.P), Sort: &x.P, Note: fmt.Sprintf("χ² %.1f, %d degrees of freedom", x.Chi2, x.DoF)}
				if x.P < 0.01 {
					p.Class = page.Flagged
				}
			}
			row.Cells = append(row.Cells, p, weighedShares(u, kinds), textCell(u.from))
			t.Rows = append(t.Rows, row)
		}
	}
	return b.table(t)
}

func originCell(u unmixedSlag, x unmixedBy, ok bool, kind string) page.Cell {
	if !ok {
		return noCell(u.why)
	}
	v, lo, hi, ok := u.kindShare(x, kind)
	if !ok {
		if _, told := u.mergedShare(x); len(told) > 0 {
			return page.Cell{Text: "merged", Note: list(told), Class: page.Flagged}
		}
		return noCell("no source of this slag")
	}
	least, greatest := v, v
	for _, other := range u.by {
		if other.why != "" {
			continue
		}
		if w, _, _, ok := u.kindShare(other, kind); ok {
			least, greatest = math.Min(least, w), math.Max(greatest, w)
		}
	}
	percent := 100 * v
	c := page.Cell{Text: fmt.Sprintf("%.0f (%.0f–%.0f)", percent, 100*lo, 100*hi), Sub: fmt.Sprintf("%.0f–%.0f", 100*least, 100*greatest), Sort: &percent}
	if least < lo-disagreement || greatest > hi+disagreement {
		c.Class = page.Flagged
		c.Note = "the choices of tracers disagree by more than the interval and 5 points"
	}
	return c
}

// disagreement is by how much a choice of tracers may leave the interval of
// another before it is marked.
const disagreement = 0.05

func abbreviated(kinds []string) string {
	out := ""
	for i, k := range kinds {
		if i > 0 {
			out += " / "
		}
		out += k
	}
	return out
}

func weighedShares(u unmixedSlag, kinds []string) page.Cell {
	if u.weighs == nil {
		return noCell("nobody weighed its charge")
	}
	out := ""
	for i, k := range kinds {
		if i > 0 {
			out += " / "
		}
		out += fmt.Sprintf("%.0f", 100*u.weighs[k])
	}
	return textCell(out)
}

// choicesTable lists every choice of tracers of every slag.
func (b *builder) choicesTable(groups pair, slags map[string]unmixedSlag) *page.Table {
	var kinds []string
	for _, kind := range originKinds {
		for _, u := range slags {
			if slices.ContainsFunc(u.ends, endOf(kind)) {
				kinds = append(kinds, kind)
				break
			}
		}
	}
	t := &page.Table{
		Caption: "The same by every choice of tracers.",
		Columns: []page.Column{{Head: "sample"}, {Head: "tracers"}},
		Long:    true, Compact: true, Sortable: true, Filterable: true,
		Notes: []string{"Condition is that of the weighted sources: above about 30 some cannot be told apart. Inflation is the largest factor by which the other sources blow up the variance of a share; sources above 10 that trade against each other are merged."},
	}
	for _, k := range kinds {
		t.Columns = append(t.Columns, page.Column{Head: k, Unit: "%", Numeric: true})
	}
	t.Columns = append(t.Columns, page.Column{Head: "χ²", Numeric: true}, page.Column{Head: "P", Numeric: true}, page.Column{Head: "condition", Numeric: true}, page.Column{Head: "inflation", Numeric: true})
	for i, g := range groups {
		for _, s := range g.Samples {
			u := slags[s.ID]
			for _, x := range u.by {
				row := page.Row{Sample: s.ID, Side: sideOf(i), Cells: []page.Cell{{Text: s.ID}, {Text: x.Name, Note: formulaText(list(x.Tracers.Oxides)) + ": " + x.Why}}}
				for _, k := range kinds {
					row.Cells = append(row.Cells, choiceCell(u, x, k))
				}
				if x.why != "" {
					row.Cells = append(row.Cells, noCell(x.why), noCell(x.why), noCell(x.why), noCell(x.why))
				} else {
					p := page.Cell{Text: chance(x.P)}
					if math.IsNaN(x.P) {
						p = noCell("no tracer is left to test with")
					}
					row.Cells = append(row.Cells, numberCell(x.Chi2, 1), p, numberCell(x.Condition, 0), numberCell(slices.Max(x.Inflation), 0))
				}
				t.Rows = append(t.Rows, row)
			}
		}
	}
	return b.table(t)
}

func choiceCell(u unmixedSlag, x unmixedBy, kind string) page.Cell {
	if x.why != "" {
		return noCell(x.why)
	}
	v, lo, hi, ok := u.kindShare(x, kind)
	if !ok {
		if _, told := u.mergedShare(x); len(told) > 0 && slices.ContainsFunc(u.ends, endOf(kind)) {
			return page.Cell{Text: "merged", Note: list(told)}
		}
		return noCell("no source of this slag")
	}
	percent := 100 * v
	return page.Cell{Text: fmt.Sprintf("%.0f (%.0f–%.0f)", percent, 100*lo, 100*hi), Sort: &percent}
}
