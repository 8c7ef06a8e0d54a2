package report

import (
	"context"
	"fmt"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
	"smeltbook/phase"
	"smeltbook/report/figure"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
	"smeltbook/report/study"
)

// meltingEntry shows the liquidus temperature and the first crystals.
func meltingEntry(_ context.Context, b *builder, e *notebook.Entry, out *page.Entry) error {
	var o struct {
		Groups  []string
		Furnace []float64 // °C: a temperature, or the two ends of a range, to compare with
	}
	if !b.options(e, &o) {
		return nil
	}
	groups, ok := b.facing(e, o.Groups)
	if !ok {
		return nil
	}
	v, err := b.variable(study.Liquidus)
	if err != nil {
		return err
	}
	body := facingFigure(v, groups, func(s *assay.Sample) []figure.Detail {
		est, _, _ := b.study.Estimate(s.ID)
		return []figure.Detail{
			{Label: "first crystals", Value: firstCrystals(est)},
			{Label: "from", Value: whence(s)},
		}
	})
	for i := range body.Pages {
		for j := range body.Pages[i].Marks {
			m := &body.Pages[i].Marks[j]
			est, _, _ := b.study.Estimate(m.Sample)
			m.Flagged = !est.InRange
		}
	}
	if !addFurnace(b, e, body, o.Furnace) {
		return nil
	}
	fig, err := b.figure(figure.Figure{
		Caption: fmt.Sprintf("Liquidus temperature, above which a melt of the composition holds no crystals: %s. Bars are one standard uncertainty, analysis and model together; hollow marks lie outside the model's range. A liquidus is not a furnace temperature.",
			whoIsShown(body, groups)),
		Alt:    fmt.Sprintf("Liquidus temperatures of %s on the left page and of %s on the right, in degrees Celsius, with error bars.", groups[0].Label(), groups[1].Label()),
		Groups: groups.figureGroups(), Body: body,
	}, page.Facing)
	if err != nil {
		return err
	}
	freezing, err := b.freezingFigure(groups, body.References)
	if err != nil {
		return err
	}
	out.Parts = append(out.Parts, fig, b.meltingTable(groups))
	if freezing != nil {
		out.Parts = append(out.Parts, freezing)
	}
	out.Parts = append(out.Parts, b.freezingTable(groups), b.reductionTable(groups))
	var told sampleNotices
	total := 0
	for _, g := range groups {
		for _, s := range g.Samples {
			if est, _, ok := b.study.Estimate(s.ID); ok {
				total++
				told.add(s.ID, aboutMelting(est.Notices))
			}
		}
	}
	if ns := told.list(total); len(ns) > 0 {
		out.Parts = append(out.Parts, &page.Notices{List: ns})
	}
	out.Margin = append(b.margin(groups[:]), "Liquidus: smeltbook's own assessment of published phase equilibria; see the methods")
	return nil
}

// aboutMelting leaves out what is told under copper.
func aboutMelting(ns source.Notices) source.Notices {
	var out source.Notices
	for _, n := range ns {
		if strings.HasPrefix(n.Code, "SOLIDIFICATION_") || strings.HasPrefix(n.Code, "LIQUIDUS_") || strings.HasPrefix(n.Code, "NO_LIQUIDUS") || n.Code == "FERROUS_MAXIMUM" || n.Code == "FERRIC_BELOW_ZERO" {
			out = append(out, n)
		}
	}
	return out
}

// addFurnace draws the temperature or range the notebook gives.
func addFurnace(b *builder, e *notebook.Entry, f *figure.Facing, furnace []float64) bool {
	for _, tc := range furnace {
		if !(tc >= 500 && tc <= 2000) {
			b.fail(e, "BAD_RANGE", "furnace takes temperatures from 500 to 2000 °C, not %g", tc)
			return false
		}
	}
	switch {
	case len(furnace) == 0:
		return true
	case len(furnace) == 1:
		furnace = append(furnace, furnace[0])
	case len(furnace) > 2 || furnace[1] < furnace[0]:
		b.fail(e, "BAD_RANGE", "furnace takes one temperature in °C, or two with the lower first, not %v", furnace)
		return false
	}
	label := fmt.Sprintf("furnace %.0f °C", furnace[0])
	if furnace[1] > furnace[0] {
		label = fmt.Sprintf("furnace %.0f–%.0f °C", furnace[0], furnace[1])
	}
	f.References = append(f.References, figure.Reference{From: furnace[0], To: furnace[1], Label: label})
	f.Axis = axisFor(f.Axis.Label, f.Axis.Unit, []float64{f.Axis.Min, f.Axis.Max, furnace[0], furnace[1]})
	return true
}

// firstCrystals names the first phase and those that come with it.
func firstCrystals(e phase.Estimate) string {
	if e.FirstPhase == "" {
		return "–"
	}
	names := []string{e.FirstPhase.Label()}
	for _, n := range e.Near {
		names = append(names, n.Phase.Label())
	}
	return strings.Join(names, ", then ")
}

// crystalsCell names the first phase, and below it those that come with it.
func crystalsCell(e phase.Estimate) page.Cell {
	first, near, _ := strings.Cut(firstCrystals(e), ", ")
	return page.Cell{Text: first, Sub: near}
}

func (b *builder) meltingTable(groups pair) *page.Table {
	t := &page.Table{
		Caption: "Liquidus temperature and first crystals, piece by piece.",
		Columns: []page.Column{{Head: "sample"},
			{Head: "liquidus", Unit: "°C", Sub: "± combined", Numeric: true},
			{Head: "analysis", Unit: "± °C", Numeric: true}, {Head: "model", Unit: "± °C", Numeric: true},
			{Head: "first crystals"}, {Head: "share of draws", Unit: "%", Sub: "with that phase", Numeric: true}},
		Sortable: true, Filterable: true,
		Notes: append([]string{"Names after “then” follow within 5 °C of the first crystals: which of them really comes first is open."}, b.ironNote(groups)...),
	}
	for i, g := range groups {
		for _, s := range g.Samples {
			row := page.Row{Sample: s.ID, Side: sideOf(i), Cells: []page.Cell{sampleCell(s)}}
			est, why, ok := b.study.Estimate(s.ID)
			if !ok {
				row.Cells = append(row.Cells, page.Cell{Text: "–", Class: page.Absent, Note: why}, page.Cell{}, page.Cell{}, textCell(why), page.Cell{})
				t.Rows = append(t.Rows, row)
				continue
			}
			liquidus := cellOf(est.Liquidus)
			if !est.InRange {
				liquidus.Class = page.OutOfRange
				liquidus.Note += "; outside the model's range"
			}
			_, assayU := quantity.Number(est.Liquidus.Value, est.AssaySD)
			_, modelU := quantity.Number(est.Liquidus.Value, est.ModelSD)
			share := page.Cell{}
			for _, f := range est.Spread.First {
				if f.Phase == est.FirstPhase {
					x := 100 * f.Share
					share = page.Cell{Text: fmt.Sprintf("%.0f", x), Sort: &x}
				}
			}
			row.Cells = append(row.Cells, liquidus, textCell(assayU), textCell(modelU), crystalsCell(est), share)
			t.Rows = append(t.Rows, row)
		}
	}
	return b.table(t)
}
