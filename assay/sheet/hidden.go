package sheet

import (
	"strings"

	"smeltbook/assay/source"
)

// finish adds merged ranges and hidden parts, and reports what is left out.
func (r *reader) finish(g *grid, s *sheetScan, extent span, strays []string) {
	for _, m := range s.merges {
		m.r1, m.c1 = min(m.r1, extent.r1), min(m.c1, extent.c1)
		g.merge(m)
	}
	var hiddenRows, hiddenCols []string
	if r.opt.reading(g.sheet).Hidden {
		s = &sheetScan{}
	}
	for _, row := range s.rows {
		if row.hidden && row.index <= extent.r1 {
			g.hiddenRows[row.index] = true
			hiddenRows = append(hiddenRows, refOf(row.index, int(row.cells[0].col)))
		}
	}
	for _, h := range s.hidden {
		for c := h[0]; c <= min(h[1], extent.c1); c++ {
			g.hiddenCols[c] = true
		}
	}
	for _, c := range sortedKeys(g.hiddenCols) {
		for row := range g.rows {
			if !g.at(row, c).empty() {
				hiddenCols = append(hiddenCols, refOf(row, c))
				break
			}
		}
	}
	if len(hiddenRows) > 0 {
		r.note(source.Warning, "HIDDEN_ROWS", r.cellAt(g.sheet, hiddenRows[0]), "%s hidden and not read (%s); unhide what counts", plural(len(hiddenRows), "row is", "rows are"), refList(hiddenRows))
	}
	if len(hiddenCols) > 0 {
		r.note(source.Warning, "HIDDEN_COLUMNS", r.cellAt(g.sheet, hiddenCols[0]), "%s hidden and not read (%s); unhide what counts", plural(len(hiddenCols), "column is", "columns are"), refList(hiddenCols))
	}
	if len(strays) > 0 {
		r.note(source.Warning, "STRAY_CELLS", r.cellAt(g.sheet, strays[0]), "cells far outside the table were left out (%s); delete them, or move them to the table if they belong to it", refList(strays))
	}
	if strings.TrimSpace(g.sheet) == "" {
		r.note(source.Note, "SHEET_NAME", r.cellAt(g.sheet, ""), "the sheet has a blank name; give it one")
	}
}
