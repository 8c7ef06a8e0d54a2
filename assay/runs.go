package assay

import (
	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
)

// Run is one firing as the field sheet records it.
type Run struct {
	ID     string
	At     source.Cell
	Fields []RunField // in the order of the sheet
}

// RunField is one thing recorded of a firing.
type RunField struct {
	Name string
	Unit string
	Cell sheet.RecordCell
}

// readRunSheets takes every field sheet that has a run but no kind and one row
// a run as the record of the firings.
func (c *Campaign) readRunSheets() {
	for _, r := range c.Records {
		if !r.Has(runFields...) || r.Has(kindFields...) || r.Has(idFields...) {
			continue
		}
		for _, rec := range r.Rows {
			id, at := r.Text(rec, runFields...)
			if id == "" {
				continue
			}
			run := Run{ID: id, At: at}
			for i, f := range r.Fields {
				if i < len(rec.Cells) {
					run.Fields = append(run.Fields, RunField{Name: f.Name, Unit: f.Unit, Cell: rec.Cells[i]})
				}
			}
			c.Runs = append(c.Runs, run)
		}
	}
}
