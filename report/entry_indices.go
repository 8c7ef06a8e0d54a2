package report

import (
	"context"
	"fmt"

	"smeltbook/assay"
	"smeltbook/report/figure"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
)

// indicesEntry draws one index on facing pages and lists all of them.
func indicesEntry(_ context.Context, b *builder, e *notebook.Entry, out *page.Entry) error {
	o := struct {
		Groups []string
		Show   string   // the index drawn
		List   []string // the indices of the table
	}{Show: "bachmann_index", List: []string{"cao_sio2", "cao_mgo_sio2", "cao_mgo_sio2_al2o3", "feo_sio2",
		"bachmann_index", "silicate_degree", "nbo_t", "optical_basicity_corrected"}}
	if !b.options(e, &o) {
		return nil
	}
	groups, ok := b.facing(e, o.Groups)
	if !ok {
		return nil
	}
	v, err := b.variable(o.Show)
	if err != nil {
		b.fail(e, "UNKNOWN_VARIABLE", "%v", err)
		return nil
	}
	for _, key := range o.List {
		if _, err := b.variable(key); err != nil {
			b.fail(e, "UNKNOWN_VARIABLE", "%v", err)
			return nil
		}
	}
	body := facingFigure(v, groups, func(s *assay.Sample) []figure.Detail {
		return []figure.Detail{{Label: "from", Value: whence(s)}}
	})
	fig, err := b.figure(figure.Figure{
		Caption: fmt.Sprintf("%s on the melt basis: %s. Bars are one standard uncertainty from the analysis; an index is a definition and has no model error.", capital(formulaText(v.Label)), whoIsShown(body, groups)),
		Alt:     fmt.Sprintf("%s of %s on the left page and of %s on the right, with error bars.", capital(formulaText(v.Label)), groups[0].Label(), groups[1].Label()),
		Groups:  groups.figureGroups(), Body: body,
	}, page.Facing)
	if err != nil {
		return err
	}
	out.Parts = append(out.Parts, fig, b.indexTable(groups, o.List))
	out.Margin = append(b.margin(groups[:]), "Melt basis: copper as Cu₂O, sulphur and volatiles left out, sum 100")
	return nil
}

func (b *builder) indexTable(groups pair, keys []string) *page.Table {
	t := &page.Table{
		Caption:  "Indices piece by piece, ± one standard uncertainty from the analysis.",
		Columns:  []page.Column{{Head: "sample"}},
		Sortable: true,
		Notes:    []string{"By weight, on the melt basis. All indices, the molar ones too, are written by “smeltbook table”."},
	}
	for _, key := range keys {
		v, err := b.variable(key)
		if err == nil {
			head, sub := columnHead(v.Label)
			t.Columns = append(t.Columns, page.Column{Head: head, Sub: sub, Numeric: true})
		}
	}
	for i, g := range groups {
		for _, s := range g.Samples {
			est, why, ok := b.study.Estimate(s.ID)
			row := page.Row{Sample: s.ID, Side: sideOf(i), Cells: []page.Cell{sampleCell(s)}}
			if !ok {
				t.Notes = append(t.Notes, s.ID+" has no indices: "+why+".")
				continue
			}
			for _, key := range keys {
				v, ok := est.Index(key)
				if !ok {
					row.Cells = append(row.Cells, page.Cell{Text: "–", Class: page.Absent})
					continue
				}
				q := v.Quantity
				q.From = nil // all of the sample's cells; the composition table names them
				row.Cells = append(row.Cells, cellOf(q, v.Source))
			}
			t.Rows = append(t.Rows, row)
		}
	}
	return b.table(t)
}
