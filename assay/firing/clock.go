package firing

import (
	"regexp"
	"strconv"
	"strings"
	"time"

	"smeltbook/assay/quantity"
	"smeltbook/assay/sheet"
)

// Headings of times. A time with a unit (s, min, h) counts from the logger's
// start, one without is a time of day.
var (
	timeFields    = []string{"time", "clock", "clock time", "time of day", "timestamp", "time stamp", "date time", "datetime", "date/time", "date and time", "local time"}
	elapsedFields = []string{"elapsed", "elapsed time", "run time", "seconds", "minutes", "hours", "sec", "min"}
	dateFields    = []string{"date", "day"}
)

// minutesIn are units of elapsed time.
var minutesIn = map[string]float64{"s": 1. / 60, "sec": 1. / 60, "secs": 1. / 60, "second": 1. / 60, "seconds": 1. / 60,
	"min": 1, "mins": 1, "minute": 1, "minutes": 1, "h": 60, "hr": 60, "hrs": 60, "hour": 60, "hours": 60, "ms": 1. / 60_000}

const dayMinutes = 1440

// timing is how a sheet writes its times.
type timing struct {
	time, date int     // columns; date -1 for none
	elapsed    bool    // counted from the logger's start
	factor     float64 // minutes in the unit of elapsed numbers; 0 where they are h:mm:ss
	monthFirst bool
}

// timingOf finds the columns of time.
func timingOf(t *sheet.Records) (timing, bool) {
	m := timing{time: t.Index(timeFields...), date: t.Index(dateFields...)}
	if m.time < 0 {
		if m.time = t.Index(elapsedFields...); m.time < 0 {
			return m, false
		}
		m.elapsed = true
	}
	f := t.Fields[m.time]
	unit := strings.ToLower(strings.TrimSpace(f.Unit))
	if unit == "" && m.elapsed {
		unit = strings.ToLower(strings.TrimSpace(f.Name))
	}
	if x, ok := minutesIn[unit]; ok {
		m.elapsed, m.factor = true, x
	}
	if m.elapsed {
		m.date = -1
	} else {
		m.monthFirst = monthFirst(t, m)
	}
	return m, true
}

// stamp is a time as a cell has it: minutes after midnight, or after the
// logger's start, with the day where one is stated.
type stamp struct {
	min   float64
	day   int // since 1970-01-01
	dated bool
}

func (s stamp) total() float64 { return float64(s.day)*dayMinutes + s.min }

var (
	clockForm = regexp.MustCompile(`^(\d{1,3}):(\d{2})(?::(\d{2})(?:[.,](\d{1,6}))?)?\s*([AaPp]\.?[Mm]\.?)?$`)
	yearForm  = regexp.MustCompile(`^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[T ]+(.*))?$`)
	dayForm   = regexp.MustCompile(`^(\d{1,2})[-/.](\d{1,2})[-/.](\d{2}|\d{4})(?:[T ]+(.*))?$`)
	startForm = regexp.MustCompile(`(?i)\bstart\w*\b\D{0,24}?((?:\d{1,4}[-/.]\d{1,2}[-/.]\d{1,4}[T ]+)?\d{1,2}:\d{2}(?::\d{2})?)`)
)

// read reads the time of a row.
func (m timing) read(rec sheet.Record) (stamp, bool) {
	c := rec.Cells[m.time]
	if m.elapsed && m.factor > 0 && c.Class == quantity.Measured {
		return stamp{min: c.Value * m.factor}, true
	}
	s, ok := parseStamp(c.Text, m.monthFirst)
	if !ok {
		return stamp{}, false
	}
	if m.date >= 0 && !s.dated && m.date < len(rec.Cells) {
		if day, rest, ok := parseDay(rec.Cells[m.date].Text, m.monthFirst); ok && rest == "" {
			s.day, s.dated = day, true
		}
	}
	return s, true
}

// parseStamp reads "14:05", "14:05:10", "2:05 pm", each with a date before it.
func parseStamp(text string, monthFirst bool) (stamp, bool) {
	text = strings.TrimSpace(text)
	var s stamp
	if day, rest, ok := parseDay(text, monthFirst); ok {
		if early := day < -25000; !early { // a spreadsheet writes midnight as a day of 1899 or 1900
			s.day, s.dated = day, true
		}
		if rest == "" {
			return s, true
		}
		text = rest
	}
	g := clockForm.FindStringSubmatch(text)
	if g == nil {
		return stamp{}, false
	}
	h, _ := strconv.Atoi(g[1])
	min, _ := strconv.Atoi(g[2])
	sec, _ := strconv.ParseFloat("0"+g[3]+"."+g[4]+"0", 64)
	if min > 59 || sec >= 60 {
		return stamp{}, false
	}
	switch half := strings.ToLower(strings.ReplaceAll(g[5], ".", "")); {
	case half == "":
	case h < 1 || h > 12:
		return stamp{}, false
	case half == "pm" && h < 12:
		h += 12
	case half == "am" && h == 12:
		h = 0
	}
	s.min = float64(h)*60 + float64(min) + sec/60
	return s, true
}

// parseDay reads the date that a text begins with.
func parseDay(text string, monthFirst bool) (day int, rest string, ok bool) {
	var y, m, d int
	if g := yearForm.FindStringSubmatch(strings.TrimSpace(text)); g != nil {
		y, m, d, rest = number(g[1]), number(g[2]), number(g[3]), g[4]
	} else if g := dayForm.FindStringSubmatch(strings.TrimSpace(text)); g != nil {
		d, m, y, rest = number(g[1]), number(g[2]), number(g[3]), g[4]
		if monthFirst {
			d, m = m, d
		}
		if y < 100 {
			y += 2000
		}
	} else {
		return 0, "", false
	}
	at := time.Date(y, time.Month(m), d, 0, 0, 0, 0, time.UTC)
	if m < 1 || m > 12 || at.Day() != d {
		return 0, "", false
	}
	return int(at.Unix() / 86400), strings.TrimSpace(rest), true
}

func number(s string) int {
	n, _ := strconv.Atoi(s)
	return n
}

func dayText(day int) string {
	return time.Unix(int64(day)*86400, 0).UTC().Format("2006-01-02")
}

// monthFirst decides between 11/7 and 7/11: by a number above 12, else by the
// order in which the days of a log lie closer together. Undecided is day first.
func monthFirst(t *sheet.Records, m timing) bool {
	col := m.date
	if col < 0 {
		col = m.time
	}
	var lo, hi [2]int
	seen := false
	for _, rec := range t.Rows {
		g := dayForm.FindStringSubmatch(strings.TrimSpace(rec.Cells[col].Text))
		if g == nil {
			continue
		}
		a, b := number(g[1]), number(g[2])
		if a > 12 || b > 12 {
			return a <= 12
		}
		if !seen {
			lo, hi, seen = [2]int{a, b}, [2]int{a, b}, true
		}
		lo, hi = [2]int{min(lo[0], a), min(lo[1], b)}, [2]int{max(hi[0], a), max(hi[1], b)}
	}
	return hi[0]-lo[0] < hi[1]-lo[1] // the month changes least
}

// started finds in the lines above a table when its logger was started.
func started(title []string) (stamp, bool) {
	g := startForm.FindStringSubmatch(strings.Join(title, " "))
	if g == nil {
		return stamp{}, false
	}
	return parseStamp(g[1], false)
}
