package report

import (
	"slices"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/source"
	"smeltbook/report/page"
)

// readNotes takes what is to be said of samples wherever they are listed from the
// field sheet, and what the notebook says instead.
func (b *builder) readNotes() {
	b.notes, b.marked = map[*assay.Sample]string{}, map[*assay.Sample]bool{}
	c := b.study.Campaign
	for _, s := range c.Samples {
		if note := strings.TrimSpace(s.Note); note != "" {
			b.notes[s] = note
		}
	}
	for _, n := range b.notebook.Notes {
		s, ok := c.Sample(n.Sample)
		if !ok {
			b.notices.Add(source.Error, "UNKNOWN_SAMPLE", source.Line(b.file, n.Line), "\"notes\" speaks of the sample %q, which is not in the campaign%s", n.Sample, source.DidYouMean(n.Sample, c.SampleIDs()))
			continue
		}
		b.notes[s], b.marked[s] = strings.TrimSpace(n.Text), true
	}
}

// addNotes puts the notes on samples beside their names, to be read on pointing.
// Those that the notebook makes stand below the table as well, each once, with a
// mark at the row: they are few, while a field sheet has one for nearly every
// sample and is printed in the table of samples. A listing to look things up in and a table that has a column
// for them stay as they are.
func (b *builder) addNotes(t *page.Table) {
	if t.Compact || slices.ContainsFunc(t.Columns, func(c page.Column) bool { return c.Head == "note" }) {
		return
	}
	seen := map[*assay.Sample]bool{}
	for i, r := range t.Rows {
		s, ok := b.study.Campaign.Sample(r.Sample)
		if r.Sample == "" || !ok || b.notes[s] == "" || len(r.Cells) == 0 {
			continue
		}
		c := &t.Rows[i].Cells[0]
		c.Note = strings.Join(nonEmpty(c.Note, b.notes[s]), "; ")
		if !b.marked[s] {
			continue
		}
		if c.Text == s.ID {
			c.Text += page.NoteMark
		}
		if !seen[s] {
			t.Notes = append(t.Notes, page.NoteMark+" "+s.ID+": "+strings.TrimSuffix(b.notes[s], ".")+".")
		}
		seen[s] = true
	}
}
