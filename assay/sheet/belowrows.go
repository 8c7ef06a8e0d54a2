package sheet

import (
	"strings"

	"smeltbook/assay/source"
)

// belowRow is a row of uncertainties below the results they belong to.
type belowRow struct {
	row    int
	marker marker
}

// uncertaintyRow recognises a row that holds the uncertainties of the row above
// it: named with an uncertainty word alone ("±"), or with the name above and
// such a word ("KR-1 ±"), or with such a word where rows state their unit.
func (t *tableReader) uncertaintyRow(row int, name, first string) *marker {
	if row < t.b.header+2 {
		return nil
	}
	if i := t.unitColumn(); i >= 0 {
		if m, ok := markerOf(t.v.at(row, t.cols[i].index).text); ok && m.limit == "" {
			return &m
		}
	}
	rest := first
	if above := t.nameText(row - 1); above != "" && name != above {
		if cut, ok := strings.CutPrefix(name, above+" "); ok {
			rest = cut
		}
	}
	if m, ok := markerOf(rest); ok && m.limit == "" && (rest != first || len(rest) > 1 && !statistics(rest)) {
		return &m
	}
	return nil
}

// attachBelow gives a row of uncertainties to the row above it, if that is a
// sample or a control.
func (t *tableReader) attachBelow(row int) bool {
	n := len(t.table.heads)
	if n == 0 || int(t.table.heads[n-1].row) != row-1 {
		return false
	}
	m := t.uncertaintyRow(row, t.nameText(row), t.firstText(row))
	if m == nil {
		return false
	}
	if t.below == nil {
		t.below = map[int]belowRow{}
	}
	t.below[row-1] = belowRow{row, *m}
	t.tally.or(setting{"samples", "", t.firstText(row)}).habit(source.Note, "UNCERTAINTY_ROW", t.v.ref(row, t.b.c0), "rows were taken for the uncertainties of the row before them (%s)")
	return true
}
