package report

import (
	"fmt"
	"math"
	"slices"

	"smeltbook/assay"
	"smeltbook/assay/balance"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
	"smeltbook/assay/summary"
	"smeltbook/phase/copper"
	"smeltbook/report/page"
)

// meanCopper is the mean copper of some samples as analysed, with the standard
// uncertainty of the mean.
func meanCopper(samples []*assay.Sample) (quantity.Quantity, int) {
	var qs []quantity.Quantity
	for _, s := range samples {
		if q, ok := copper.TotalCopper(s.AsReported); ok {
			qs = append(qs, q)
		}
	}
	return summary.Mean(qs, "wt%"), len(qs)
}

// firingTable reckons the copper that each firing lost in its slag; nil where
// no firing of the groups has its slag weighed.
func (b *builder) firingTable(groups pair) (*page.Table, source.Notices) {
	t := &page.Table{
		Caption: "Copper lost in the slag of each firing, by the weights of the field sheet and the mean copper of the pieces analysed.",
		Columns: []page.Column{{Head: "firing"},
			{Head: "slag", Unit: "kg", Numeric: true},
			{Head: "its Cu", Unit: "wt%", Sub: "mean of the pieces", Numeric: true},
			{Head: "Cu lost in it", Unit: "kg", Numeric: true},
			{Head: "ore", Unit: "kg", Numeric: true}, {Head: "its Cu", Unit: "wt%", Numeric: true},
			{Head: "share of the Cu charged", Unit: "%", Numeric: true},
			{Head: "prills sieved out", Unit: "kg", Numeric: true}},
		Notes: []string{"± is one standard uncertainty; that of the mean copper is the scatter between the pieces over √n, so it holds only as far as the pieces stand for the whole slag. The slag counts as the field sheet weighs it: prills sieved out of it before are not in it and are listed apart. Ore is weighed as charged and analysed dry, so that its moisture makes the charge a little smaller than stated."},
	}
	var ns source.Notices
	unsure := false
	for _, r := range b.study.Campaign.Runs {
		var pieces []*assay.Sample
		for _, g := range groups {
			for _, s := range g.Samples {
				if s.Run == r.ID && !slices.Contains(pieces, s) {
					pieces = append(pieces, s)
				}
			}
		}
		slag, weighed := r.Mass("slag")
		if len(pieces) == 0 || !weighed {
			continue
		}
		row, err := b.firingRow(r, pieces, slag)
		if err != nil {
			ns.Add(source.Warning, "FIRING_LOSS", r.At, "%s: no copper lost to slag: %v", r.ID, err)
			continue
		}
		t.Rows = append(t.Rows, row)
		unsure = unsure || !slag.HasU()
	}
	if unsure {
		t.Notes = append(t.Notes, "Where the field sheet states no ± of a weight, what is worked out from it has none either: put the ± of the scales into a column behind the weight.")
	}
	if len(t.Rows) == 0 {
		return nil, ns
	}
	return b.table(t), ns
}

func (b *builder) firingRow(r assay.Run, pieces []*assay.Sample, slag quantity.Quantity) (page.Row, error) {
	cu, n := meanCopper(pieces)
	ore, _ := r.Mass("ore")
	stock := b.study.Campaign.OfStock(r.Text("ore stock"), assay.Ore)
	oreCu, _ := meanCopper(stock)
	charged := quantity.None(quantity.Missing, math.NaN(), "kg")
	if ore.Known() && oreCu.Known() {
		charged = quantity.Product(ore, oreCu.Scale(0.01, "1"), "kg")
	}
	loss, err := balance.LostInFiring(slag, cu, charged)
	if err != nil {
		return page.Row{}, err
	}
	var names []string
	for _, s := range stock {
		names = append(names, s.ID)
	}
	lost, share := loss.Copper, loss.Share
	lost.From, share.From = nil, nil
	if share.Known() {
		share = share.Scale(100, "%")
	}
	prills := r.PrillsTotal()
	return page.Row{Cells: []page.Cell{{Text: r.ID, Note: r.At.String()},
		cellOf(slag), cellOf(cu, fmt.Sprintf("mean of %d pieces", n)), cellOf(lost),
		orCell(ore, "the field sheet has no weight of ore"), orCell(oreCu, "no ore of this stock is analysed", "mean of "+list(names)),
		orCell(share, "the copper charged is not known"), orCell(prills, "the field sheet has no prills")}}, nil
}
