package firing

import (
	"fmt"
	"path"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
)

// part is what one sheet tells of one firing, on its own clock.
type part struct {
	run      string
	dated    bool
	elapsed  bool
	channels []Channel
	events   []Event
	start    *stamp // when the logger was started, where the sheet says
	at       source.Cell
}

type reader struct {
	runs    []string
	notices source.Notices
	told    map[string]bool
	parts   []part
}

// IsLog reports whether a sheet tells of the course of a firing: it has times
// and either columns of temperature or events.
func IsLog(t *sheet.Records) bool {
	m, ok := timingOf(t)
	if !ok {
		return false
	}
	if isEvents(t) {
		return true
	}
	for i, f := range t.Fields {
		_, unit := scaleOf(f.Unit)
		if i != m.time && (f.Unit != "" && unit || f.Unit == "" && (channelName.MatchString(f.Name) || unitEnd.MatchString(f.Name))) {
			return true
		}
	}
	return false
}

// Read takes logs and events out of the field sheets. runs are the firings
// that the field sheets know: a sheet without a column Run belongs to the one
// that its own name, its file or a line above its table names. What is wrong
// is told with the cell and what would mend it.
func Read(sheets []sheet.Records, runs []string) ([]Firing, source.Notices) {
	r := reader{runs: runs, told: map[string]bool{}}
	for i := range sheets {
		if IsLog(&sheets[i]) {
			r.sheet(&sheets[i])
		}
	}
	var out []Firing
	for _, run := range r.order() {
		out = append(out, r.firing(run))
	}
	return out, r.notices
}

// tell adds a notice once for a code and a column: a thousand wrong cells are
// one mistake.
func (r *reader) tell(code string, at source.Cell, s source.Severity, format string, args ...any) {
	key := code + at.File + at.Sheet + strings.TrimRight(at.Ref, "0123456789")
	if r.told[key] {
		return
	}
	r.told[key] = true
	r.notices.Add(s, code, at, format, args...)
}

func (r *reader) sheet(t *sheet.Records) {
	m, _ := timingOf(t)
	own := t.Index(runFields...)
	named := ""
	if own < 0 {
		named = r.named(t)
	}
	rows := map[string][]sheet.Record{}
	var order []string
	for _, rec := range t.Rows {
		run := named
		if own >= 0 {
			if run = rec.Cells[own].Text; run == "" {
				if !blankBut(rec, own) {
					r.tell("LOG_RUN", rec.Cells[own].At, source.Error, "this row does not say of which firing it is; write it under %s", t.Fields[own].Name)
				}
				continue
			}
			run = r.known(run, rec.Cells[own].At)
		}
		if rows[run] == nil {
			order = append(order, run)
		}
		rows[run] = append(rows[run], rec)
	}
	tracks := r.tracks(t, m)
	for _, run := range order {
		p := part{run: run, elapsed: m.elapsed, at: source.Cell{File: t.File, Sheet: t.Sheet}}
		ms, dated := r.moments(m, rows[run])
		p.dated = dated
		if s, ok := started(t.Title); ok {
			p.start = &s
		}
		for _, k := range tracks {
			k.ch.Readings, k.ch.Faults = nil, nil
			for _, at := range ms {
				if k.field < len(at.rec.Cells) {
					r.take(&k, at.min, at.rec.Cells[k.field])
				}
			}
			r.settle(&k.ch)
			if len(k.ch.Readings)+len(k.ch.Faults) > 0 {
				p.channels = append(p.channels, k.ch)
			}
		}
		if isEvents(t) {
			for _, at := range ms {
				if e, ok := r.event(t, at); ok {
					p.events = append(p.events, e)
				}
			}
		}
		r.parts = append(r.parts, p)
	}
}

// named finds the firing that a sheet without a column of firings belongs to.
func (r *reader) named(t *sheet.Records) string {
	base := strings.TrimSuffix(path.Base(t.File), path.Ext(t.File))
	for _, text := range append([]string{t.Sheet, base}, t.Title...) {
		best := ""
		for _, run := range r.runs {
			if len(run) > len(best) && holdsName(text, run) {
				best = run
			}
		}
		if best != "" {
			return best
		}
	}
	if len(r.runs) > 0 {
		r.notices.Add(source.Warning, "LOG_RUN", source.Cell{File: t.File, Sheet: t.Sheet}, "this log names no firing of the field sheets and stands by itself as %q; name the sheet or the file after the firing (%s.csv), or give it a column Run", base, r.runs[0])
	}
	return base
}

// known returns a firing as the field sheets write it.
func (r *reader) known(run string, at source.Cell) string {
	for _, k := range r.runs {
		if nameKey(k) == nameKey(run) {
			return k
		}
	}
	if len(r.runs) > 0 {
		r.tell("LOG_RUN", at, source.Warning, "no field sheet knows a firing %q%s; its log stands by itself", run, source.DidYouMean(run, r.runs))
	}
	return run
}

func nameKey(s string) string {
	return strings.Map(func(c rune) rune {
		if unicode.IsSpace(c) {
			return -1
		}
		return unicode.ToLower(c)
	}, s)
}

// holdsName reports whether a text holds a name that is no part of a longer
// one: "KR-F1" is not in "KR-F12".
func holdsName(text, name string) bool {
	text, name = nameKey(text), nameKey(name)
	if name == "" {
		return false
	}
	for from := 0; ; {
		i := strings.Index(text[from:], name)
		if i < 0 {
			return false
		}
		a, b := from+i, from+i+len(name)
		if (a == 0 || !wordSign(text[a-1])) && (b == len(text) || !wordSign(text[b])) {
			return true
		}
		from = a + 1
	}
}

func wordSign(c byte) bool { return c >= '0' && c <= '9' || c >= 'a' && c <= 'z' }

// order lists the firings: those of the field sheets first, in their order.
func (r *reader) order() []string {
	var out []string
	for _, run := range r.runs {
		for _, p := range r.parts {
			if p.run == run && !slices.Contains(out, run) {
				out = append(out, run)
			}
		}
	}
	for _, p := range r.parts {
		if !slices.Contains(out, p.run) {
			out = append(out, p.run)
		}
	}
	return out
}

func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

func fmtC(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
