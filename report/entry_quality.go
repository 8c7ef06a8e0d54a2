package report

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"smeltbook/assay/audit"
	"smeltbook/assay/chem"
	"smeltbook/assay/quality"
	"smeltbook/assay/quantity"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
)

// qualityOptions are those of a quality entry.
type qualityOptions struct {
	Groups  []string // how the samples of the figure of two methods are told apart
	Show    string   // its analyte
	Kind    string   // its kind of sample
	Control string   // the control of the chart
	Chart   string   // its analyte
}

// qualityEntry sums up what the controls of the laboratories say, and what each
// value is fit for.
func qualityEntry(_ context.Context, b *builder, e *notebook.Entry, out *page.Entry) error {
	var o qualityOptions
	if !b.options(e, &o) {
		return nil
	}
	groups, ok := b.groups(e, o.Groups)
	if !ok {
		return nil
	}
	a := b.audit()
	series, bridge := b.chosenSeries(e, a, o), b.chosenBridge(e, a, o)
	why := &reasons{}
	out.Parts = append(out.Parts, verdictWords(a), b.verdictTable(a, why))
	if ns := a.Notices(); len(ns) > 0 {
		for i := range ns {
			ns[i].Message = analytesIn(ns[i].Message)
		}
		out.Parts = append(out.Parts, &page.Notices{List: ns})
	}
	for _, t := range []*page.Table{b.totalsTable(a), b.referenceTable(a), b.repeatTable(a), b.blankTable(a)} {
		if t != nil {
			out.Parts = append(out.Parts, b.table(t))
		}
	}
	if series != nil {
		fig, err := b.chartFigure(*series)
		if err != nil {
			return err
		}
		out.Parts = append(out.Parts, fig)
	}
	if t := b.bridgeTable(a); t != nil {
		out.Parts = append(out.Parts, b.table(t))
	}
	if bridge != nil {
		fig, err := b.bridgeFigure(*bridge, groups)
		if err != nil {
			return err
		}
		out.Parts = append(out.Parts, fig)
	}
	out.Parts = append(out.Parts, b.table(valueVerdicts(a, why)))
	out.Margin = append(out.Margin, "Nothing is changed by this entry", "Where a certified value is from stands in the methods, and behind the value itself")
	return nil
}

// verdictWords sums all verdicts up in a sentence.
func verdictWords(a *audit.Audit) *page.Text {
	var n audit.Count
	for _, g := range a.Groups() {
		n.Use, n.Care, n.Reject = n.Use+g.Use, n.Care+g.Care, n.Reject+g.Reject
	}
	return page.Lines(fmt.Sprintf("Of %d values that go into compositions and estimates %d are fit for use, %d are to be used with care and %d are not to be used before their cause is found.",
		n.Use+n.Care+n.Reject, n.Use, n.Care, n.Reject))
}

// verdictTable says, by method and analyte, how many values are fit for use.
func (b *builder) verdictTable(a *audit.Audit, why *reasons) *page.Table {
	t := &page.Table{
		Caption: "What the values are fit for: those that go into compositions and estimates, by method and analyte.",
		Columns: []page.Column{{Head: "analyte"}, {Head: "method"}, {Head: "use", Numeric: true}, {Head: "with care", Numeric: true}, {Head: "do not use", Numeric: true}, {Head: "because"}},
		Notes:   []string{"“Use” needs a reference material of like content that reads right, repeats that scatter no more than the ± says, a value above the limits that blanks give, and a sound total. A reason may hold for some of the values only; the last table of this entry tells which."},
	}
	for _, g := range a.Groups() {
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{
			textCell(formulaText(g.Analyte)), textCell(g.Method), countCell(g.Use, page.Ordinary), countCell(g.Care, page.Ordinary), countCell(g.Reject, page.Flagged),
			textCell(why.letters(g.Reasons)),
		}})
	}
	for i, r := range why.known {
		t.Notes = append(t.Notes, letter(i)+": "+analytesIn(r)+".")
	}
	return b.table(t)
}

func countCell(n int, class page.Class) page.Cell {
	x := float64(n)
	if n == 0 {
		return page.Cell{Text: "–", Class: page.Absent, Sort: &x}
	}
	return page.Cell{Text: fmt.Sprint(n), Class: class, Sort: &x}
}

// verdictSigns are set in the cells of the table of all values.
var verdictSigns = map[quality.Verdict]string{quality.Use: "use", quality.Care: "care", quality.Reject: "no"}

// valueVerdicts lists every value with its verdict.
func valueVerdicts(a *audit.Audit, why *reasons) *page.Table {
	t := &page.Table{
		Caption: "Verdict on every value of every sample that is not simply fit for use, with its reasons by letter.",
		Columns: []page.Column{{Head: "sample"}, {Head: "analyte"}, {Head: "value", Unit: "wt%", Numeric: true}, {Head: "method"}, {Head: "verdict"}, {Head: "because"}},
		Long:    true, Sortable: true, Filterable: true, Compact: true,
	}
	fit := 0
	for _, s := range a.Verdicts() {
		for _, v := range s.Values {
			if v.Verdict() == quality.Use {
				fit++
				continue
			}
			var found []string
			for _, f := range v.Findings {
				found = append(found, f.Reason)
			}
			class := page.Ordinary
			if v.Verdict() == quality.Reject {
				class = page.Flagged
			}
			t.Rows = append(t.Rows, page.Row{Sample: s.Sample.ID, Cells: []page.Cell{
				textCell(s.Sample.ID), textCell(formulaText(v.Analyte)), inOneLine(cellOf(v.Quantity)), textCell(v.Method),
				{Text: verdictSigns[v.Verdict()], Class: class}, textCell(why.letters(found)),
			}})
		}
	}
	t.Notes = []string{fmt.Sprintf("%d further values are fit for use. The letters stand for the reasons under the first table of this entry.", fit)}
	return t
}

// reasons are given letters in the order in which they are met.
type reasons struct{ known []string }

func (r *reasons) letters(of []string) string {
	var out []string
	for _, x := range of {
		i := slices.Index(r.known, x)
		if i < 0 {
			i = len(r.known)
			r.known = append(r.known, x)
		}
		out = append(out, letter(i))
	}
	slices.Sort(out)
	return strings.Join(out, ", ")
}

// letter is a, b, … z, a2, b2, …
func letter(i int) string {
	s := string(rune('a' + i%26))
	if i >= 26 {
		s += fmt.Sprint(i/26 + 1)
	}
	return s
}

// analytesIn sets the formulas of a sentence, and nothing else: the names of
// control materials end in numbers too.
func analytesIn(sentence string) string {
	words := strings.Split(sentence, " ")
	for i, w := range words {
		if bare := strings.Trim(w, ",;:()"); bare != "" {
			if _, ok := chem.LookupAnalyte(bare); ok {
				words[i] = strings.Replace(w, bare, formulaText(bare), 1)
			}
		}
	}
	return strings.Join(words, " ")
}

// numberWithU prints a value to the place of its uncertainty, with it on a line
// of its own.
func numberWithU(x, u float64, note string) page.Cell {
	return cellOf(quantity.WithU(x, u, "wt%", note))
}
