package report

import (
	"fmt"
	"math"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/quantity"
	"smeltbook/report/page"
	"smeltbook/report/study"
)

// matchedColumn is a column of matched rows, ready to be asked.
type matchedColumn struct {
	head, unit string
	v          study.Variable
	high       *study.Variable               // of an interval
	words      func(*assay.Sample) page.Cell // of words alone
}

// matchedColumns readies the columns of a subject; lacking tells which of the usual
// ones are left out, and why.
func (b *builder) matchedColumns(groups pair, subject spreadSubject) (out []matchedColumn, lacking []string, err error) {
	asked := subject.columns
	if len(asked) == 0 {
		for _, id := range b.largestParts(groups, 3) {
			asked = append(asked, spreadColumn{key: id})
		}
		asked = append(asked, spreadColumn{key: "Cu"})
	}
	for _, a := range asked {
		if a.key == firstCrystalsKey {
			out = append(out, matchedColumn{head: a.head, words: func(s *assay.Sample) page.Cell {
				est, _, _ := b.study.Estimate(s.ID)
				return crystalsCell(est)
			}})
			continue
		}
		v, err := b.variable(a.key)
		if err != nil {
			return nil, nil, err
		}
		c := matchedColumn{head: a.head, unit: axisUnit(v.Unit), v: v}
		if c.head == "" {
			c.head = v.Label
		}
		if a.high != "" {
			high, err := b.variable(a.high)
			if err != nil {
				return nil, nil, err
			}
			c.high = &high
		}
		c.head = formulaText(c.head)
		if len(out) > 0 && len(subject.columns) > 0 && c.high == nil && valueless(v, groups) {
			lacking = append(lacking, capital(c.head)+" is left out: "+strings.TrimPrefix(reasonOf(v, groups[1]), ": ")+".")
			continue // a usual column without any value says nothing
		}
		out = append(out, c)
	}
	return out, lacking, nil
}

// cell prints what a sample has in the column.
func (c matchedColumn) cell(s *assay.Sample) page.Cell {
	switch {
	case c.words != nil:
		return c.words(s)
	case c.high != nil:
		lo, hi := c.v.Of(s), c.high.Of(s)
		why := strings.Join(nonEmpty(lo.UNote, hi.UNote), "; ")
		if !lo.Known() && !hi.Known() {
			return page.Cell{Text: "–", Class: page.Absent, Note: why}
		}
		return page.Cell{Text: c.span(lo.Or(math.Inf(-1)), hi.Or(math.Inf(1))), Note: why}
	case c.v.Log:
		q := c.v.Of(s)
		if !q.Known() {
			return page.Cell{Text: "–", Class: page.Absent, Note: q.UNote}
		}
		return page.Cell{Text: short(q.Value), Sub: asFactor(q.U / q.Value), Note: q.UNote, Sort: &q.Value}
	}
	return cellOf(c.v.Of(s))
}

// span prints an interval, open where nothing bounds a side.
func (c matchedColumn) span(lo, hi float64) string {
	number := func(x float64) string {
		return strings.Replace(fmt.Sprintf("%.*f", c.v.Decimals, x), "-", quantity.Minus, 1)
	}
	switch {
	case math.IsInf(lo, -1) && math.IsInf(hi, 1):
		return "open"
	case math.IsInf(lo, -1):
		return "≤ " + number(hi)
	case math.IsInf(hi, 1):
		return "≥ " + number(lo)
	case lo < 0 || hi < 0:
		return number(lo) + " to " + number(hi)
	}
	return number(lo) + "–" + number(hi)
}

// asFactor prints the standard uncertainty of a logarithm.
func asFactor(u float64) string {
	if math.IsNaN(u) {
		return ""
	}
	return "×/÷ " + short(math.Exp(u))
}

// valueless reports a variable that no sample of either group has, not even below
// a limit.
func valueless(v study.Variable, groups pair) bool {
	a, b := v.Summary(groups[0].Samples), v.Summary(groups[1].Samples)
	return a.N+a.Censored+b.N+b.Censored == 0
}

// difference prints left less right. Where a model computed both, ± runs from
// the analyses alone, as if both had the same error of the model, to that with
// the two errors independent: how much of it cancels is not known.
func (c matchedColumn) difference(left, right *assay.Sample) page.Cell {
	switch {
	case c.words != nil:
		a, b := c.words(left), c.words(right)
		if a.Text == b.Text {
			return page.Cell{Text: "same"}
		}
		return page.Cell{Text: a.Text + " / " + b.Text}
	case c.high != nil:
		return c.spanDifference(left, right)
	}
	v := c.v
	if v.Log {
		v = v.Logs()
	}
	a, b := v.Of(left), v.Of(right)
	if !a.Known() || !b.Known() {
		return openDifference(a, b)
	}
	shared := math.Hypot(v.ModelU([]*assay.Sample{left}), v.ModelU([]*assay.Sample{right}))
	own := math.Hypot(a.U, b.U)
	if !c.v.Log { // of logarithms the model's part has been left out already
		own = math.Sqrt(math.Max(own*own-shared*shared, 0))
	}
	all := math.Hypot(own, shared)
	d := a.Value - b.Value
	cell := page.Cell{Sort: &d}
	switch {
	case c.v.Log:
		cell.Text = "× " + short(math.Exp(d))
		cell.Sub = factorEnds(own, shared)
	case math.IsNaN(own):
		cell.Text = plain(d)
		cell.Note = "no uncertainty: " + strings.Join(nonEmpty(a.UNote, b.UNote), "; ")
		return cell
	default:
		text, u := quantity.Number(d, own)
		if v.Model != nil {
			text, _ = quantity.Number(d, all)
			u = shortSpan(own, all)
		}
		cell.Text, cell.Sub = text, "± "+u
	}
	if math.Abs(d) > 2*all {
		cell.Class = page.Clear
	}
	return cell
}

// openDifference is one where a value is below detection or lacking.
func openDifference(a, b quantity.Quantity) page.Cell {
	aLo, aHi := a.Bounds()
	bLo, bHi := b.Bounds()
	lo, hi := aLo-bHi, aHi-bLo
	if math.IsNaN(lo) || math.IsInf(lo, 0) || math.IsInf(hi, 0) || !(a.Known() || b.Known()) {
		return page.Cell{Text: "–", Class: page.Absent, Note: "no difference: " + strings.Join(nonEmpty(a.UNote, b.UNote, "a value is lacking or below detection"), "; ")}
	}
	return page.Cell{Text: shortSpan(lo, hi), Class: page.Censored, Note: "one of the two is below detection: the difference lies between that from zero and that from its limit"}
}

func (c matchedColumn) spanDifference(left, right *assay.Sample) page.Cell {
	aLo, aHi := c.v.Of(left), c.high.Of(left)
	bLo, bHi := c.v.Of(right), c.high.Of(right)
	lo, hi := aLo.Or(math.Inf(-1))-bHi.Or(math.Inf(1)), aHi.Or(math.Inf(1))-bLo.Or(math.Inf(-1))
	if !aLo.Known() && !aHi.Known() || !bLo.Known() && !bHi.Known() {
		return page.Cell{Text: "–", Class: page.Absent, Note: "no difference: one of the two is not known"}
	}
	cell := page.Cell{Text: c.span(lo, hi), Note: "the two intervals overlap: no difference is shown"}
	if lo > 0 || hi < 0 {
		cell.Class, cell.Note = page.Clear, "the two intervals do not meet"
	}
	return cell
}
