package report

import (
	"fmt"
	"math"
	"strings"

	"smeltbook/assay/quantity"
	"smeltbook/phase/melt"
	"smeltbook/report/figure"
	"smeltbook/report/page"
)

// freezingFigure shows the share of each slag that is liquid against
// temperature, nil where no path was followed.
func (b *builder) freezingFigure(groups pair, furnace []figure.Reference) (*page.Figure, error) {
	body := &figure.Curves{
		Y:          figure.Axis{Label: "liquid", Unit: "wt%", Min: 0, Max: 100},
		References: furnace,
		Levels:     []figure.Reference{{From: 90, To: 90, Label: "90 %"}, {From: 50, To: 50, Label: "half"}},
	}
	var temperatures []float64
	for _, f := range furnace {
		temperatures = append(temperatures, f.From, f.To)
	}
	n := 0
	for i, g := range groups {
		body.Pages[i].Group = i
		for _, s := range g.Samples {
			est, _, ok := b.study.Estimate(s.ID)
			if !ok || est.Path == nil {
				continue
			}
			c := figure.Curve{Sample: s.ID, Dashed: !est.InRange, Details: []figure.Detail{
				{Label: "liquidus", Value: est.Liquidus.WithUnit()},
				{Label: "90 % molten", Value: est.MoltenAt(0.9).WithUnit()},
				{Label: "half molten", Value: est.MoltenAt(0.5).WithUnit()},
				{Label: "from", Value: whence(s)},
			}}
			for _, step := range est.Path.Steps {
				c.X, c.Y = append(c.X, step.TC), append(c.Y, 100*step.Liquid)
				temperatures = append(temperatures, step.TC)
			}
			if len(c.X) < 2 {
				continue
			}
			n++
			body.Pages[i].Lines = append(body.Pages[i].Lines, c)
		}
	}
	if n == 0 {
		return nil, nil
	}
	body.X = axisFor("temperature", "°C", temperatures)
	half, err := b.variable("t_half_molten")
	if err != nil {
		return nil, err
	}
	body.Gutter = append([]string{"half molten"}, gutter(half, groups)...)
	return b.figure(figure.Figure{
		Caption: "Share of each slag that is liquid against temperature, on slow cooling in equilibrium; dotted where the composition lies outside the model's range. In the gutter the difference of the temperatures at which half is molten.",
		Alt:     fmt.Sprintf("Falling curves of the liquid share of the samples of %s on the left page and of %s on the right, between 0 and 100 per cent, against temperature in degrees Celsius.", groups[0].Label(), groups[1].Label()),
		Groups:  groups.figureGroups(), Body: body,
	}, page.Facing)
}

// freezingTable tells how each slag froze: how much of it was liquid at which
// temperature, and in which order the minerals came.
func (b *builder) freezingTable(groups pair) *page.Table {
	t := &page.Table{
		Caption: "Freezing in equilibrium, piece by piece. A slag runs while most of it is liquid, so the temperatures at which 90 and 50 wt% are molten say more of the furnace than the liquidus.",
		Columns: []page.Column{{Head: "sample"},
			{Head: "90 % molten", Unit: "°C", Numeric: true}, {Head: "half molten", Unit: "°C", Numeric: true}, {Head: "solidus", Unit: "°C", Numeric: true},
			{Head: "minerals in the order of appearance", Sub: "°C"}},
		Sortable: true, Filterable: true,
		Notes: []string{"± is that of the liquidus; the course of freezing has none of its own. Slow cooling is assumed: zoned or skeletal crystals and glass lie outside the model."},
	}
	for i, g := range groups {
		for _, s := range g.Samples {
			row := page.Row{Sample: s.ID, Side: sideOf(i), Cells: []page.Cell{sampleCell(s)}}
			est, why, ok := b.study.Estimate(s.ID)
			if ok && est.Path == nil {
				why = "the freezing could not be followed"
			}
			if !ok || est.Path == nil {
				row.Cells = append(row.Cells, page.Cell{Text: "–", Class: page.Absent, Note: why}, page.Cell{}, page.Cell{}, textCell(why))
				t.Rows = append(t.Rows, row)
				continue
			}
			for _, q := range []quantity.Quantity{est.MoltenAt(0.9), est.MoltenAt(0.5), est.Solidus()} {
				row.Cells = append(row.Cells, cellOf(withoutCells(q)))
			}
			var order []string
			for _, m := range est.Path.Minerals {
				order = append(order, fmt.Sprintf("%s %.0f", m.Phase.Label(), m.AppearsC))
			}
			row.Cells = append(row.Cells, textCell(strings.Join(order, ", ")))
			t.Rows = append(t.Rows, row)
		}
	}
	return b.table(t)
}

// reductionTable shows what reading a slag on three corners costs.
func (b *builder) reductionTable(groups pair) *page.Table {
	t := &page.Table{
		Caption:  "What three corners cost: the liquidus of the full composition, and of the same slag brought to three oxides by the usual recipes, in °C.",
		Columns:  []page.Column{{Head: "sample"}, {Head: "full", Unit: "°C", Numeric: true}},
		Sortable: true, Long: true,
		Notes: []string{"The recipes are named after what they count to which corner. Point at a number for the share of the analysis that its recipe counts."},
	}
	recipes := melt.StandardReductions()
	for _, r := range recipes {
		t.Columns = append(t.Columns, page.Column{Head: r.Name, Unit: "°C", Numeric: true})
	}
	t.Columns = append(t.Columns, page.Column{Head: "spread", Unit: "°C", Sub: "highest − lowest", Numeric: true})
	for i, g := range groups {
		for _, s := range g.Samples {
			est, _, ok := b.study.Estimate(s.ID)
			if !ok || est.Reductions == nil {
				continue
			}
			row := page.Row{Sample: s.ID, Side: sideOf(i), Cells: []page.Cell{sampleCell(s), numberCell(est.Liquidus.Value, 0)}}
			for _, r := range est.Reductions.List {
				tc := math.NaN()
				note := "no liquidus"
				if r.Err == nil {
					tc = r.Liquidus.TC
					note = fmt.Sprintf("counts %.0f %% of the analysis; first crystals %s", 100*r.Covered, r.Liquidus.First.Label())
				}
				c := numberCell(tc, 0)
				c.Note = note
				row.Cells = append(row.Cells, c)
			}
			row.Cells = append(row.Cells, numberCell(est.Reductions.Range, 0))
			t.Rows = append(t.Rows, row)
		}
	}
	return b.table(t)
}
