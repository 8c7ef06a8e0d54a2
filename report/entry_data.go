package report

import (
	"context"
	"fmt"
	"strings"

	"smeltbook/assay"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
)

// dataEntry lists the firings and every cell behind the report.
func dataEntry(_ context.Context, b *builder, e *notebook.Entry, out *page.Entry) error {
	var o struct{}
	if !b.options(e, &o) {
		return nil
	}
	if t := b.runsTable(); t != nil {
		out.Parts = append(out.Parts, t)
	}
	out.Parts = append(out.Parts, b.samplesTable())
	sheets, rest := sheetsOf(b.study.Campaign.Samples)
	for _, s := range sheets {
		for _, t := range s.tables() {
			out.Parts = append(out.Parts, b.table(t))
		}
	}
	if len(rest) > 0 {
		out.Parts = append(out.Parts, b.table(restTable(rest)))
	}
	for _, f := range b.study.Campaign.Files {
		out.Margin = append(out.Margin, f.Name)
	}
	return nil
}

// runsTable turns the record of the firings on its side: one column a firing.
func (b *builder) runsTable() *page.Table {
	runs := b.study.Campaign.Runs
	if len(runs) == 0 {
		return nil
	}
	t := &page.Table{Caption: "The firings as the field sheet records them.", Columns: []page.Column{{Head: "recorded"}}}
	for _, r := range runs {
		t.Columns = append(t.Columns, page.Column{Head: r.ID})
	}
	var value assay.RunField // of the row above
	for i, f := range runs[0].Fields {
		if strings.EqualFold(f.Cell.Text, runs[0].ID) {
			continue
		}
		if n := len(t.Rows); n > 0 && f.IsUncertaintyOf(value) {
			for k, r := range runs {
				addUncertainty(&t.Rows[n-1].Cells[k+1], r, i)
			}
			continue
		}
		name := f.Name
		if f.Unit != "" {
			name += " (" + f.Unit + ")"
		}
		row := page.Row{Cells: []page.Cell{textCell(name)}}
		filled := false
		for _, r := range runs {
			c := page.Cell{Text: "–", Class: page.Absent}
			if i < len(r.Fields) && r.Fields[i].Cell.Text != "" {
				c = page.Cell{Text: r.Fields[i].Cell.Text, Note: r.Fields[i].Cell.At.String()}
				filled = true
			}
			row.Cells = append(row.Cells, c)
		}
		value = assay.RunField{}
		if filled {
			t.Rows = append(t.Rows, row)
			value = f
		}
	}
	return b.table(t)
}

// addUncertainty sets field i of a firing below the value it belongs to; a
// value without one stays as it is.
func addUncertainty(c *page.Cell, r assay.Run, i int) {
	if i >= len(r.Fields) || r.Fields[i].Cell.Text == "" {
		return
	}
	u := r.Fields[i].Cell
	c.Sub = "± " + strings.TrimSpace(strings.TrimPrefix(u.Text, "±"))
	if c.Note != "" {
		c.Note += "; "
	}
	c.Note += "± from " + u.At.String()
}

func (b *builder) samplesTable() *page.Table {
	t := &page.Table{
		Caption: "The samples.",
		Columns: []page.Column{{Head: "sample", Sub: "firing"}, {Head: "kind", Sub: "origin"}, {Head: "site", Sub: "context"},
			{Head: "analyses", Numeric: true}, {Head: "sum", Unit: "wt%", Numeric: true}, {Head: "note"}},
		Sortable: true, Filterable: true, Long: true,
	}
	for _, s := range b.study.Campaign.Samples {
		sum := page.Cell{Text: "–", Class: page.Absent, Note: s.Incomplete}
		if s.Incomplete == "" {
			v, err := b.variable("total")
			if err == nil {
				sum = cellOf(v.Of(s))
			}
		}
		t.Rows = append(t.Rows, page.Row{Sample: s.ID, Side: sideOfOrigin(s), Cells: []page.Cell{
			{Text: s.ID, Sub: s.Run, Note: s.At.String()}, {Text: s.Kind, Sub: s.Origin}, {Text: s.Site, Sub: s.Context},
			textCell(fmt.Sprint(len(s.Assays))), sum, textCell(b.notes[s])}})
	}
	return b.table(t)
}

func sideOfOrigin(s *assay.Sample) page.Side {
	switch s.Origin {
	case assay.Experimental:
		return page.Fired
	case assay.Excavated:
		return page.Dug
	}
	return page.NoSide
}
