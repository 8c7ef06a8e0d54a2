package sheet

import (
	"math"

	"smeltbook/assay/source"
)

// headerRow is a row that names two or more analytes.
type headerRow struct{ row, first, last, analyte int }

// joinDouble joins two rows of headings right below each other, where the
// upper one names some analytes and groups the others. upper tells for a
// heading row that there is another above it.
func joinDouble(rows []headerRow) (out []headerRow, upper map[int]bool) {
	upper = map[int]bool{}
	for i, h := range rows {
		if i+1 < len(rows) && rows[i+1].row == h.row+1 {
			upper[rows[i+1].row] = true
			continue
		}
		out = append(out, h)
	}
	return out, upper
}

// headingCache parses each spelling once.
type headingCache struct {
	seen    map[string]heading
	reading Reading
}

func newHeadingCache(reading Reading) *headingCache {
	return &headingCache{seen: map[string]heading{}, reading: reading}
}

func (c *headingCache) parse(text string) heading {
	if h, ok := c.seen[text]; ok {
		return h
	}
	h := c.meant(parseHeading(text), text, "")
	if len(c.seen) < 10_000 {
		c.seen[text] = h
	}
	return h
}

// meant applies what the caller says of a heading.
func (c *headingCache) meant(h heading, text, ref string) heading {
	meaning, ok := c.reading.stated(text, ref)
	if !ok {
		return h
	}
	h = heading{text: h.text, unit: h.unit, method: h.method, basis: h.basis, footnote: h.footnote, stated: meaning, isStated: true}
	switch meaning {
	case meansUncertainty:
		h.marker = &marker{k: math.NaN(), note: noteUnknownK}
	case meansLimit:
		h.marker = &marker{limit: "LOD"}
	default:
		if !isMeaning(meaning) {
			h.analyte = meaning
		}
	}
	return h
}

// headerRows returns the rows that name at least two different analytes, and
// under which a value stands.
func (r *reader) headerRows(v view, parse *headingCache, reading Reading) []headerRow {
	var out []headerRow
	for row := range v.rows {
		said := reading.HeaderRow > 0 && v.rows[row] == reading.HeaderRow-1
		if reading.HeaderRow > 0 && !said && len(out) == 0 {
			continue
		}
		filled := v.filled(row)
		if !said && (len(filled) < minAnalytes || !mayBeHeading(v, row, filled)) {
			continue
		}
		found := map[string]bool{}
		var at []int
		for _, c := range filled {
			cell := v.at(row, c)
			if cell.kind != kindText {
				continue
			}
			h := parse.parse(cell.text)
			if h.analyte == "" || h.marker != nil || !countsAsAnalyte(h.analyte) || (h.words && h.unit == nil && !oxideWord(h.analyte) && !said) {
				continue
			}
			found[h.analyte] = true
			at = append(at, c)
		}
		if said && len(found) > 0 {
			out = append(out, headerRow{row, filled[0], filled[len(filled)-1], at[0]})
			continue
		}
		if v.turned && len(at) >= 2*len(found) && len(found) >= minAnalytes {
			r.note(source.Warning, "LONG_TABLE", r.cellAt(v.g.sheet, v.ref(row, at[0])), "every row seems to hold one result of one sample, which is not read as an assay table; rearrange it to one row for each sample and one column for each analyte")
			continue
		}
		if len(found) >= minAnalytes && valueBelow(v, row, at) {
			out = append(out, headerRow{row, filled[0], filled[len(filled)-1], at[0]})
		}
	}
	return out
}

// oxideWord reports analytes whose names in words have no other use in a
// field sheet. Lime, soda, copper or charcoal may also be weighed.
func oxideWord(id string) bool {
	switch id {
	case "SiO2", "Al2O3", "TiO2", "LOI", "GOI":
		return true
	}
	return false
}

// mayBeHeading sorts out rows that are mostly numbers, at little cost.
func mayBeHeading(v view, row int, filled []int) bool {
	numbers := 0
	for _, c := range filled {
		cell := v.at(row, c)
		if cell.kind == kindNumber || cell.kind == kindDate || (cell.kind == kindText && allNumberSigns(cell.text)) {
			numbers++
		}
	}
	return len(filled)-numbers >= minAnalytes && numbers*2 <= len(filled)
}

func allNumberSigns(s string) bool {
	for i := 0; i < len(s); i++ {
		if c := s[i]; (c < '0' || c > '9') && c != '.' && c != ',' && c != ' ' && c != '-' && c != '<' {
			return false
		}
	}
	return true
}

// valueBelow reports whether one of the columns holds a number or a censored
// value within the next rows.
func valueBelow(v view, row int, columns []int) bool {
	const look = 12
	for r := row + 1; r < len(v.rows) && r <= row+look; r++ {
		for _, c := range columns {
			cell := v.at(r, c)
			switch cell.kind {
			case kindNumber, kindDate, kindError:
				return true
			case kindText:
				if _, ok := numberLike(cell.text); ok {
					return true
				}
				if class := parseToken(cell.text, marks{'.'}).class; class.Censored() || class == "na" {
					return true
				}
			case kindEmpty:
				if cell.formula {
					return true
				}
			}
		}
	}
	return false
}
