// Package report turns a study and its notebook into the page the reader sees:
// prose with computed values, and one entry for every block the notebook asks
// for. It decides what is shown; report/page decides how it looks.
package report

import (
	"context"
	"fmt"
	"io"
	"os"

	"smeltbook/assay/source"
	"smeltbook/report/chart"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
	"smeltbook/report/study"
)

// Options are what a report depends on besides its data.
type Options struct {
	Version string         // of the program, for the colophon
	Notices source.Notices // what reading the campaign had to say, for the colophon
	Assets  page.Assets    // scripts and typeface of the page; the zero value leaves figures still
}

// Assets returns the scripts and the typeface built into the program. Without
// the charting library the figures of a report are still.
func Assets() page.Assets {
	a := page.Assets{Faces: page.Faces()}
	if library, ok := chart.Script(); ok {
		a.ChartLibrary, a.ChartScript = library, chart.PageScript()
	}
	return a
}

// Write writes the report as one HTML file. When the notebook asks for
// something that cannot be given, the notices hold errors and nothing has been
// written. The same study, notebook and options give the same bytes.
func Write(ctx context.Context, w io.Writer, s *study.Study, n *notebook.Notebook, o Options) (source.Notices, error) {
	doc, notices, err := Document(ctx, s, n, o)
	if err != nil || notices.Failed() {
		return notices, err
	}
	if err := page.Render(w, doc, o.Assets); err != nil {
		return notices, fmt.Errorf("writing the page: %w", err)
	}
	return notices, nil
}

// Document builds the page as plain data.
func Document(ctx context.Context, s *study.Study, n *notebook.Notebook, o Options) (page.Document, source.Notices, error) {
	b, doc, err := build(ctx, s, n, o)
	return doc, b.notices, err
}

// build fills the entries of the notebook; what they share is in the builder.
func build(ctx context.Context, s *study.Study, n *notebook.Notebook, o Options) (*builder, page.Document, error) {
	b := &builder{study: s, notebook: n, file: n.File}
	doc := page.Document{Title: n.Title, Subtitle: n.Subtitle, Authors: n.Authors, Date: n.Date, Site: n.Site}
	b.readNotes()
	values := prose{study: s, file: n.File}
	files := os.DirFS(s.Campaign.Dir)
	var entries []placed
	var proses []func(notebook.Sources) // set last, for they refer to entries
	var last []func() error             // entries that tell of what the others used
	for _, block := range n.Blocks {
		switch block := block.(type) {
		case *notebook.Prose:
			p := &page.Prose{}
			doc.Blocks = append(doc.Blocks, p)
			proses = append(proses, func(sources notebook.Sources) {
				r, ns := block.Render(sources)
				b.notices = append(b.notices, ns...)
				p.HTML = r.HTML
				for _, h := range r.Headings {
					p.Headings = append(p.Headings, page.Heading(h))
				}
			})
		case *notebook.Entry:
			kind := entryKinds[block.Kind]
			e := &page.Entry{Number: len(entries) + 1, Kind: block.Kind, Title: kind.title}
			e.ID = fmt.Sprintf("entry-%d", e.Number)
			if block.Title != "" {
				e.Title = block.Title
			}
			entries = append(entries, placed{block, e})
			doc.Blocks = append(doc.Blocks, e)
			build := func() error {
				if kind.build == nil {
					b.fail(block, "UNKNOWN_ENTRY", "this version does not draw %q", block.Kind)
					return nil
				}
				b.used[block.Kind] = true
				b.entry = e
				return kind.build(ctx, b, block, e)
			}
			if b.used == nil {
				b.used = map[string]bool{}
			}
			if kind.last {
				last = append(last, build)
				continue
			}
			if err := build(); err != nil {
				return b, doc, fmt.Errorf("entry %s: %w", block.Kind, err)
			}
		}
	}
	for _, build := range last {
		if err := build(); err != nil {
			return b, doc, err
		}
	}
	cited := b.references(files)
	for _, set := range proses {
		set(notebook.Sources{Values: values.value, Ref: b.refTo(entries), Cite: citing(cited), Files: files})
	}
	if !cited.Empty() {
		doc.Blocks = append(doc.Blocks, referenceList(cited))
	}
	doc.Colophon = b.colophon(o)
	return b, doc, nil
}

func (b *builder) colophon(o Options) page.Colophon {
	c := page.Colophon{Version: o.Version, Seed: b.study.Conditions.Seed, Draws: b.study.Conditions.Draws}
	for _, f := range b.study.Campaign.Files {
		c.Files = append(c.Files, page.File{Name: f.Name, SHA256: f.SHA256, Bytes: f.Size})
	}
	for _, n := range o.Notices {
		if n.Severity != source.Note {
			c.Notices = append(c.Notices, n)
		}
	}
	return c
}
