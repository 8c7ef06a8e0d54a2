package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/logratio"
	"smeltbook/assay/logratio/likeness"
	"smeltbook/report/page"
	"smeltbook/report/study"
)

// nearestSpread sets every excavated piece on the right page and on the left
// the firing it is most likely like.
func (b *builder) nearestSpread(d likenessData, in likeness.Input, r likeness.Result) *page.Spread {
	shown := d.largest(3)
	s := &page.Spread{
		Caption: fmt.Sprintf("Every piece of %s and the firing of %s it is most likely nearest to, as mean of its pieces. %s", d.groups[1].Name, d.groups[0].Name, b.basisSentence()),
		Left:    page.Leaf{Name: d.groups[0].Name, Label: counted(len(in.Runs), "firing")}, Right: leaf(d.groups[1]),
		Columns: []page.Column{{Head: "from"}},
		Gutter:  page.Column{Head: "distance", Sub: "P nearest", Numeric: true},
		Notes:   []string{fmt.Sprintf("P is the probability that this firing is the nearest of the %d when the analyses are drawn within their uncertainty and the mean of each firing within the scatter of pieces, by its number of pieces. It says which of these firings is nearest, not that it is near: for that see where firings fall in the cloud.", len(in.Runs))},
	}
	if r.NoScatter {
		s.Notes = append(s.Notes, "No firing has two pieces, so that P rests on the error of the analyses alone and is too sure of itself.")
	}
	var vars []study.Variable
	for _, id := range append(shown, study.Liquidus) {
		v, err := b.variable(id)
		if err != nil {
			continue
		}
		vars = append(vars, v)
		head := formulaText(v.Label)
		if id == study.Liquidus {
			head = "liquidus"
		}
		s.Columns = append(s.Columns, page.Column{Head: head, Unit: v.Unit, Numeric: true})
	}
	for k, p := range r.Pieces {
		near := p.Near[0]
		piece := d.samples[in.Excavated[k]]
		var pieces []*assay.Sample
		for _, i := range in.Runs[near.Run].Rows {
			pieces = append(pieces, d.samples[i])
		}
		left, right := []page.Cell{{Text: in.Runs[near.Run].Name, Note: samplesText(len(pieces))}}, []page.Cell{textCell(whence(piece))}
		for _, v := range vars {
			mean := v.Summary(pieces)
			left = append(left, groupCells(v, mean, pieces, scatter(mean))[0])
			right = append(right, cellOf(v.Of(piece)))
		}
		note := ""
		if len(p.Near) > 1 {
			note = fmt.Sprintf("next: %s at %s, P %s", in.Runs[p.Near[1].Run].Name, short(p.Near[1].Distance), probability(p.Near[1].P))
		}
		s.Rows = append(s.Rows, page.SpreadRow{Name: p.Sample, Left: left, Right: right,
			Difference: page.Cell{Text: short(near.Distance), Sub: "P " + probability(near.P), Note: note}})
	}
	b.tables++
	s.Number, s.ID = b.tables, fmt.Sprintf("table-%d", b.tables)
	return s
}

func samplesText(n int) string {
	if n == 1 {
		return "1 piece"
	}
	return fmt.Sprintf("%d pieces", n)
}

// probability prints one, never as certain.
func probability(p float64) string {
	switch {
	case p > 0.99:
		return "> 0.99"
	case p < 0.01:
		return "< 0.01"
	}
	return fmt.Sprintf("%.2f", p)
}

// largest returns the parts that are largest on the whole.
func (d likenessData) largest(n int) []string {
	m, err := d.table.Complete(logratio.Simple)
	if err != nil {
		return nil
	}
	centre := m.Centre(100)
	places := make([]int, len(centre))
	for j := range places {
		places[j] = j
	}
	slices.SortStableFunc(places, func(a, b int) int {
		switch {
		case centre[a] > centre[b]:
			return -1
		case centre[a] < centre[b]:
			return 1
		}
		return 0
	})
	var out []string
	for _, j := range places[:min(n, len(places))] {
		out = append(out, d.table.Parts[j])
	}
	return out
}

// apartTable says in what each piece differs from its nearest firing.
func (b *builder) apartTable(d likenessData, in likeness.Input, r likeness.Result) *page.Table {
	t := &page.Table{
		Caption: "What tells each piece from its nearest firing: the balances that make up most of the distance, as factor of the piece's ratio over that of the firing and share of the squared distance.",
		Columns: []page.Column{{Head: "piece"}, {Head: "nearest firing"}, {Head: "most"}, {Head: "next"}},
		Notes:   []string{"A balance of several parts is the ratio of their geometric means."},
	}
	for _, x := range in.Extras {
		switch {
		case strings.HasPrefix(x.Name, "copper of the ore"):
			t.Notes = append(t.Notes, "Copper of the ore lost: the least share that is in the slag, counted by the silica, alumina and titania of one ore on both pages as if all of them went to the slag; flux and wall only add to it.")
		case strings.HasPrefix(x.Name, "clay"):
			t.Notes = append(t.Notes, "Clay in the slag: the middle of what two tracers leave, which is wide; see the entry on the lining.")
		}
	}
	for _, x := range in.Extras {
		t.Columns = append(t.Columns, page.Column{Head: formulaText(x.Name), Unit: x.Unit, Sub: "piece − firing", Numeric: true})
	}
	for k, p := range r.Pieces {
		near := p.Near[0]
		row := page.Row{Sample: p.Sample, Side: page.Dug, Cells: []page.Cell{sampleCell(d.samples[in.Excavated[k]]), textCell(in.Runs[near.Run].Name)}}
		balances := len(r.Basis.Balances)
		for i := range 2 {
			if i >= balances {
				row.Cells = append(row.Cells, page.Cell{Text: "–", Class: page.Absent})
				continue
			}
			x := near.Differs[i]
			row.Cells = append(row.Cells, page.Cell{Text: formulaText(x.Name), Sub: fmt.Sprintf("× %s, %.0f %%", short(x.Factor), 100*x.Share)})
		}
		for _, x := range near.Differs[balances:] {
			if math.IsNaN(x.Value) {
				row.Cells = append(row.Cells, page.Cell{Text: "–", Class: page.Absent})
				continue
			}
			v := x.Value
			row.Cells = append(row.Cells, page.Cell{Text: short(v), Sort: &v})
		}
		t.Rows = append(t.Rows, row)
	}
	return b.table(t)
}

// cloudTable says where the pieces of each firing fall in the cloud of the
// excavated ones.
func (b *builder) cloudTable(d likenessData, in likeness.Input, r likeness.Result) *page.Table {
	t := &page.Table{
		Caption: fmt.Sprintf("Where the firings fall in the cloud of %s: would a piece pass for one more of the site?", d.groups[1].Name),
		Columns: []page.Column{{Head: "firing"}, {Head: "pieces", Numeric: true},
			{Head: "centre from centre", Sub: "in scatters", Numeric: true},
			{Head: "typical tail P", Sub: "median", Numeric: true}, {Head: "range of P", Numeric: true},
			{Head: "greatest depth", Sub: "0 outside, 1 middle", Numeric: true}},
		Notes: []string{fmt.Sprintf("P is the share of the pieces of %s, and the replica itself, that lie as far out or farther. With %s it cannot fall below %s, whatever the replica. A piece may lie inside only because the cloud is wide.", d.groups[1].Name, samplesText(len(in.Excavated)), short(r.Smallest))},
	}
	for _, c := range r.Clouds {
		var depth, lo, hi float64
		lo = 1
		var notes []string
		for _, x := range c.Pieces {
			depth, lo, hi = max(depth, x.Depth), min(lo, x.P), max(hi, x.P)
			notes = append(notes, fmt.Sprintf("%s P %s", x.Sample, short(x.P)))
		}
		cells := []page.Cell{textCell(in.Runs[c.Run].Name), numberCell(float64(len(c.Pieces)), 0),
			numberCell(c.Distance/c.Scatter, 2), numberCell(c.Typical(), 2), {Text: shortSpan(lo, hi), Note: strings.Join(notes, "; ")}, numberCell(depth, 2)}
		t.Rows = append(t.Rows, page.Row{Side: page.Fired, Cells: cells})
	}
	return b.table(t)
}
