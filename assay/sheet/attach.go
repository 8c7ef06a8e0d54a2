package sheet

import (
	"smeltbook/assay/source"
)

// repeatedMarkers takes a heading such as "U", which is uranium when it stands
// once, for an uncertainty where it is repeated right of several results.
func (t *tableReader) repeatedMarkers() {
	count := map[string]int{}
	for i, c := range t.cols {
		if i > 0 && t.cols[i-1].head.analyte != "" && t.cols[i-1].Header != c.Header {
			count[c.Header]++
		}
	}
	for i := range t.cols {
		c := &t.cols[i]
		if m, ok := markerOf(c.Header); ok && c.head.marker == nil && count[c.Header] > 1 {
			c.head.marker, c.head.analyte = &m, ""
		}
	}
}

// attach gives an uncertainty or limit column to its analyte: the one it
// names, else the one to its left.
func (t *tableReader) attach(i int) {
	c := &t.cols[i]
	c.marker = *c.head.marker
	c.Role = RoleUncertainty
	if c.marker.limit != "" {
		c.Role = RoleLimit
	}
	for j := i - 1; j >= 0; j-- {
		left := t.cols[j]
		if left.Role == RoleAnalyte && (c.head.analyte == "" || left.Analyte == c.head.analyte || left.head.analyte == c.head.analyte) {
			c.of = j
			break
		}
		if c.head.analyte == "" && left.head.marker == nil && left.Role != RoleEmpty {
			break
		}
	}
	for j := i + 1; c.of < 0 && c.head.analyte != "" && j < len(t.cols); j++ {
		if right := t.cols[j]; right.head.analyte == c.head.analyte && right.head.marker == nil {
			c.of = j
		}
	}
	if c.of < 0 {
		c.Role, c.Reason = RoleIgnored, "belongs to no result column"
		return
	}
	c.Analyte = t.cols[c.of].head.analyte
	if c.marker.limit != "" {
		t.cols[c.of].lim = i
	} else if t.cols[c.of].u < 0 {
		t.cols[c.of].u = i
	}
}

// reportHeadings tells what was peculiar about the headings that are used.
func (t *tableReader) reportHeadings() {
	for _, c := range t.cols {
		h := c.head
		if c.Role == RoleAnalyte || c.Role == RoleTotal {
			if h.repaired {
				t.tally.or(setting{"columns", c.Header, c.Analyte}).habit(source.Warning, "HEADER_REPAIRED", c.Ref, "headings with a zero for the letter O, an i for an l, small letters for capitals or a missing space were read as the analytes they resemble (%s); check them")
			}
			if h.lookalike {
				t.tally.or(setting{"columns", c.Header, c.Analyte}).habit(source.Warning, "LOOKALIKE_LETTERS", c.Ref, "headings typed with letters of another alphabet were read as the Latin ones they resemble (%s)")
			}
			if h.basis != "" {
				t.tally.habit(source.Warning, "BASIS", c.Ref, "the headings state a basis (%s), which is kept with the values; do not mix bases in one total")
			}
		}
		if h.oddSpace {
			t.tally.habit(source.Note, "SPACE_FOLDED", c.Ref, "non-breaking, thin or invisible spaces were read as plain ones (%s)")
		}
	}
}
