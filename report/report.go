// Package report turns a study and its notebook into the page the reader sees:
// prose with computed values, and one entry for every block the notebook asks
// for. It decides what is shown; report/page decides how it looks.
package report

import (
	"context"
	"fmt"
	"io"
	"os"
	"slices"

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

// build makes the page; what its entries share is in the builder.
func build(ctx context.Context, s *study.Study, n *notebook.Notebook, o Options) (*builder, page.Document, error) {
	x, err := assemble(ctx, s, n)
	if err != nil {
		return x.builder, page.Document{}, err
	}
	b, doc := x.document(n, o)
	return b, doc, nil
}

// assembled is all of a report but its prose.
type assembled struct {
	builder *builder
	entries []placed // in the order of the notebook
}

// assemble fills the entries of the notebook.
func assemble(ctx context.Context, s *study.Study, n *notebook.Notebook) (assembled, error) {
	b := &builder{study: s, notebook: n, file: n.File, drawings: &drawings{}, used: map[string]bool{}, matched: map[string]int{}}
	b.readNotes()
	x := assembled{builder: b}
	var last []placed // entries that tell of what the others used
	for _, block := range n.Entries() {
		p := placed{block, &page.Entry{Number: len(x.entries) + 1, Kind: block.Kind, Name: block.ID, Title: entryKinds[block.Kind].title}}
		p.entry.ID = fmt.Sprintf("entry-%d", p.entry.Number)
		if block.Title != "" {
			p.entry.Title = block.Title
		}
		x.entries = append(x.entries, p)
		if entryKinds[block.Kind].last {
			last = append(last, p)
			continue
		}
		if err := b.fill(ctx, p); err != nil {
			return x, err
		}
	}
	for _, p := range last {
		if err := b.fill(ctx, p); err != nil {
			return x, err
		}
	}
	return x, b.drawings.Wait()
}

func (b *builder) fill(ctx context.Context, p placed) error {
	kind := entryKinds[p.asked.Kind]
	if kind.build == nil {
		b.fail(p.asked, "UNKNOWN_ENTRY", "this version does not draw %q", p.asked.Kind)
		return nil
	}
	b.used[p.asked.Kind] = true
	b.entry = p.entry
	if err := kind.build(ctx, b, p.asked, p.entry); err != nil {
		return fmt.Errorf("entry %s: %w", p.asked.Kind, err)
	}
	return nil
}

// document sets the prose of a notebook round the entries, which refer to it as
// little as it changes them. The builder that it returns has the notices of both.
func (x assembled) document(n *notebook.Notebook, o Options) (*builder, page.Document) {
	copied := *x.builder
	b := &copied
	b.notebook, b.notices = n, slices.Clone(x.builder.notices)
	files := os.DirFS(b.study.Campaign.Dir)
	var methods []string
	for _, p := range x.entries {
		methods = append(methods, citedBy(p.entry)...)
	}
	cited, as := b.references(files, methods)
	sources := notebook.Sources{Values: prose{study: b.study, file: n.File}.value, Ref: b.refTo(x.entries), Cite: citing(cited), Files: files}
	doc := page.Document{Title: n.Title, Subtitle: n.Subtitle, Authors: byline(n.Authors), Date: n.Date, Site: n.Site}
	entries := x.entries
	for _, block := range n.Blocks {
		p, ok := block.(*notebook.Prose)
		if !ok {
			doc.Blocks = append(doc.Blocks, withCitations(entries[0].entry, cited, as))
			entries = entries[1:]
			continue
		}
		r, ns := p.Render(sources)
		b.notices = append(b.notices, ns...)
		text := &page.Prose{HTML: r.HTML}
		for _, h := range r.Headings {
			text.Headings = append(text.Headings, page.Heading(h))
		}
		doc.Blocks = append(doc.Blocks, text)
	}
	if !cited.Empty() {
		doc.Blocks = append(doc.Blocks, referenceList(cited))
		doc.References = cited.Lines()
	}
	doc.Colophon = b.colophon(o)
	return b, doc
}

func (b *builder) colophon(o Options) page.Colophon {
	c := page.Colophon{Version: o.Version, Seed: b.study.Conditions.Seed, Draws: b.study.Conditions.Draws}
	for _, f := range b.study.Campaign.Files {
		c.Files = append(c.Files, page.File{Name: f.Name, SHA256: f.SHA256, Bytes: f.Size})
	}
	c.Files = append(c.Files, b.photos.files...)
	for _, n := range o.Notices {
		if n.Severity != source.Note {
			c.Notices = append(c.Notices, n)
		}
	}
	return c
}
