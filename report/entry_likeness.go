package report

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"smeltbook/assay/logratio"
	"smeltbook/assay/logratio/compare"
	"smeltbook/assay/logratio/likeness"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
	"smeltbook/report/study"
)

// likenessUsed says what a likeness entry rested on, for the methods.
type likenessUsed struct {
	parts       []string
	margin      float64
	replacement logratio.Replacement
	replaced    int
}

// likenessEntry asks whether replica and excavated slags are alike, and which
// firing each excavated piece is most like.
func likenessEntry(ctx context.Context, b *builder, e *notebook.Entry, out *page.Entry) error {
	var o struct {
		Groups      []string // two; the first is set left, the second is the measure
		Margin      *float64 // this and what follows: notebook.Likeness
		Parts       []string
		Balances    map[string]string
		Replacement string
		Extras      []string // variables beside the parts; the liquidus when empty
		Ore         string   // group of it, for the extras clay share and copper loss,
		Clay        []string // and of the walls of either page; else those of the lining entry
	}
	if !b.options(e, &o) {
		return nil
	}
	groups, ok := b.facing(e, o.Groups)
	if !ok {
		return nil
	}
	a := assumer{b: b, e: e}
	stated := notebook.Likeness{Margin: o.Margin, Parts: o.Parts, Balances: o.Balances, Replacement: o.Replacement}.Over(b.notebook.Likeness)
	margin := a.number("margin", stated.Margin, compare.DefaultMargin, 0.01, 100, "times the scatter of "+groups[1].Name)
	var words []string
	for _, r := range logratio.Replacements() {
		words = append(words, string(r))
	}
	replacement := logratio.Replacement(a.word("replacement", stated.Replacement, string(logratio.Simple), words))
	if len(o.Extras) == 0 {
		o.Extras = []string{study.Liquidus}
	}
	for _, key := range o.Extras {
		if key == clayExtra || key == lossExtra {
			continue
		}
		if _, err := b.variable(key); err != nil {
			b.fail(e, "UNKNOWN_VARIABLE", "extras: %s", strings.TrimPrefix(err.Error(), ": "))
			return nil
		}
	}
	if a.failed {
		return nil
	}
	d, ok := b.likenessTable(e, groups, stated, &a)
	if !ok {
		return nil
	}
	seed := b.study.Conditions.Seed
	r, err := compare.Groups(ctx, d.compared(), compare.Options{Basis: d.basis, Replacement: replacement, Margin: margin, Seed: seed})
	if err != nil {
		return b.refused(ctx, e, err)
	}
	in := d.found(b, o.Extras)
	for _, key := range o.Extras {
		if key != clayExtra && key != lossExtra {
			continue
		}
		x, why := b.slagExtra(e, key, d, o.Ore, o.Clay)
		if why != "" {
			b.lack(e, "NO_EXTRA", "extras: %s", why)
			continue
		}
		in.Extras = append(in.Extras, x)
	}
	near, err := likeness.Find(ctx, in, likeness.Options{Basis: d.basis, Replacement: replacement, Keep: 2, Seed: seed})
	if err != nil {
		return b.refused(ctx, e, err)
	}
	b.likenesses = append(b.likenesses, likenessUsed{d.table.Parts, margin, replacement, r.Replaced})

	out.Parts = append(out.Parts, verdictText(r))
	fig, err := b.biplotFigure(ctx, d, replacement)
	if err != nil {
		return err
	}
	if fig != nil {
		out.Parts = append(out.Parts, fig)
	}
	out.Parts = append(out.Parts, b.nearestSpread(d, in, near), b.apartTable(d, in, near), b.cloudTable(d, in, near),
		b.balanceTable(r), b.variantTable(r), b.influenceTable(r))
	out.Parts = append(out.Parts, a.parts()...)
	if ns := d.told.list(len(d.samples)); len(ns) > 0 {
		out.Parts = append(out.Parts, &page.Notices{List: ns})
	}
	out.Margin = append(b.margin(groups[:]), fmt.Sprintf("Distances are Aitchison's, from logarithms of ratios of %s; a scatter is the root mean square distance of the pieces of %s from their centre.", formulaText(strings.Join(d.table.Parts, ", ")), groups[1].Name))
	return nil
}

// refused turns what the statistics refuse into a sentence; an end of the work
// stays an error.
func (b *builder) refused(ctx context.Context, e *notebook.Entry, err error) error {
	if ctx.Err() != nil {
		return ctx.Err()
	}
	b.lack(e, "NO_STATISTICS", "%v", err)
	return nil
}

// verdictText sets the result, and below it what has to be known to read it.
func verdictText(r compare.Result) *page.Text {
	limits := slices.Clone(r.Limits())
	return &page.Text{Paragraphs: [][]page.Run{
		{{Text: formulaText(r.Sentence()), Style: page.Strong}},
		{{Text: formulaText(strings.Join(limits, " "))}},
	}}
}
