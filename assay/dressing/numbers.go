package dressing

import (
	"math"
	"strings"

	"smeltbook/assay/quantity"
	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
)

// Factors to kg, g and mm.
var (
	toKilogram   = map[string]float64{"kg": 1, "g": 1e-3, "t": 1e3}
	toGram       = map[string]float64{"kg": 1e3, "g": 1, "mg": 1e-3}
	toMillimetre = map[string]float64{"mm": 1, "cm": 10, "µm": 1e-3, "um": 1e-3, "m": 1e3}
)

// quantities reads mass, grades, sample mass and top size of a row.
func (r *reader) quantities(t *sheet.Records, rec sheet.Record, s *Stream, components []component) {
	s.Mass = r.scaled(t, rec, toKilogram, "kg", true, massFields...)
	if s.Mass.Known() {
		r.withU(t, rec, &s.Mass, t.Index(massFields...), toKilogram, AssumedMass, &r.noMassU)
	}
	for _, c := range components {
		q := t.Number(rec, t.Fields[c.field].Name)
		switch {
		case q.Class == quantity.Unusable:
			r.fail("DRESSING_NUMBER", q.From[0], "the grade of %s is %s; write a number, or leave the cell empty where nothing was assayed", c.id, q.UNote)
		case q.Known() && (q.Value < 0 || q.Value > 100):
			r.fail("DRESSING_NUMBER", q.From[0], "a grade of %g wt%% %s is impossible; it lies between 0 and 100", q.Value, c.id)
		}
		q.Unit = "wt%"
		if q.Known() {
			r.withU(t, rec, &q, c.field, map[string]float64{strings.ToLower(t.Fields[c.field].Unit): 1}, AssumedGrade, &r.noGradeU)
		}
		s.Grades = append(s.Grades, Grade{c.id, q})
	}
	s.Sample = r.scaled(t, rec, toGram, "g", false, sampleFields...)
	s.Top = r.scaled(t, rec, toMillimetre, "mm", false, topFields...)
}

// scaled reads a number that may be absent, in the unit wanted.
func (r *reader) scaled(t *sheet.Records, rec sheet.Record, factors map[string]float64, unit string, zero bool, names ...string) quantity.Quantity {
	i := t.Index(names...)
	if i < 0 {
		return missing(unit)
	}
	q := t.Number(rec, t.Fields[i].Name)
	name := strings.ToLower(t.Fields[i].Name)
	if q.Class == quantity.Missing {
		return quantity.None(quantity.Missing, math.NaN(), unit, q.From...)
	}
	factor, ok := factors[strings.ToLower(q.Unit)]
	switch {
	case !ok:
		r.fail("DRESSING_UNIT", source.Cell{File: t.File, Sheet: t.Sheet, Ref: t.Fields[i].Ref},
			"the %s has the unit %q; write it in the heading: %s (%s)", name, q.Unit, t.Fields[i].Name, unit)
	case !q.Known():
		r.fail("DRESSING_NUMBER", q.From[0], "the %s is %s; write a number, or leave the cell empty", name, orMark(q))
	case q.Value < 0 || q.Value == 0 && !zero:
		r.fail("DRESSING_NUMBER", q.From[0], "a %s of %g is impossible", name, q.Value)
	default:
		return q.Scale(factor, unit)
	}
	return missing(unit)
}

func orMark(q quantity.Quantity) string {
	if q.UNote != "" {
		return q.UNote
	}
	return q.Mark()
}

// withU adds the standard uncertainty that stands in the column behind a
// value, or the assumed one.
func (r *reader) withU(t *sheet.Records, rec sheet.Record, q *quantity.Quantity, field int, factors map[string]float64, relative float64, counted *assumed) {
	if i := field + 1; i < len(t.Fields) && i < len(rec.Cells) && isUncertainty(t.Fields[i].Name, t.Fields[field].Name) {
		u := rec.Cells[i]
		unit := t.Fields[i].Unit
		if unit == "" {
			unit = t.Fields[field].Unit
		}
		factor, ok := factors[strings.ToLower(unit)]
		switch {
		case u.Class == quantity.Measured && ok && u.Value > 0:
			q.U, q.UNote = u.Value*factor, "from the sheet, "+u.At.Ref
			return
		case u.Class == quantity.Measured && !ok:
			r.fail("DRESSING_UNIT", u.At, "the uncertainty is in %q and its value in %q; use one unit", unit, t.Fields[field].Unit)
			return
		case u.Class == quantity.Measured && u.Value <= 0:
			r.notices.Add(source.Warning, "DRESSING_ZERO_U", u.At, "a standard uncertainty of %g cannot be; %g %% of the value is taken in its place: state what the scale or the laboratory says", u.Value, 100*relative)
		case !u.Empty() && u.Class != quantity.Missing:
			r.fail("DRESSING_NUMBER", u.At, "the uncertainty %q is no number; write one, or leave the cell empty", u.Text)
			return
		}
	}
	q.U, q.UNote = relative*q.Value, "assumed, the sheet states none"
	counted.add(q.From[0])
}

func isUncertainty(name, of string) bool {
	head := strings.ReplaceAll(name, "+/-", "±")
	rest := strings.TrimSpace(strings.Replace(head, "±", "", 1))
	return strings.Contains(head, "±") && (rest == "" || strings.EqualFold(rest, strings.TrimSpace(of)))
}

// size reads the sieves of a row.
func (r *reader) size(t *sheet.Records, rec sheet.Record, s *Stream) {
	above := r.scaled(t, rec, toMillimetre, "mm", true, aboveFields...)
	below := r.scaled(t, rec, toMillimetre, "mm", false, belowFields...)
	if !above.Known() && !below.Known() {
		return
	}
	s.Size = Size{Above: above.Or(0), Below: below.Or(math.Inf(1))}
	if s.Size.Above >= s.Size.Below {
		r.fail("DRESSING_SIZE", s.At, "a size above %g mm and below %g mm is empty; exchange the two", s.Size.Above, s.Size.Below)
	}
}
