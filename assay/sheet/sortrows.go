package sheet

import (
	"slices"
	"strings"

	"smeltbook/assay/source"
)

// rowKind says what a row under the headings is.
type rowKind uint8

const (
	rowBlank rowKind = iota
	rowSkip          // unit row, repeated heading, the title of the next table
	rowData
	rowLimit
	rowStat
	rowMethod
	rowUncertain // uncertainties of the row above
	rowNote      // text without values
)

// sort decides what each row of the block is.
func (t *tableReader) sort(next *block) {
	end := t.b.end
	if next != nil {
		end = max(titleTop(t.v, *next), t.b.header+1)
		if above := next.header - 1; above > t.b.header && end > above && groupRow(t.v, above) {
			end = above
		}
	}
	t.kinds = make([]rowKind, t.b.end-t.b.header)
	lastData := 0
	for row := t.b.header + 1; row < end; row++ {
		k := t.kindOf(row)
		t.kinds[row-t.b.header] = k
		if k == rowData || k == rowLimit || k == rowStat {
			lastData = row
		}
	}
	for row := end; row < t.b.end; row++ {
		t.kinds[row-t.b.header] = rowSkip
	}
	for row := t.b.header + 1; row < end; row++ {
		if t.kinds[row-t.b.header] != rowNote {
			continue
		}
		if row < lastData && t.isEmptySample(row) {
			t.kinds[row-t.b.header] = rowData
			continue
		}
		t.note(row)
	}
}

// groupRow reports a row of group headings over the names of a table.
func groupRow(v view, row int) bool {
	filled := v.filled(row)
	if len(filled) < 2 || hasNumbers(v, row) {
		return false
	}
	for _, c := range filled {
		if _, merged := v.g.merged[gridKey(v, row, c)]; merged {
			return true
		}
	}
	return false
}

func (t *tableReader) kindOf(row int) rowKind {
	if t.b.repeated[row] || (len(t.subRow) > 0 && row == t.subRow[0]) {
		return rowSkip
	}
	filled := t.filledIn(row)
	if len(filled) == 0 {
		return rowBlank
	}
	values := 0
	for _, c := range t.cols {
		if c.Role == RoleAnalyte || c.Role == RoleTotal || c.Role == RoleUncertainty {
			cell := t.v.at(row, c.index)
			if !cell.empty() || cell.formula {
				values++
			}
		}
	}
	name := t.nameText(row)
	first := name
	if first == "" && len(filled) > 0 {
		first, _ = foldSpaces(t.v.at(row, filled[0]).text)
	}
	if row <= t.b.header+3 && t.unitsOnly(row) {
		if len(t.subRow) == 0 {
			t.subRow = []int{row}
		}
		return rowSkip
	}
	if values > 0 && slices.Contains(t.reading.Samples, first) {
		return rowData
	}
	if _, _, _, ok := limitRow(first); ok && values > 0 {
		return rowLimit
	}
	if values > 0 && t.uncertaintyRow(row, name, first) != nil {
		return rowUncertain
	}
	if (statistics(first) || certified(first)) && values > 0 {
		return rowStat
	}
	if values > 0 && methodWords[word(first)] || values > 0 && t.allMethods(row) {
		return rowMethod
	}
	if len(filled) == 1 && name == "" && t.name >= 0 && t.strayNumber(row, filled[0]) {
		return rowSkip
	}
	if values == 0 || (values == 1 && len(filled) == 1 && name == "" && t.longText(row, filled[0])) {
		return rowNote
	}
	return rowData
}

// strayNumber reports a lone number in a row without a name, after a blank row.
func (t *tableReader) strayNumber(row, c int) bool {
	cell := t.v.at(row, c)
	number := cell.kind == kindNumber || cell.kind == kindDate || (cell.kind == kindText && allNumberSigns(cell.text) && !isDash(cell.text))
	if !number || c == t.cols[t.name].index || !t.blankAbove(row) {
		return false
	}
	t.tally.habit(source.Warning, "STRAY_CELLS", t.v.ref(row, c), strayCells)
	return true
}

func (t *tableReader) blankAbove(row int) bool {
	return row > t.b.header+1 && t.v.part(row-1, row, t.b.c0, t.b.c1).blankRow(0)
}

func (t *tableReader) longText(row, c int) bool {
	cell := t.v.at(row, c)
	return cell.kind == kindText && parseToken(cell.text, t.v.g.style.marks).class == "error"
}

func (t *tableReader) allMethods(row int) bool {
	found := 0
	for _, c := range t.cols {
		cell := t.v.at(row, c.index)
		if c.Role != RoleAnalyte || cell.empty() {
			continue
		}
		if cell.kind != kindText || !isMethod(cell.text) {
			return false
		}
		found++
	}
	return found > 0
}

// isEmptySample tells a sample without results from a heading between rows: it
// has remarks of its own, or a name in one word with a number in it.
func (t *tableReader) isEmptySample(row int) bool {
	name := t.nameText(row)
	return name != "" && (len(t.filledIn(row)) > 1 || (!strings.Contains(name, " ") && strings.ContainsAny(name, "0123456789"))) && !strings.ContainsAny(name[:1], "*†‡§")
}

// note keeps the text of a row without values as a footnote.
func (t *tableReader) note(row int) {
	var parts []string
	for _, c := range t.filledIn(row) {
		s, _ := foldSpaces(t.v.at(row, c).text)
		parts = append(parts, s)
	}
	t.table.Footnotes = append(t.table.Footnotes, strings.Join(parts, " "))
	t.tally.habit(source.Note, "FOOTNOTE", t.v.ref(row, t.filledIn(row)[0]), footnoteKept)
}

// nameText returns the name of a row, merged names carried down.
func (t *tableReader) nameText(row int) string {
	if t.name < 0 {
		return ""
	}
	s, _ := foldSpaces(t.v.shown(row, t.cols[t.name].index).text)
	return s
}
