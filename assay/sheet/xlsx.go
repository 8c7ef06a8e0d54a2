package sheet

import "smeltbook/assay/source"

// workbook reads an .xlsx file. Every part is read strictly to its end, and
// any damage refuses the file: a row reader alone would give the rows before
// the damage, and no error.
func (r *reader) workbook(data []byte) ([]*grid, *refusal) {
	z, bad := openArchive(data, r.limits)
	if bad != nil {
		return nil, bad
	}
	a, bad := newArchive(z, r.limits)
	if bad != nil {
		return nil, bad
	}
	plan, bad := a.plan()
	if bad != nil {
		return nil, bad
	}
	r.book.Output = a.output
	var scans []*sheetScan
	left := scanLimits{r.limits.Cells, r.limits.textBytes()}
	for _, p := range plan.sheets {
		if r.ctx.Err() != nil {
			return nil, nil
		}
		s, bad := a.scan(p, plan, left)
		if bad != nil {
			return nil, bad
		}
		left.cells -= s.cells
		left.textBytes -= s.textBytes
		scans = append(scans, s)
	}
	if bad := r.secondOpinion(data, z, plan, scans); bad != nil {
		return nil, bad
	}
	var grids []*grid
	for i, p := range plan.sheets {
		r.book.Sheets = append(r.book.Sheets, p.name)
		if r.opt.reading(p.name).Skip {
			continue
		}
		if p.hidden && !r.opt.reading(p.name).Hidden {
			if scans[i].cells > 0 {
				r.note(source.Warning, "HIDDEN_SHEET", r.cellAt(p.name, ""), "this sheet is hidden and was not read; unhide it if its values count")
			}
			continue
		}
		g, bad := r.grid(p, scans[i])
		if bad != nil {
			return nil, bad
		}
		remarks, bad := a.remarks(p)
		if bad != nil {
			return nil, bad
		}
		r.tellRemarks(p.name, remarks)
		grids = append(grids, g)
	}
	if len(grids) == 0 {
		r.note(source.Warning, "NO_SHEET", source.Cell{File: r.book.File}, "the workbook has no visible sheet with cells; unhide the sheet that holds the results")
	}
	return grids, nil
}

// grid takes the rows of one sheet into a grid, without stray cells.
func (r *reader) grid(p sheetPart, s *sheetScan) (*grid, *refusal) {
	extent, strays := s.extent()
	if bad := r.checkExtent(p.name, extent); bad != nil {
		return nil, bad
	}
	g := &grid{sheet: p.name, hiddenRows: map[int]bool{}, hiddenCols: map[int]bool{}}
	for _, row := range s.rows {
		if row.index > extent.r1 {
			break
		}
		for len(g.rows) < row.index {
			g.add(nil)
		}
		n := len(row.cells)
		for n > 0 && int(row.cells[n-1].col) > extent.c1 {
			n--
		}
		g.add(row.cells[:n:n])
	}
	r.finish(g, s, extent, strays)
	return g, nil
}

// show applies the number format of a cell: what is shown as a percentage or
// as a date is more than a number.
func (w *workbookParts) show(c *cell, style int) {
	if c.text == "" {
		c.kind = kindEmpty
		return
	}
	if c.kind != kindNumber || style >= len(w.formats) {
		return
	}
	switch w.formats[style] {
	case formatPercent:
		c.percent = true
	case formatDate:
		if x, ok := parseStored(c.text); ok {
			c.kind, c.text = kindDate, isoDate(x, w.date1904)
		}
	}
}

func (r *reader) checkExtent(sheet string, e span) *refusal {
	tooBig := func(what string, n, limit int) *refusal {
		bad := refuse(codeTooLarge, "the sheet has %d %s, more than the limit of %d; nothing was read; keep the assay tables in a sheet of their own, or raise `%s` under `limits:` in the notebook", n, what, limit, what)
		bad.sheet = sheet
		return bad
	}
	switch {
	case e.r1 >= r.limits.Rows:
		return tooBig("rows", e.r1+1, r.limits.Rows)
	case e.c1 >= r.limits.Columns:
		return tooBig("columns", e.c1+1, r.limits.Columns)
	}
	return nil
}
