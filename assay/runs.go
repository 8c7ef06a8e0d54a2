package assay

import (
	"math"

	"smeltbook/assay/quantity"
	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
)

// Run is one firing as the field sheets record it.
type Run struct {
	ID     string
	At     source.Cell
	Fields []RunField // in the order of the sheets; of all runs the same
}

// RunField is one thing recorded of a firing.
type RunField struct {
	Name string
	Unit string
	Cell sheet.RecordCell
}

// readRunSheets takes every field sheet that has a run but no kind and one row
// a run as the record of the firings. What several sheets say of one firing is
// joined by its id; a sheet with many rows a run is a log and no record.
func (c *Campaign) readRunSheets() {
	for i := range c.Records {
		r := &c.Records[i]
		if !r.Has(runFields...) || r.Has(kindFields...) || r.Has(idFields...) || !onePerRun(r) {
			continue
		}
		before := 0
		if len(c.Runs) > 0 {
			before = len(c.Runs[0].Fields)
		}
		own := r.Index(runFields...)
		for _, rec := range r.Rows {
			id, at := r.Text(rec, runFields...)
			if id == "" {
				continue
			}
			run := c.run(id)
			if run == nil {
				c.Runs = append(c.Runs, Run{ID: id, At: at, Fields: make([]RunField, before)})
				run = &c.Runs[len(c.Runs)-1]
				run.blank(c.Runs[0].Fields[:before])
			}
			for i, f := range r.Fields {
				if i < len(rec.Cells) && (i != own || before == 0) {
					run.Fields = append(run.Fields, RunField{Name: f.Name, Unit: f.Unit, Cell: rec.Cells[i]})
				}
			}
		}
		c.evenOut()
	}
}

// onePerRun reports whether no run has two rows.
func onePerRun(r *sheet.Records) bool {
	seen := map[string]bool{}
	for _, rec := range r.Rows {
		id, _ := r.Text(rec, runFields...)
		if id != "" && seen[sampleKey(id)] {
			return false
		}
		seen[sampleKey(id)] = true
	}
	return true
}

// Run returns the firing with the given id, letter case and spaces aside.
func (c *Campaign) Run(id string) (Run, bool) {
	if r := c.run(id); r != nil && id != "" {
		return *r, true
	}
	return Run{}, false
}

func (c *Campaign) run(id string) *Run {
	for i := range c.Runs {
		if sampleKey(c.Runs[i].ID) == sampleKey(id) {
			return &c.Runs[i]
		}
	}
	return nil
}

// evenOut gives every run the fields of the run that has most.
func (c *Campaign) evenOut() {
	var longest []RunField
	for _, r := range c.Runs {
		if len(r.Fields) > len(longest) {
			longest = r.Fields
		}
	}
	for i := range c.Runs {
		r := &c.Runs[i]
		have := len(r.Fields)
		r.Fields = append(r.Fields, make([]RunField, len(longest)-have)...)
		(&Run{Fields: r.Fields[have:]}).blank(longest[have:])
	}
}

// blank heads the fields of a run without entries as another run's.
func (r *Run) blank(like []RunField) {
	for i, f := range like {
		r.Fields[i] = RunField{Name: f.Name, Unit: f.Unit,
			Cell: sheet.RecordCell{Value: math.NaN(), Limit: math.NaN(), Class: quantity.Missing}}
	}
}
