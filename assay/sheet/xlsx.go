package sheet

import (
	"bytes"

	"github.com/xuri/excelize/v2"

	"smeltbook/assay/source"
)

// workbook reads an .xlsx file. Every part is first passed over strictly to
// its end; only then are the texts of the cells read, and each is compared
// with what the first pass saw. A row reader alone would give the rows before
// a damage, and no error.
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
	var scans []*sheetScan
	left := r.limits.Cells
	for _, p := range plan.sheets {
		if r.ctx.Err() != nil {
			return nil, nil
		}
		s, bad := a.scan(p, plan.sharedTexts, left)
		if bad != nil {
			return nil, bad
		}
		left -= s.cells
		scans = append(scans, s)
	}
	f, err := excelize.OpenReader(bytes.NewReader(data), excelize.Options{
		RawCellValue:      true,
		UnzipSizeLimit:    r.limits.UnpackedBytes,
		UnzipXMLSizeLimit: r.limits.UnpackedBytes,
	})
	if err != nil {
		return nil, refuse(codeMalformed, "the workbook cannot be opened (%s); nothing was read; save it again as .xlsx", clip(err.Error()))
	}
	defer f.Close()
	var grids []*grid
	for i, p := range plan.sheets {
		if r.opt.reading(p.name).Skip {
			continue
		}
		if p.hidden {
			if scans[i].cells > 0 {
				r.note(source.Warning, "HIDDEN_SHEET", r.cellAt(p.name, ""), "this sheet is hidden and was not read; unhide it if its values count")
			}
			continue
		}
		g, bad := r.fill(f, p, scans[i], plan)
		if bad != nil {
			return nil, bad
		}
		if g == nil {
			return nil, nil
		}
		grids = append(grids, g)
	}
	if len(grids) == 0 {
		r.note(source.Warning, "NO_SHEET", source.Cell{File: r.book.File}, "the workbook has no visible sheet with cells; unhide the sheet that holds the results")
	}
	return grids, nil
}

// damaged refuses a sheet whose two readings disagree.
func damaged(sheet, ref string) *refusal {
	bad := refuse(codeMalformed, "the sheet is damaged (two ways of reading it do not agree at this cell); nothing was read; save the workbook again")
	bad.sheet, bad.ref = sheet, ref
	return bad
}

// fill reads the texts of one sheet into a grid. It returns nil when the
// context was cancelled.
func (r *reader) fill(f *excelize.File, p sheetPart, s *sheetScan, plan *workbookParts) (*grid, *refusal) {
	extent, strays := s.extent()
	if bad := r.checkExtent(p.name, extent, s); bad != nil {
		return nil, bad
	}
	g := &grid{sheet: p.name, rows: make([][]cell, extent.r1+1), hiddenRows: map[int]bool{}, hiddenCols: map[int]bool{}}
	rows, err := f.Rows(p.name)
	if err != nil {
		return nil, refuse(codeMalformed, "the sheet %q cannot be read (%s); nothing was read; save the workbook again", clip(p.name), clip(err.Error()))
	}
	defer rows.Close()
	at := -1
	for i, meta := range s.rows {
		if i%1024 == 0 && r.ctx.Err() != nil {
			return nil, nil
		}
		if meta.index > extent.r1 {
			break
		}
		if len(meta.cells) == 0 {
			continue
		}
		for at < meta.index {
			if !rows.Next() {
				return nil, damaged(p.name, refOf(meta.index, 0))
			}
			if at++; at < meta.index {
				if texts, err := rows.Columns(); err != nil || !allEmpty(texts) {
					return nil, damaged(p.name, refOf(at, 0))
				}
			}
		}
		texts, err := rows.Columns()
		if err != nil {
			return nil, damaged(p.name, refOf(meta.index, 0))
		}
		row, bad := fillRow(meta, texts, extent.c1, plan)
		if bad >= 0 {
			return nil, damaged(p.name, refOf(meta.index, bad))
		}
		g.rows[meta.index] = row
	}
	r.finish(g, s, extent, strays)
	return g, nil
}

func allEmpty(texts []string) bool {
	for _, t := range texts {
		if t != "" {
			return false
		}
	}
	return true
}

// fillRow joins types and texts; bad is the column at which they disagree, or
// -1.
func fillRow(meta rowMeta, texts []string, lastCol int, plan *workbookParts) (row []cell, bad int) {
	width := 0
	for _, m := range meta.cells {
		if int(m.col) <= lastCol {
			width = int(m.col) + 1
		}
	}
	row = make([]cell, width)
	next := 0
	for _, m := range meta.cells {
		col := int(m.col)
		for ; next < col && next < len(texts); next++ {
			if texts[next] != "" {
				return nil, next
			}
		}
		next = col + 1
		text := ""
		if col < len(texts) {
			text = texts[col]
		}
		if text == "" && m.value && !m.text {
			return nil, col
		}
		if col >= width {
			continue
		}
		row[col] = makeCell(m, text, plan)
	}
	return row, -1
}

func makeCell(m cellMeta, text string, plan *workbookParts) cell {
	c := cell{text: text, kind: m.kind, formula: m.formula}
	if text == "" && !m.formula {
		return cell{}
	}
	if text == "" {
		c.kind = kindEmpty
		return c
	}
	if m.kind != kindNumber || int(m.style) >= len(plan.formats) {
		return c
	}
	switch plan.formats[m.style] {
	case formatPercent:
		c.percent = true
	case formatDate:
		if x, ok := parseStored(text); ok {
			c.kind, c.text = kindDate, isoDate(x, plan.date1904)
		}
	}
	return c
}

func (r *reader) checkExtent(sheet string, e span, s *sheetScan) *refusal {
	tooBig := func(what string, n, limit int) *refusal {
		bad := refuse(codeTooLarge, "the sheet has %d %s, more than the limit of %d; nothing was read; keep the assay tables in a sheet of their own", n, what, limit)
		bad.sheet = sheet
		return bad
	}
	switch {
	case e.r1 >= r.limits.Rows:
		return tooBig("rows", e.r1+1, r.limits.Rows)
	case e.c1 >= r.limits.Columns:
		return tooBig("columns", e.c1+1, r.limits.Columns)
	}
	area := 0
	for _, row := range s.rows {
		if n := len(row.cells); n > 0 {
			area += int(row.cells[n-1].col) + 1
		}
	}
	if most := 8 * r.limits.Cells; area > most {
		return tooBig("cells between its first and last", area, most)
	}
	return nil
}
