package sheet

import (
	"math"
	"strings"

	"smeltbook/assay/chem"
	"smeltbook/assay/source"
)

// Totals outside these bounds deserve a look; common practice for full
// analyses with loss on ignition.
const (
	lowTotal  = 98.5
	highTotal = 101.5
)

// check compares the numbers of one row with each other, and counts for
// doubtfulUnits.
func (t *tableReader) check(row *Row) {
	if row.Role == RowSample {
		t.ironForms(*row)
		t.totals(*row)
	}
	for i := range t.cols {
		c := &t.cols[i]
		if c.Role != RoleAnalyte || !row.Values[c.order].Known() {
			continue
		}
		c.known++
		switch x := row.Values[c.order].Value; {
		case x > 100.5:
			c.over++
		case x < 1e-4:
			c.small++
		}
	}
}

// totals compares the printed total with the sum of the parts, with and
// without the loss on ignition and what is reported as traces, because
// laboratories do either.
func (t *tableReader) totals(row Row) {
	total := row.ReportedTotal
	if total == nil || !total.Known() {
		return
	}
	ref := total.From[0].Ref
	if total.Value < lowTotal || total.Value > highTotal {
		t.tally.habit(source.Note, "TOTAL_OUT_OF_RANGE", ref, "printed totals lie outside 98.5 to 101.5 wt%% (%s); look for what is missing or counted twice")
	}
	var parts chem.Composition
	var traces []string
	for _, v := range row.Values {
		if _, twice := parts.Get(v.Analyte); twice {
			continue
		}
		parts.Parts = append(parts.Parts, chem.Part{ID: v.Analyte, Quantity: v.Quantity})
		if v.Unit == "ppm" || v.Unit == "ppb" {
			traces = append(traces, v.Analyte)
		}
	}
	tolerance := t.rounding(row)
	noTraces := parts.Without(traces...)
	for _, c := range []chem.Composition{parts, noTraces, parts.Without("LOI"), noTraces.Without("LOI")} {
		s := c.Total()
		if total.Value >= s.Measured-tolerance && total.Value <= s.WithLimits+tolerance {
			return
		}
	}
	t.tally.each(source.Warning, "TOTAL_MISMATCH", ref, "sample %q: the printed total is %s, but the parts add up to %.2f wt%%; look for a wrong or missing result", clip(row.Name), strings.TrimSpace(total.Raw), parts.Total().Measured)
}

// rounding is by how much a printed total and the sum of its parts may differ
// because all of them are rounded: two standard deviations of the parts, half of
// the last place of the total, and a little for what the laboratory rounded on
// the way.
func (t *tableReader) rounding(row Row) float64 {
	const onTheWay = 0.015
	sum, total := 0.0, 0.0
	for i := range t.cols {
		c := &t.cols[i]
		half := 0.05
		if c.finePlaces {
			half = 0.005
		}
		switch {
		case c.Role == RoleTotal:
			total = max(total, half)
		case c.Role == RoleAnalyte:
			if v := row.Values[c.order]; v.Known() && v.Unit != "ppm" && v.Unit != "ppb" {
				sum += half * half / 3
			}
		}
	}
	return 2*math.Sqrt(sum) + total + onTheWay
}

// doubtfulUnits warns of columns whose numbers do not look like their unit:
// more than 100 %, or nothing but fractions of a ppm.
func (t *tableReader) doubtfulUnits() {
	for _, c := range t.cols {
		if c.Role != RoleAnalyte || c.unit == nil {
			continue
		}
		switch {
		case c.over > 0:
			t.tally.or(setting{"units", c.Header, otherUnit(*c.unit)}).each(source.Warning, "UNIT_DOUBTFUL", c.Ref, "the column %q is read in %s, but values come to more than 100 wt%%; check the unit", clip(c.Header), c.unit.name)
		case c.known >= 2 && c.small == c.known && c.unit.name == "ppm":
			t.tally.or(setting{"units", c.Header, otherUnit(*c.unit)}).each(source.Warning, "UNIT_DOUBTFUL", c.Ref, "the column %q is read in ppm, but all its values are below 1; check whether percent is meant", clip(c.Header))
		}
	}
}
