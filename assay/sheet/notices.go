package sheet

import (
	"fmt"
	"slices"
	"strconv"

	"smeltbook/assay/source"
)

// mostAlike is the number of notices of one code that are written out for one
// table; the rest are counted.
const mostAlike = 25

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// tally gathers what is found in the cells of one table, so that a habit of
// the sheet gives one sentence and not a thousand. A nil tally is silent.
type tally struct {
	r     *reader
	sheet string
	order []string
	kinds map[string]*habit
	count map[string]int
	last  map[string]source.Notice
	next  []setting
}

// habit is one thing that many cells of a table have in common.
type habit struct {
	severity source.Severity
	format   string   // with one %s for the cells
	refs     []string // the first of them
	count    int
	settings []setting
}

func (r *reader) newTally(sheet string) *tally {
	return &tally{r: r, sheet: sheet, kinds: map[string]*habit{}, count: map[string]int{}, last: map[string]source.Notice{}}
}

// or says what overrules the guess that the next call reports.
func (t *tally) or(s ...setting) *tally {
	if t != nil {
		t.next = s
	}
	return t
}

// settings returns what overrules a guess of this kind.
func (t *tally) settings(code string) []setting {
	s := t.next
	t.next = nil
	if general, ok := overruledBy[code]; ok && s == nil {
		s = []setting{general}
	}
	return s
}

// each reports a single cell.
func (t *tally) each(s source.Severity, code, ref, format string, args ...any) {
	if t == nil {
		return
	}
	n := source.Notice{Severity: s, Code: code, At: t.r.cellAt(t.sheet, ref), Message: fmt.Sprintf(format, args...), Setting: settingsText(t.settings(code))}
	if t.count[code]++; t.count[code] > mostAlike {
		t.last[code] = n
		return
	}
	t.r.book.Notices = append(t.r.book.Notices, n)
}

// habit counts a cell under a code; format holds one %s for the cells.
func (t *tally) habit(s source.Severity, code, ref, format string) {
	if t == nil {
		return
	}
	h, ok := t.kinds[code]
	if !ok {
		h = &habit{severity: s, format: format}
		t.kinds[code] = h
		t.order = append(t.order, code)
	}
	if h.count++; len(h.refs) < namedCells {
		h.refs = append(h.refs, ref)
	}
	for _, s := range t.settings(code) {
		if len(h.settings) <= mostSettings && !slices.Contains(h.settings, s) {
			h.settings = append(h.settings, s)
		}
	}
}

// flush writes the gathered notices.
func (t *tally) flush() {
	for _, code := range t.order {
		h := t.kinds[code]
		t.r.note(h.severity, code, t.r.cellAt(t.sheet, h.refs[0]), h.format, refsOf(h.refs, h.count))
		t.r.overrule(h.settings...)
	}
	for code, n := range t.last {
		if more := t.count[code] - mostAlike; more > 1 {
			n.Message = fmt.Sprintf("%s (and %d more cells like this before it)", n.Message, more-1)
			t.last[code] = n
		}
	}
	for _, code := range sortedCodes(t.last) {
		t.r.book.Notices = append(t.r.book.Notices, t.last[code])
	}
	t.order, t.kinds, t.count, t.last = nil, map[string]*habit{}, map[string]int{}, map[string]source.Notice{}
}

func sortedCodes(m map[string]source.Notice) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}
