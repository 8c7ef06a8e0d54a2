package report

import (
	"context"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"smeltbook/assay/source"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
	"smeltbook/report/study"
)

// spreadOptions are what a spread may be told.
type spreadOptions struct {
	Groups  []string  // two; the first is set left
	Subject string    // compositions when empty
	Rows    []string  // variables of the table of groups; those of the subject when empty
	Match   string    // likeness or none
	Pairs   yaml.Node // excavated: replica, or the other way about
	Parts   []string  // whose ratios count for likeness
	At      *float64  // °C, where the subject holds at a temperature

	Photographs *bool // of the pieces; where nothing is said, once for the same rows
}

// spreadEntry sets two groups beside each other: one variable a row for the
// groups, and one piece a row beside the piece it is matched with.
func spreadEntry(ctx context.Context, b *builder, e *notebook.Entry, out *page.Entry) error {
	o := spreadOptions{Subject: compositions}
	if !b.options(e, &o) {
		return nil
	}
	groups, ok := b.facing(e, o.Groups)
	if !ok {
		return nil
	}
	if groups[0].Name == groups[1].Name {
		b.fail(e, "ONE_GROUP", "both pages of this spread would show %s; name two different groups", groups[0].Name)
		return nil
	}
	subject, err := subjectOf(o.Subject)
	if err != nil {
		b.fail(e, "WRONG_VALUE", "%v", err)
		return nil
	}
	a := assumer{b: b, e: e}
	if subject.hot {
		subject = subject.at(a.number("at", o.At, study.DefaultTC, 900, 1700, "°C"))
	} else if o.At != nil {
		b.fail(e, "WRONG_VALUE", "%s holds at no temperature; take at: out", subject.word)
		return nil
	}
	if a.failed {
		return nil
	}
	rows, ok := b.spreadRows(e, groups, subject, o.Rows)
	if !ok {
		return nil
	}
	matched, ok, err := b.pairing(ctx, e, groups, o, &a)
	if err != nil || !ok {
		return err
	}
	if e.Title == "" && subject.word != compositions {
		out.Title += ": " + subject.word
	}
	out.Parts = append(out.Parts, b.groupSpread(groups, subject, rows))
	if len(matched.pairs) > 0 {
		parts, err := b.matchedParts(groups, subject, matched)
		if err != nil {
			return err
		}
		out.Parts = append(out.Parts, parts...)
	}
	if photos := b.photographs(groups, matched, o.Photographs); photos != nil {
		out.Parts = append(out.Parts, photos)
	}
	out.Parts = append(out.Parts, a.parts()...)
	told := append(kindNotices(groups, subject), matched.told...)
	if len(told) > 0 {
		out.Parts = append(out.Parts, &page.Notices{List: told})
	}
	out.Margin = b.margin(groups[:])
	return nil
}

// spreadRows finds the variables of the table of groups.
func (b *builder) spreadRows(e *notebook.Entry, groups pair, subject spreadSubject, asked []string) (rows []study.Variable, ok bool) {
	wanted := subject.rows
	if len(asked) == 0 && len(wanted) == 0 {
		asked = append(b.majorParts(groups), "total", study.Liquidus, "cao_sio2", "bachmann_index")
	}
	if len(asked) > 0 {
		wanted = nil
		for _, key := range asked {
			wanted = append(wanted, spreadColumn{key: key})
		}
	}
	for _, w := range wanted {
		v, err := b.variable(w.key)
		if err != nil {
			b.fail(e, "UNKNOWN_VARIABLE", "%s", strings.TrimPrefix(err.Error(), ": "))
			continue
		}
		if w.head != "" {
			v.Label = w.head
		}
		rows = append(rows, v)
	}
	if len(rows) < len(wanted) {
		return nil, false
	}
	if len(subject.rows) > 0 { // a usual row without any value says nothing
		rows = slices.DeleteFunc(rows, func(v study.Variable) bool {
			return valueless(v, groups)
		})
	}
	return rows, true
}

// failAt tells of a mistake on a line of the notebook.
func (b *builder) failAt(line int, code, format string, args ...any) {
	b.notices.Add(source.Error, code, source.Line(b.file, line), format, args...)
}
