package report

import (
	"fmt"
	"math"
	"strings"

	"smeltbook/assay/logratio"
	"smeltbook/assay/logratio/compare"
	"smeltbook/report/page"
)

// pCell prints p, bold where it is one in twenty or less.
func pCell(p float64) page.Cell {
	if math.IsNaN(p) {
		return page.Cell{Text: "–", Class: page.Absent}
	}
	c := page.Cell{Text: strings.TrimPrefix(strings.TrimPrefix(compare.PText(p), "p = "), "p "), Sort: &p}
	if p <= compare.Alpha {
		c.Class = page.Clear
	}
	return c
}

// balanceName is the name of a balance and its ratio, the ratio alone where it
// has no name.
func balanceName(x logratio.Balance, parts []string) (name, formula string) {
	formula = formulaText(x.Formula(parts))
	if x.Name == "" {
		return formula, ""
	}
	return formulaText(x.Name), formula
}

// balanceTable tests one balance a row.
func (b *builder) balanceTable(r compare.Result) *page.Table {
	t := &page.Table{
		Caption: fmt.Sprintf("The difference of %s and %s, balance by balance.", r.Names[0], r.Names[1]),
		Columns: []page.Column{{Head: "balance"},
			{Head: r.Names[0], Sub: "ratio", Numeric: true}, {Head: r.Names[1], Sub: "ratio", Numeric: true},
			{Head: "factor", Sub: "95 %", Numeric: true},
			{Head: "p", Sub: "permutation", Numeric: true}, {Head: "p adjusted", Sub: "Holm", Numeric: true}, {Head: "p adjusted", Sub: "Benjamini–Hochberg", Numeric: true}},
		Notes: []string{"A ratio is that of geometric means of the parts; the factor is how many times it is larger on the left, with its 95 % interval after Welch. Of several tests one comes out small by chance: count by the adjusted p. Bold: one in twenty or less."},
	}
	for _, x := range r.Balances {
		name, formula := balanceName(x.Balance, r.Parts)
		factor := page.Cell{Text: short(x.Factor), Sort: &x.Factor}
		if !math.IsNaN(x.Low) {
			factor.Sub = shortSpan(math.Exp(x.Ratio(x.Low)), math.Exp(x.Ratio(x.High)))
		}
		row := []page.Cell{{Text: name, Sub: formula}}
		for g := range 2 {
			v := math.Exp(x.Ratio(x.Mean[g]))
			row = append(row, page.Cell{Text: short(v), Sort: &v})
		}
		t.Rows = append(t.Rows, page.Row{Cells: append(row, factor, pCell(x.P), pCell(x.Holm), pCell(x.BH))})
	}
	return b.table(t)
}

// variantTable shows how the answer hangs on what is counted.
func (b *builder) variantTable(r compare.Result) *page.Table {
	t := &page.Table{
		Caption: "The same question with one mean for each firing, other parts, another replacement of values below detection and another basis.",
		Columns: []page.Column{{Head: "asked"}, {Head: "p", Sub: "location", Numeric: true}, {Head: "p", Sub: "Hotelling", Numeric: true},
			{Head: "distance", Sub: "in scatters", Numeric: true}, {Head: "at most", Sub: "95 %", Numeric: true}, {Head: "likeness within the margin"}},
		Notes: []string{"For these pieces only: within the margin by the scatter of the pieces at hand, but not by the smallest that the whole site may have. Another basis gives the balances other names and leaves every p as it is. Hotelling's test takes the groups for normal clouds of one shape and is fragile with few samples; where it is far from the first p, trust the first."},
	}
	for _, v := range r.Sensitivity {
		row := page.Row{Cells: []page.Cell{textCell(formulaText(v.Label))}}
		if v.Why != "" {
			row.Cells = append(row.Cells, page.Cell{Text: "–", Class: page.Absent}, page.Cell{Text: "–", Class: page.Absent}, page.Cell{Text: "–", Class: page.Absent}, page.Cell{Text: "–", Class: page.Absent}, textCell(capital(v.Why)))
			t.Rows = append(t.Rows, row)
			continue
		}
		h := pCell(v.Hotelling.P)
		h.Note = v.Hotelling.Why
		row.Cells = append(row.Cells, pCell(v.P), h, numberCell(v.Equivalence.Ratio(), 2), upperCell(v.Equivalence), textCell(verdictWord(v.Equivalence.Verdict)))
		t.Rows = append(t.Rows, row)
	}
	return b.table(t)
}

func upperCell(e compare.Equivalence) page.Cell {
	if up := e.Up / e.Scatter; !math.IsNaN(up) && !math.IsInf(up, 0) {
		return numberCell(up, 2)
	}
	return page.Cell{Text: "–", Class: page.Absent, Note: "so few samples give no upper bound"}
}

func verdictWord(v compare.Verdict) string {
	switch v {
	case compare.Alike:
		return "shown"
	case compare.AlikeHere:
		return "for these pieces only"
	case compare.Different:
		return "refuted"
	}
	return "not shown"
}

// influenceTable leaves out one sample a row.
func (b *builder) influenceTable(r compare.Result) *page.Table {
	t := &page.Table{
		Caption: fmt.Sprintf("The same question without one sample. With all of them %s and the distance is %.2f scatters.", compare.PText(r.Location.P), r.Equivalence.Ratio()),
		Columns: []page.Column{{Head: "without"}, {Head: "group"}, {Head: "p", Sub: "location", Numeric: true}, {Head: "distance", Sub: "in scatters", Numeric: true}},
		Long:    true, Compact: true, Sortable: true,
	}
	for _, x := range r.Influence {
		side := sideOf(x.Group)
		t.Rows = append(t.Rows, page.Row{Sample: x.Sample, Side: side, Cells: []page.Cell{textCell(x.Sample), textCell(r.Names[x.Group]), pCell(x.P), numberCell(x.Ratio, 2)}})
	}
	return b.table(t)
}
