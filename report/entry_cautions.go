package report

import (
	"context"
	"fmt"
	"strings"

	"smeltbook/report/caution"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
)

// cautionsEntry shows the warnings that belong to this work and those that the
// data call for.
func cautionsEntry(_ context.Context, b *builder, e *notebook.Entry, out *page.Entry) error {
	var o struct{}
	if !b.options(e, &o) {
		return nil
	}
	t := &page.Text{}
	add := func(name, text string) {
		rest, named := strings.CutPrefix(text, name)
		if !named {
			name, rest = name+". ", text
		}
		t.Paragraphs = append(t.Paragraphs, []page.Run{{Text: name, Style: page.Strong}, {Text: rest}})
	}
	t.Paragraphs = append(t.Paragraphs, []page.Run{{Text: capital(caution.Behind)}})
	for _, c := range caution.Always() {
		add(c.Name, c.Text)
	}
	found := caution.InCharge(b.study.Campaign)
	for _, f := range found {
		if f.Most != nil {
			add(capital(f.Name), fmt.Sprintf("%s holds %s wt%% %s The number is from %s.", f.Most.ID, f.Value.Text(), f.Text, origin(f.Value.From)))
		}
	}
	if text := unknownFumes(found); text != "" {
		add("Fume", text)
	}
	for _, c := range b.study.Campaign.Cautions() {
		add("In the laboratory, "+list(c.Methods), fmt.Sprintf("%s Used from %s on.", c.Text, c.At))
	}
	add("Acids of the laboratory", acids)
	out.Parts = append(out.Parts, t)
	if table := b.fumesTable(found); table != nil {
		out.Parts = append(out.Parts, table)
	}
	return nil
}

// acids holds for every laboratory, whatever it wrote down.
const acids = "Acids of the laboratory, hydrofluoric acid above all, belong in trained hands."

// unknownFumes names what the charge was not analysed for.
func unknownFumes(found []caution.Found) string {
	var names []string
	for _, f := range found {
		if f.Of == 0 {
			return "No ore or flux was analysed: treat the fume as if they held arsenic, antimony, lead and sulphur."
		}
		if f.Asked < f.Of {
			names = append(names, f.Name)
		}
	}
	if len(names) == 0 {
		return ""
	}
	return fmt.Sprintf("Not every ore and flux was analysed for %s: %s.", list(names), caution.Unknown)
}

// fumesTable says what was looked for in the charge, and what was found.
func (b *builder) fumesTable(found []caution.Found) *page.Table {
	t := &page.Table{
		Caption: "What leaves with fume and dust, in the ores and fluxes of this campaign.",
		Columns: []page.Column{{Head: "element"}, {Head: "most of it", Sub: "sample", Unit: "wt%", Numeric: true}, {Head: "where it stands"},
			{Head: "measured in", Numeric: true}, {Head: "looked for in", Numeric: true}},
		Notes: []string{"As the laboratories reported it. Not found means below detection; what was not looked for may be there."},
	}
	for _, f := range found {
		if f.Of == 0 {
			return nil
		}
		most, at := page.Cell{Text: "not found", Class: page.Censored}, page.Cell{Text: "–", Class: page.Absent}
		switch {
		case f.Most != nil:
			most = inOneLine(cellOf(f.Value))
			most.Sub = f.Most.ID
			at = textCell(origin(f.Value.From))
		case f.Asked == 0:
			most = page.Cell{Text: "not looked for", Class: page.Flagged}
		}
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{textCell(capital(f.Name)), most, at,
			textCell(fmt.Sprintf("%d of %d", f.Holds, f.Of)), textCell(fmt.Sprintf("%d of %d", f.Asked, f.Of))}})
	}
	return b.table(t)
}

// cautionsText is what the methods say of the dangers of the work, and of those
// that the analyses show.
func (b *builder) cautionsText() string {
	var sentences, held []string
	for _, c := range caution.Always() {
		sentences = append(sentences, c.Text)
	}
	found := caution.InCharge(b.study.Campaign)
	for _, f := range found {
		if f.Most != nil {
			held = append(held, fmt.Sprintf("%s (%s, %s wt%%)", f.Name, f.Most.ID, f.Value.Text()))
		}
	}
	if len(held) > 0 {
		sentences = append(sentences, "What was charged holds "+list(held)+", so expect them in the fume and the dust.")
	}
	if text := unknownFumes(found); text != "" {
		sentences = append(sentences, text)
	}
	for _, c := range b.study.Campaign.Cautions() {
		sentences = append(sentences, "In determinations by "+list(c.Methods)+": "+c.Text)
	}
	return strings.Join(append(sentences, acids, capital(caution.Behind)), " ")
}
