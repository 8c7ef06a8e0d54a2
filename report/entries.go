package report

import (
	"context"
	"fmt"

	"smeltbook/assay"
	"smeltbook/assay/audit"
	"smeltbook/assay/source"
	"smeltbook/report/chart"
	"smeltbook/report/cite"
	"smeltbook/report/figure"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
	"smeltbook/report/study"
)

// entryKind is one kind of entry: its usual title and the function that fills
// the page's entry. What the notebook got wrong goes into the builder's
// notices; the error is for what nobody could foresee.
type entryKind struct {
	title string
	build func(context.Context, *builder, *notebook.Entry, *page.Entry) error
	last  bool // built after all others, because it tells of them
}

// entryKinds is the registry; its keys are notebook.Kinds.
var entryKinds = map[string]entryKind{
	"spread":      {title: "Replica beside excavated", build: spreadEntry},
	"composition": {title: "Composition", build: compositionEntry},
	"ternary":     {title: "On the triangle", build: ternaryEntry},
	"melting":     {title: "Melting", build: meltingEntry},
	"indices":     {title: "Basicity and its kin", build: indicesEntry},
	"flow":        {title: "How stiff the slag was", build: flowEntry},
	"redox":       {title: "How reducing the furnace was", build: redoxEntry},
	"copper":      {title: "Copper left in the slag", build: copperEntry},
	"lining":      {title: "The furnace wall", build: liningEntry},
	"dressing":    {title: "Dressing the ore", build: dressingEntry},
	"balance":     {title: "Where the copper went", build: balanceEntry},
	"origins":     {title: "What the slag is made of", build: originsEntry},
	"likeness":    {title: "Which firing came nearest", build: likenessEntry},
	"effects":     {title: "What moved the slag", build: effectsEntry},
	"quality":     {title: "How good the analyses are", build: qualityEntry},
	"fragments":   {title: "The furnace from its fragments", build: fragmentsEntry},
	"cautions":    {title: "Before anybody lights it", build: cautionsEntry},
	"firing":      {title: "The course of the firing", build: firingEntry},
	"methods":     {title: "How it was done", build: methodsEntry, last: true},
	"data":        {title: "The data", build: dataEntry},
}

// Widths of figures on a printed page, in millimetres: drawn at that size
// their lettering is as large as meant. Narrow ones leave the margin free.
const (
	wideWidth   = 180
	narrowWidth = 132
)

// builder carries what the entries share.
type builder struct {
	study      *study.Study
	notebook   *notebook.Notebook
	file       string
	notices    source.Notices
	figures    int
	entry      *page.Entry              // being filled
	notes      map[*assay.Sample]string // on samples
	marked     map[*assay.Sample]bool   // those that the notebook makes
	drawn      []Drawn
	drawings   *drawings
	tables     int
	used       map[string]bool // entry kinds
	copperAt   []copperConditions
	flowAt     []flowConditions
	redoxAt    []redoxConditions
	forms      formsUsed
	linings    []liningUsed
	dressings  []dressingUsed
	balances   balanceUsed
	unmixed    []unmixedUsed
	likenesses []likenessUsed
	effects    []effectsUsed
	firings    []firingUsed
	fragments  []fragmentsUsed
	audited    *audit.Audit
	sections   []string // triangles drawn, for the methods
	photos     photographsUsed
	asked      []string // variables, by key
	equations  int
	works      *cite.Library  // see methodWorks
	matched    map[string]int // tables that say how surely rows are matched, by pairing
}

func (b *builder) fail(e *notebook.Entry, code, format string, args ...any) {
	b.notices.Add(source.Error, code, source.Line(b.file, e.Line), format, args...)
}

// lack tells that data are missing for an entry, or for a part of it: in the
// entry itself, and as a warning. Nothing else of the report hangs on it.
func (b *builder) lack(e *notebook.Entry, code, format string, args ...any) {
	var ns source.Notices
	ns.Add(source.Warning, code, source.Line(b.file, e.Line), format, args...)
	b.notices = append(b.notices, ns...)
	ns[0].At = source.Cell{} // the entry is its own place
	b.entry.Parts = append(b.entry.Parts, &page.Notices{List: ns})
}

// options decodes an entry's options; ok is false when they have mistakes,
// which have been noted.
func (b *builder) options(e *notebook.Entry, into any) bool {
	ns := e.Decode(into)
	b.notices = append(b.notices, ns...)
	return !ns.Failed()
}

// groups resolves group names.
func (b *builder) groups(e *notebook.Entry, names []string) ([]assay.Group, bool) {
	var out []assay.Group
	for _, name := range names {
		g, err := b.study.Campaign.Group(name)
		if err != nil {
			if n, ok := err.(source.Notice); ok {
				b.fail(e, n.Code, "%s", n.Message)
			} else {
				b.fail(e, "UNKNOWN_GROUP", "%v", err)
			}
			return nil, false
		}
		out = append(out, g)
	}
	return out, true
}

// facing resolves the two groups of an entry on facing pages.
func (b *builder) facing(e *notebook.Entry, names []string) (pair, bool) {
	if len(names) != 2 {
		b.fail(e, "TWO_GROUPS", "%s stands on facing pages and needs two groups, not %d; write for example groups: [fired, dug]", e.Kind, len(names))
		return pair{}, false
	}
	gs, ok := b.groups(e, names)
	if !ok {
		return pair{}, false
	}
	return pair{gs[0], gs[1]}, true
}

// figure draws a description both ways, beside the work on what follows; it is
// there when the drawings are waited for.
func (b *builder) figure(f figure.Figure, layout page.Layout) (*page.Figure, error) {
	b.figures++
	f.ID = fmt.Sprintf("figure-%d", b.figures)
	width := float64(wideWidth)
	if layout == page.Narrow {
		width = narrowWidth
	}
	out := &page.Figure{Number: b.figures, ID: f.ID, Layout: layout, Caption: f.Caption, Alt: f.Alt}
	_, still := f.Body.(*figure.Plan)
	if !still {
		b.drawn = append(b.drawn, Drawn{placeOf(b.entry, b.figures), f})
	}
	b.drawings.Go(func() (err error) {
		if out.SVG, err = f.SVG(width); err != nil {
			return fmt.Errorf("drawing figure %d: %w", out.Number, err)
		}
		if still {
			return nil
		}
		c, err := chart.Option(f)
		if err == nil {
			out.ChartJSON, err = c.JSON()
		}
		if err != nil {
			return fmt.Errorf("figure %d: %w", out.Number, err)
		}
		return nil
	})
	return out, f.Validate()
}

// table numbers a table.
func (b *builder) table(t *page.Table) *page.Table {
	b.tables++
	t.Number = b.tables
	t.ID = fmt.Sprintf("table-%d", b.tables)
	b.addNotes(t)
	return t
}

func sideOf(i int) page.Side {
	switch i {
	case 0:
		return page.Fired
	case 1:
		return page.Dug
	}
	return page.NoSide
}
