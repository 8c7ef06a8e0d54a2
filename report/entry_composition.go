package report

import (
	"context"
	"fmt"
	"math"

	"smeltbook/assay"
	"smeltbook/assay/chem"
	"smeltbook/report/figure"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
)

// compositionEntry shows every part of every sample of two groups on one
// scale, and the numbers in a table.
func compositionEntry(_ context.Context, b *builder, e *notebook.Entry, out *page.Entry) error {
	var o struct {
		Groups []string
		Parts  []string // oxides and elements; the major ones when empty
	}
	if !b.options(e, &o) {
		return nil
	}
	groups, ok := b.facing(e, o.Groups)
	if !ok {
		return nil
	}
	for _, id := range o.Parts {
		if _, err := b.variable(id); err != nil {
			b.fail(e, "UNKNOWN_VARIABLE", "%v", err)
			return nil
		}
	}
	parts := o.Parts
	if len(parts) == 0 {
		parts = b.majorParts(groups)
	}
	body, err := b.profile(groups, parts)
	if err != nil {
		return err
	}
	fig, err := b.figure(figure.Figure{
		Caption: fmt.Sprintf("Composition, one mark a piece: left %s, right %s. Ticks stand at the medians; hollow marks with an arrow are limits of detection. %s",
			groups[0].Label(), groups[1].Label(), b.basisSentence()),
		Alt: fmt.Sprintf("For each of %d oxides and elements, the contents of %d samples of %s on the left page and %d of %s on the right, on a logarithmic scale in weight per cent.",
			len(parts), len(groups[0].Samples), groups[0].Name, len(groups[1].Samples), groups[1].Name),
		Groups: groups.figureGroups(), Body: body,
	}, page.Facing)
	if err != nil {
		return err
	}
	out.Parts = append(out.Parts, fig, b.compositionTable(groups, parts))
	out.Margin = b.margin(groups[:])
	return nil
}

func (b *builder) profile(groups pair, parts []string) (*figure.Profile, error) {
	p := &figure.Profile{Pages: [2]int{0, 1}}
	var all []float64
	for _, id := range parts {
		v, err := b.variable(id)
		if err != nil {
			return nil, err
		}
		row := figure.ProfileRow{Label: formulaText(v.Label)}
		for i, g := range groups {
			for _, s := range g.Samples {
				q := v.Of(s)
				m, ok := markOf(s, q)
				if !ok || m.Value <= 0 {
					continue
				}
				m.Details = []figure.Detail{{Label: formulaText(v.Label), Value: q.WithUnit()}, {Label: "from", Value: whence(s)}}
				row.Marks[i] = append(row.Marks[i], m)
				all = append(all, m.Value)
			}
			row.Middle[i] = v.Summary(g.Samples).Median.Value()
			if row.Middle[i] <= 0 {
				row.Middle[i] = math.NaN()
			}
		}
		p.Rows = append(p.Rows, row)
	}
	p.Axis = logAxisFor("content", "wt%", all)
	return p, nil
}

func (b *builder) compositionTable(groups pair, parts []string) *page.Table {
	t := &page.Table{
		Caption:  "Compositions piece by piece, in wt%, ± one standard uncertainty. " + b.basisSentence(),
		Columns:  []page.Column{{Head: "sample"}},
		Sortable: true, Filterable: true,
		Notes: []string{"Sum: of the analysis as reported, before normalising. Point at a number to see the cell it came from, the method and the source of its uncertainty."},
	}
	for _, id := range parts {
		t.Columns = append(t.Columns, page.Column{Head: formulaText(id), Unit: "wt%", Numeric: true})
	}
	t.Columns = append(t.Columns, page.Column{Head: "sum", Unit: "wt%", Numeric: true})
	for i, g := range groups {
		for _, s := range g.Samples {
			row := page.Row{Sample: s.ID, Side: sideOf(i), Cells: []page.Cell{sampleCell(s)}}
			for _, id := range parts {
				row.Cells = append(row.Cells, partCell(s, id))
			}
			v, _ := b.variable("total")
			row.Cells = append(row.Cells, cellOf(v.Of(s)))
			t.Rows = append(t.Rows, row)
		}
	}
	return b.table(t)
}

// partCell prints a part with its method and the value as reported.
func partCell(s *assay.Sample, id string) page.Cell {
	q, _ := s.Composition.Get(id)
	var also []string
	if m := s.Chosen[id]; m != "" {
		also = append(also, m)
	}
	if r, ok := s.AsReported.Get(id); ok && r.Known() && q.Known() {
		also = append(also, "as reported "+r.WithUnit())
	}
	return cellOf(q, also...)
}

// basisSentence says on which basis compositions are printed.
func (b *builder) basisSentence() string {
	switch b.study.Campaign.Config.Recipe.Basis {
	case chem.Reported:
		return "Basis: as reported by the laboratory, as oxides."
	case chem.LOIFree:
		return "Basis: oxides free of ignition loss, sums as found."
	}
	return "Basis: oxides free of ignition loss, summing to 100 wt%."
}

// margin says where the numbers of some groups come from.
func (b *builder) margin(groups []assay.Group) []string {
	methods := map[string]int{}
	files := map[string]bool{}
	var order, names []string
	n := 0
	for _, g := range groups {
		for _, s := range g.Samples {
			n++
			for _, a := range s.Assays {
				if methods[a.Method] == 0 {
					order = append(order, a.Method)
				}
				methods[a.Method]++
				file := a.At.File
				if !files[file] {
					files[file] = true
					names = append(names, file)
				}
			}
		}
	}
	var out []string
	for _, m := range order {
		word := "analyses"
		if methods[m] == 1 {
			word = "analysis"
		}
		out = append(out, fmt.Sprintf("%s: %d %s", m, methods[m], word))
	}
	return append(out, names...)
}
