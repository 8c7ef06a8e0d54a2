package report

import (
	"context"
	"fmt"
	"strings"

	"smeltbook/assay/source"
	"smeltbook/report/figure"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
	"smeltbook/report/study"
)

// Place is where a figure or a table stands in the notebook.
type Place struct {
	Entry  int    // number of the entry, from 1
	Kind   string // of the entry
	Name   string // that the notebook gave the entry; empty where it gave none
	Title  string // of the entry
	Number int    // of the figure or the table, as the report counts
}

func placeOf(e *page.Entry, number int) Place {
	return Place{e.Number, e.Kind, e.Name, e.Title, number}
}

// At returns the place itself, so that whatever has one can be chosen by it.
func (p Place) At() Place { return p }

// Drawn is a figure of a report and its place in the notebook.
type Drawn struct {
	Place
	Figure figure.Figure
}

// Name is a name for files of the figure, without an ending. It changes only
// when entries or figures before it come or go.
func (d Drawn) Name() string {
	return fmt.Sprintf("%02d-%s-figure-%d", d.Entry, d.Kind, d.Number)
}

// Figures describes every figure of the report, in order. When the notebook
// asks for something that cannot be given, the notices hold errors.
func Figures(ctx context.Context, s *study.Study, n *notebook.Notebook) ([]Drawn, source.Notices, error) {
	b, _, err := build(ctx, s, n, Options{})
	return b.drawn, b.notices, err
}

// Captions is a text that belongs beside the files of figures: for each its
// number, its caption and its description for readers who cannot see it.
func Captions(title string, figures []Drawn) string {
	var out strings.Builder
	if title != "" {
		fmt.Fprintf(&out, "%s\n\n", title)
	}
	for i, d := range figures {
		if i == 0 || figures[i-1].Entry != d.Entry {
			fmt.Fprintf(&out, "Entry %d, %s\n\n", d.Entry, d.Title)
		}
		fmt.Fprintf(&out, "%s\nFigure %d. %s\nAlternative text: %s\n\n", d.Name(), d.Number, d.Figure.Caption, d.Figure.Alt)
	}
	return strings.TrimRight(out.String(), "\n") + "\n"
}
