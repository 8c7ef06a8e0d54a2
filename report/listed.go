package report

import (
	"context"
	"fmt"
	"strings"

	"smeltbook/assay/source"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
	"smeltbook/report/study"
	"smeltbook/report/tables"
)

// Listed is a table of a report and its place in the notebook.
type Listed struct {
	Place
	Table tables.Table
}

// Name is a name for files of the table, without an ending. It changes only when
// entries or tables before it come or go.
func (l Listed) Name() string {
	return fmt.Sprintf("%02d-%s-table-%d", l.Entry, l.Kind, l.Number)
}

// Tables returns every table of the report's entries, in order. When the
// notebook asks for something that cannot be given, the notices hold errors.
func Tables(ctx context.Context, s *study.Study, n *notebook.Notebook) ([]Listed, source.Notices, error) {
	b, doc, err := build(ctx, s, n, Options{})
	var out []Listed
	for _, block := range doc.Blocks {
		e, ok := block.(*page.Entry)
		if !ok {
			continue
		}
		for _, part := range e.Parts {
			if t, ok := tables.Of(part); ok {
				out = append(out, Listed{placeOf(e, t.Number), t})
			}
		}
	}
	return out, b.notices, err
}

// TableCaptions is a text that belongs beside the files of tables: for each its
// number, its caption and the notes below it.
func TableCaptions(title string, all []Listed) string {
	var out strings.Builder
	if title != "" {
		fmt.Fprintf(&out, "%s\n\n", title)
	}
	for i, l := range all {
		if i == 0 || all[i-1].Entry != l.Entry {
			fmt.Fprintf(&out, "Entry %d, %s\n\n", l.Entry, l.Title)
		}
		fmt.Fprintf(&out, "%s\nTable %d. %s\n", l.Name(), l.Number, l.Table.Caption)
		for _, n := range l.Table.Notes {
			fmt.Fprintf(&out, "Note: %s\n", n)
		}
		out.WriteByte('\n')
	}
	return strings.TrimRight(out.String(), "\n") + "\n"
}
