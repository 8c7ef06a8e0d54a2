package firing

import (
	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
)

// moment is a row with its time.
type moment struct {
	rec sheet.Record
	min float64 // minutes after midnight of the epoch where dated, else of the first day
}

// moments puts rows of one firing on a running clock: a clock without dates
// that falls back by more than half a day has passed midnight. Rows whose time
// cannot be read, or runs backwards, are told and left out.
func (r *reader) moments(m timing, rows []sheet.Record) (out []moment, dated bool) {
	carry, last := 0.0, 0.0
	var backFirst source.Cell
	back := 0
	for _, rec := range rows {
		c := rec.Cells[m.time]
		s, ok := m.read(rec)
		switch {
		case !ok && c.Empty():
			if !blankBut(rec, m.date) {
				r.tell("LOG_TIME", c.At, source.Warning, "this row has no time and was left out; write one, or delete the row")
			}
			continue
		case !ok && m.elapsed && c.Class == "":
			r.tell("LOG_TIME_UNIT", c.At, source.Error, "the times are plain numbers without a unit; write the unit in the heading: Time (s) or Time (min)")
			continue
		case !ok && c.Class == "":
			r.tell("LOG_TIME_UNIT", c.At, source.Error, "%q is a plain number; format the column as a time of day, or write the unit of the time in the heading: Time (s) or Time (min)", c.Text)
			continue
		case !ok:
			r.tell("LOG_TIME", c.At, source.Error, "%q is no time; write it as 14:05 or 14:05:30, with the date before it where you like", c.Text)
			continue
		}
		now := s.total() + carry
		if n := len(out); n > 0 {
			if !s.dated && !m.elapsed && now < last-dayMinutes/2 {
				carry += dayMinutes
				now += dayMinutes
			}
			if now < last {
				if back == 0 {
					backFirst = c.At
				}
				back++
				continue
			}
		}
		dated = dated || s.dated
		last = now
		out = append(out, moment{rec, now})
	}
	if back > 0 {
		r.notices.Add(source.Warning, "LOG_BACKWARDS", backFirst, "the clock runs backwards here, and %s left out until it passes where it was; if the logger was set or restarted, put the rows behind into a file of their own", counted(back, "row was", "rows were"))
	}
	return out, dated
}

// blankBut reports whether a row holds nothing beside one column.
func blankBut(rec sheet.Record, column int) bool {
	for i, c := range rec.Cells {
		if i != column && !c.Empty() {
			return false
		}
	}
	return true
}
