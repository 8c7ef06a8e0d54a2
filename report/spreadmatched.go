package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/logratio/likeness"
	"smeltbook/report/page"
)

// mostFacing is the most matched rows that are set on facing pages; more are
// listed, not to be leafed through.
const mostFacing = 60

// matchedParts are the figure and the tables of matched rows.
func (b *builder) matchedParts(groups pair, subject spreadSubject, p pairing) ([]page.Part, error) {
	columns, lacking, err := b.matchedColumns(groups, subject)
	if err != nil {
		return nil, err
	}
	var parts []page.Part
	if fig, err := b.matchedFigure(groups, subject, p, columns[0]); err != nil {
		return nil, err
	} else if fig != nil {
		parts = append(parts, fig)
	}
	if len(p.pairs) <= mostFacing {
		s := b.matchedSpread(groups, subject, p, columns)
		s.Notes = append(s.Notes, lacking...)
		parts = append(parts, s)
	}
	differing := columns
	if subject.word == compositions {
		differing = nil
		for _, id := range b.majorParts(groups) {
			v, err := b.variable(id)
			if err != nil {
				return nil, err
			}
			differing = append(differing, matchedColumn{head: formulaText(id), unit: axisUnit(v.Unit), v: v})
		}
	}
	differences := b.differencesTable(groups, p, differing)
	if len(p.pairs) > mostFacing { // the spread that says it is left out
		differences.Notes = append([]string{p.how(groups)}, append(p.remarks(groups, b.matched[p.key(groups)]), differences.Notes...)...)
	}
	parts = append(parts, differences)
	if len(p.matching.Parts) > 0 && b.matched[p.key(groups)] == 0 {
		t := b.matchTable(groups, p)
		b.matched[p.key(groups)] = t.Number
		parts = append(parts, t)
	}
	return parts, nil
}

// matchedSpread sets every pair in a row of facing pages.
func (b *builder) matchedSpread(groups pair, subject spreadSubject, p pairing, columns []matchedColumn) *page.Spread {
	s := &page.Spread{
		Caption: fmt.Sprintf("%s, piece beside piece. %s", subject.title, p.how(groups)),
		Left:    page.Leaf{Name: groups[0].Name, Label: leaf(groups[0]).Label}, Right: leaf(groups[1]),
		Columns: []page.Column{{Head: "sample", Numeric: true}},
	}
	leading := columns[0]
	s.Gutter = page.Column{Head: "difference", Sub: leading.head + ", " + groups[0].Name + " − " + groups[1].Name, Numeric: true}
	switch {
	case subject.word == compositions:
		s.Gutter = page.Column{Head: "distance", Sub: "P nearest", Numeric: true}
	case leading.v.Log:
		s.Gutter = page.Column{Head: "factor", Sub: leading.head + ", " + groups[0].Name + " / " + groups[1].Name, Numeric: true}
	}
	for _, c := range columns {
		s.Columns = append(s.Columns, page.Column{Head: c.head, Unit: c.unit, Numeric: true})
	}
	for i, x := range p.pairs {
		row := page.SpreadRow{Name: fmt.Sprint("pair ", i+1), Left: []page.Cell{shortSampleCell(x.left)}, Right: []page.Cell{shortSampleCell(x.right)}}
		if x.poor {
			row.Unit = "poor"
		}
		for _, c := range columns {
			row.Left, row.Right = append(row.Left, c.cell(x.left)), append(row.Right, c.cell(x.right))
		}
		row.Difference = leading.difference(x.left, x.right)
		if subject.word == compositions {
			row.Difference = distanceCell(x)
		}
		s.Rows = append(s.Rows, row)
	}
	if subject.word == compositions && !p.stated {
		s.Notes = append(s.Notes, fmt.Sprintf("P: how probably this replica is the nearest of them all, when the analyses are drawn within their uncertainty (%d times). It says which is nearest, not that it is near.", likeness.MatchDraws))
	}
	s.Notes = append(s.Notes, p.remarks(groups, b.matched[p.key(groups)])...)
	s.Notes = append(s.Notes, modelNote(columns[:1])...)
	return b.numbered(s)
}

// shortSampleCell names a sample on facing pages, where a long context has no
// room and is shown on pointing.
func shortSampleCell(s *assay.Sample) page.Cell {
	c := sampleCell(s)
	if len([]rune(c.Sub)) > 10 {
		c.Note, c.Sub = c.Sub+"; "+c.Note, ""
	}
	return c
}

// distanceCell prints how far apart a pair is.
func distanceCell(x matchedPair) page.Cell {
	if x.near == nil {
		return page.Cell{Text: "–", Class: page.Absent, Note: "no distance: a part is lacking in one of the two"}
	}
	d := x.near.Distance
	c := page.Cell{Text: fmt.Sprintf("%.2f", d), Sort: &d}
	switch {
	case x.rank > 1:
		c.Sub = "rank " + fmt.Sprint(x.rank)
	case !math.IsNaN(x.near.P):
		c.Sub = "P " + probability(x.near.P)
	}
	if !math.IsNaN(x.near.Low) {
		c.Note = fmt.Sprintf("95 %% of the drawn distances: %s", shortSpan(x.near.Low, x.near.Up))
	}
	if x.next != nil {
		c.Note = strings.Join(nonEmpty(c.Note, fmt.Sprintf("next: %s at %.2f", x.next.Replica.ID, x.next.Distance)), "; ")
	}
	return c
}

// remarks say what has to be known to read matched rows: which matches are
// poor, which replica stands in several rows, who stands in none. Where they
// were said before, they are said in short, with the number of the table.
func (p pairing) remarks(groups pair, before int) []string {
	var out []string
	m := p.matching
	var poor []string
	for i, x := range p.pairs {
		if x.poor {
			poor = append(poor, fmt.Sprintf("pair %d (%s)", i+1, x.right.ID))
		}
	}
	if before > 0 {
		out = append(out, fmt.Sprintf("The rows are those of Table %d, which says how surely they are matched.", before))
		if len(poor) > 0 {
			out[0] += " Poor: " + list(poor) + "."
		}
		return out
	}
	two := "two pieces of " + groups[1].Name
	switch limit := math.Sqrt2 * m.Scatter; {
	case len(m.Parts) == 0:
	case len(m.Excavated) < fewestForPoor:
		out = append(out, fmt.Sprintf("With %s of %s nothing can be said of whether a match is poor.", samplesText(len(m.Excavated)), groups[1].Name))
	case len(poor) > 0:
		out = append(out, fmt.Sprintf("Poor: %s; farther apart than %s are from each other on the average (%.2f). %s", list(poor), two, limit, p.nearer(limit)))
	default:
		out = append(out, fmt.Sprintf("No match is poor: none is farther apart than %s are from each other on the average (%.2f).", two, limit))
	}
	if shared := p.shared(); len(shared) > 0 {
		out = append(out, capital(strings.Join(shared, "; "))+": these rows are not independent of each other.")
	}
	for i, g := range groups {
		if len(p.alone[i]) > 0 {
			out = append(out, fmt.Sprintf("Of %s without a match: %s.", g.Name, strings.Join(p.alone[i], ", ")))
		}
	}
	if len(m.Lacking) > 0 {
		out = append(out, "No distance can be worked: "+formulaText(strings.Join(m.Lacking, "; "))+".")
	}
	return out
}

// nearer says of poor matches which other replica would have been near enough:
// none where the nearest stands there already, but pairs may be the notebook's.
func (p pairing) nearer(limit float64) string {
	var nearer []string
	for _, x := range p.pairs {
		if !x.poor || x.rank == 1 || x.next == nil || x.next.Distance > limit {
			continue
		}
		if text := fmt.Sprintf("%s beside %s (%.2f)", x.right.ID, x.next.Replica.ID, x.next.Distance); !slices.Contains(nearer, text) {
			nearer = append(nearer, text)
		}
	}
	if len(nearer) == 0 {
		return "No replica comes near them."
	}
	return "By composition there are matches that are not poor: " + list(nearer) + "."
}

// shared names the replicas that stand beside several excavated samples.
func (p pairing) shared() []string {
	var order []*assay.Sample
	beside := map[*assay.Sample][]string{}
	for _, x := range p.pairs {
		if beside[x.left] == nil {
			order = append(order, x.left)
		}
		beside[x.left] = append(beside[x.left], x.right.ID)
	}
	var out []string
	for _, s := range order {
		if n := len(beside[s]); n > 1 {
			out = append(out, fmt.Sprintf("%s stands beside %d pieces (%s)", s.ID, n, fewOf(beside[s])))
		}
	}
	return out
}

// modelNote explains the two ends of a ± that a model has a share in.
func modelNote(columns []matchedColumn) []string {
	if slices.ContainsFunc(columns, func(c matchedColumn) bool { return c.v.Model != nil }) {
		return []string{"Where ± has two ends, a model computed both values: the lower is from the analyses alone, as if the model erred alike in both, the upper takes its errors as independent. How much of them cancels is not known; bold is only what is larger than twice the upper."}
	}
	return nil
}

// differencesTable lists replica less excavated, pair by pair.
func (b *builder) differencesTable(groups pair, p pairing, columns []matchedColumn) *page.Table {
	t := &page.Table{
		Caption: fmt.Sprintf("What tells the two of each pair apart: %s − %s, ± one standard uncertainty of the difference.", groups[0].Name, groups[1].Name),
		Columns: []page.Column{{Head: groups[1].Name}, {Head: "pair", Numeric: true}},
		Notes:   append([]string{"Bold: larger than twice its uncertainty, or intervals that do not meet. Of many differences one in twenty is so by chance."}, modelNote(columns)...),
		Long:    len(p.pairs) > mostFacing,
	}
	for _, c := range columns {
		sub := ""
		if c.v.Log {
			sub = "factor"
		}
		t.Columns = append(t.Columns, page.Column{Head: c.head, Unit: c.unit, Sub: sub, Numeric: c.words == nil})
	}
	for i, x := range p.pairs {
		row := page.Row{Sample: x.right.ID, Side: page.Dug, Cells: []page.Cell{{Text: x.right.ID, Sub: "beside " + x.left.ID}, numberCell(float64(i+1), 0)}}
		for _, c := range columns {
			row.Cells = append(row.Cells, c.difference(x.left, x.right))
		}
		t.Rows = append(t.Rows, row)
	}
	return b.table(t)
}

// matchTable says how surely the rows were matched.
func (b *builder) matchTable(groups pair, p pairing) *page.Table {
	t := &page.Table{
		Caption: fmt.Sprintf("How surely the rows are matched: distances between the pieces of %s and of %s over %s.", groups[0].Name, groups[1].Name, formulaText(strings.Join(p.matching.Parts, ", "))),
		Columns: []page.Column{{Head: groups[1].Name}, {Head: groups[0].Name}, {Head: "pair", Numeric: true}, {Head: "rank", Sub: "among all", Numeric: true},
			{Head: "distance", Sub: "95 % as drawn", Numeric: true}, {Head: "in scatters", Sub: "of " + groups[1].Name, Numeric: true}, {Head: "P nearest", Numeric: true}, {Head: "next nearest"}, {Head: "poor"}},
		Sortable: true, Compact: true, Long: true,
		Notes: []string{fmt.Sprintf("P: how probably that replica is the nearest of all, when the analyses are drawn within their uncertainty (%d times).", likeness.MatchDraws), "The 95 % interval is that of the distances when both analyses are drawn within their uncertainty; noise makes distances longer, so that it lies above a distance that the analyses cannot tell from none."},
	}
	for i, x := range p.pairs {
		row := page.Row{Sample: x.right.ID, Side: page.Dug, Cells: []page.Cell{textCell(x.right.ID), textCell(x.left.ID), numberCell(float64(i+1), 0)}}
		absent := page.Cell{Text: "–", Class: page.Absent}
		if x.near == nil {
			row.Cells = append(row.Cells, absent, absent, absent, absent, absent, absent)
			t.Rows = append(t.Rows, row)
			continue
		}
		distance, surely, next, poor := numberCell(x.near.Distance, 2), absent, absent, page.Cell{Text: "no"}
		if !math.IsNaN(x.near.P) {
			distance.Sub = shortSpan(x.near.Low, x.near.Up)
			surely = page.Cell{Text: probability(x.near.P), Sort: &x.near.P}
		}
		if x.next != nil {
			next = page.Cell{Text: x.next.Replica.ID, Sub: fmt.Sprintf("at %.2f", x.next.Distance)}
		}
		if x.poor {
			poor.Text = "yes"
		}
		row.Cells = append(row.Cells, numberCell(float64(x.rank), 0), distance, numberCell(x.near.Distance/p.matching.Scatter, 2), surely, next, poor)
		t.Rows = append(t.Rows, row)
	}
	return b.table(t)
}

// largestParts returns the parts that are largest in both groups together.
func (b *builder) largestParts(groups pair, n int) []string {
	parts := b.majorParts(groups)
	mean := map[string]float64{}
	for _, id := range parts {
		v, err := b.variable(id)
		if err != nil {
			continue
		}
		for _, g := range groups {
			if m := v.Summary(g.Samples).Mean.Low; !math.IsNaN(m) {
				mean[id] += m
			}
		}
	}
	slices.SortStableFunc(parts, func(a, b string) int { return cmp.Compare(mean[b], mean[a]) })
	return parts[:min(n, len(parts))]
}
