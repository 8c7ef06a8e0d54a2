package report

import (
	"fmt"
	"math"

	"smeltbook/assay"
	"smeltbook/report/figure"
	"smeltbook/report/page"
)

// matchedFigure draws the leading column of a spread, pair by pair in the order
// of the rows; nil where there is nothing to draw.
func (b *builder) matchedFigure(groups pair, subject spreadSubject, p pairing, leading matchedColumn) (*page.Figure, error) {
	if subject.word == compositions {
		return nil, nil
	}
	body := &figure.Facing{Gutter: []string{"pair by", "pair"}, Bars: leading.bars()}
	body.Pages[1].Group = 1
	var heights []float64
	for _, x := range p.pairs {
		left, okLeft := leading.mark(x.left)
		right, okRight := leading.mark(x.right)
		if !okLeft || !okRight {
			continue
		}
		for i, m := range []figure.Mark{left, right} {
			body.Pages[i].Marks = append(body.Pages[i].Marks, m)
			heights = append(heights, m.Value, m.Ends.Lo, m.Ends.Hi)
		}
	}
	shown := len(body.Pages[0].Marks)
	if shown == 0 {
		return nil, nil
	}
	axis := axisFor
	if leading.v.Log {
		axis = logAxisFor
	}
	body.Axis = axis(leading.head, leading.unit, heights)
	lacking := ""
	if n := len(p.pairs) - shown; n > 0 {
		lacking = fmt.Sprintf(" (%s without a value on one page)", counted(n, "pair"))
	}
	return b.figure(figure.Figure{
		Caption: fmt.Sprintf("%s: %s of matched pieces, %s%s. The mark in a place on the left page is matched with the mark in the same place on the right. Bars: %s.", subject.title, leading.head, counted(shown, "pair"), lacking, leading.bars()),
		Alt:     fmt.Sprintf("%s of %s, pieces of %s on the left page and of %s in the same order on the right, with bars.", capital(leading.head), counted(shown, "pair"), groups[0].Label(), groups[1].Label()),
		Groups:  groups.figureGroups(), Body: body,
	}, page.Facing)
}

// bars says what the bars of a figure are.
func (c matchedColumn) bars() string {
	switch {
	case c.high != nil:
		return "from the least to the greatest"
	case c.v.Model != nil:
		return "± one standard uncertainty, model and analysis"
	}
	return "± one standard uncertainty"
}

// mark places a sample's value; ok is false where there is nothing to place.
func (c matchedColumn) mark(s *assay.Sample) (m figure.Mark, ok bool) {
	q := c.v.Of(s)
	if !q.Known() {
		return m, false
	}
	cell := c.cell(s)
	m = figure.Mark{Sample: s.ID, Value: q.Value, U: nan, Ends: &figure.Ends{Lo: q.Value, Hi: q.Value},
		Details: []figure.Detail{{Label: c.head, Value: cell.Text + " " + c.unit}, {Label: "from", Value: whence(s)}}}
	switch {
	case c.high != nil:
		high := c.high.Of(s)
		if !high.Known() || high.Value < q.Value {
			return m, false
		}
		m.Value, m.Ends.Hi = (q.Value+high.Value)/2, high.Value
	case !q.HasU():
	case c.v.Log:
		f := math.Exp(q.U / q.Value)
		m.Ends.Lo, m.Ends.Hi = q.Value/f, q.Value*f
	default:
		m.Ends.Lo, m.Ends.Hi = q.Value-q.U, q.Value+q.U
	}
	return m, true
}
