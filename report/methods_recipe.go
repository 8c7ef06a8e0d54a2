package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/report/page"
)

// recipeTable prints the whole recipe, what the notebook states and what holds
// because it states nothing.
func (b *builder) recipeTable() *page.Table {
	t := &page.Table{
		Caption: "The one recipe by which every analysis, replica and excavated alike, becomes a composition.",
		Columns: []page.Column{{Head: "recipe", Sub: "from"}, {Head: "choice"}, {Head: "what it means"}},
		Notes: []string{"Change a choice under recipe: in the notebook's first lines; it then holds for every sample.",
			"Below detection: nothing is printed as a number; a sum is given as the pair with zero and with the limits; drawn compositions take an even chance from zero to the limit."},
	}
	for _, l := range b.study.Campaign.Config.Recipe.Lines() {
		from := "default"
		if l.Stated {
			from = "notebook"
		}
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{{Text: l.Key, Sub: from}, textCell(recipeValue(l)), textCell(formulaText(capital(l.Means)) + ".")}})
	}
	return b.table(t)
}

// recipeValue prints a choice; ids of samples and names of files stay as they
// are.
func recipeValue(l assay.RecipeLine) string {
	switch l.Key {
	case "iron", "copper", "sulphur":
		return formulaText(strings.ReplaceAll(l.Value, "_", " "))
	}
	return l.Value
}

// sumsTable keeps the sums before and after the recipe side by side.
func (b *builder) sumsTable() *page.Table {
	t := &page.Table{
		Caption: "Sums of the analyses in wt%: as the laboratory gave them, and as they are judged and brought to the basis.",
		Columns: []page.Column{{Head: "sample"}, {Head: "printed", Sub: "by the laboratory", Unit: "wt%", Numeric: true},
			{Head: "parts as given", Unit: "wt%", Numeric: true}, {Head: "after the recipe", Unit: "wt%", Numeric: true}, {Head: "what changed the sum"}},
		Sortable: true, Filterable: true, Long: true,
		Notes: []string{"Less oxygen: taken off where the metal of sulphur, fluorine or chlorine is stated as an oxide. Two numbers are the sum with zero and with the limit for every part below detection. Parts as given: total iron counts in the form of the laboratory, so that a slag with iron as Fe₂O₃ sums high."},
	}
	for _, s := range b.study.Campaign.Samples {
		if len(s.Steps) == 0 || s.Incomplete != "" {
			continue
		}
		changed := []string{}
		steps := s.Steps
		if last := len(steps) - 1; strings.HasPrefix(steps[last].What, "on the basis") {
			steps = steps[:last]
		}
		for i := 1; i < len(steps); i++ {
			d := steps[i].Total.Measured - steps[i-1].Total.Measured
			if math.Abs(d) >= 0.005 {
				changed = append(changed, formulaText(steps[i].What)+" "+change(d))
			}
		}
		printed := page.Cell{Text: "–", Class: page.Absent}
		if q, ok := s.PrintedTotal(); ok {
			v := q.Value
			printed = page.Cell{Text: fmt.Sprintf("%.2f", v), Sort: &v, Note: origin(q.From)}
		}
		t.Rows = append(t.Rows, page.Row{Sample: s.ID, Side: sideOfOrigin(s), Cells: []page.Cell{sampleCell(s), printed, sumCell(steps[0].Total), sumCell(s.Total), textCell(strings.Join(changed, "; "))}})
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return b.table(t)
}

// change prints a difference of sums with its sign.
func change(d float64) string {
	if d < 0 {
		return fmt.Sprintf("%s%.2f", quantity.Minus, -d)
	}
	return fmt.Sprintf("+%.2f", d)
}

// sumCell prints a sum, or the pair that parts below detection leave.
func sumCell(x chem.Sum) page.Cell {
	lo, hi := fmt.Sprintf("%.2f", x.Measured), fmt.Sprintf("%.2f", x.WithLimits)
	v := x.Measured
	c := page.Cell{Text: lo, Sort: &v}
	if lo != hi {
		c.Text = lo + "–" + hi
	}
	if !math.IsNaN(x.U) {
		c.Note = fmt.Sprintf("standard uncertainty %.2f wt%%, from those of the parts", x.U)
	}
	return c
}

// metalTable gives the copper of samples with and without their metal.
func (b *builder) metalTable() *page.Table {
	t := &page.Table{
		Caption: "Copper of the samples whose metal was weighed, with it and without.",
		Columns: []page.Column{{Head: "sample"}, {Head: "with its metal", Unit: "wt% Cu", Numeric: true}, {Head: "slag around it", Unit: "wt% Cu", Numeric: true}},
		Notes:   []string{"From the metal stated under recipe: in the notebook, with the analysis as reported."},
	}
	for _, s := range b.study.Campaign.Samples {
		if s.CopperWith != nil && s.CopperWithout != nil {
			t.Rows = append(t.Rows, page.Row{Sample: s.ID, Side: sideOfOrigin(s), Cells: []page.Cell{sampleCell(s), cellOf(*s.CopperWith), cellOf(*s.CopperWithout)}})
		}
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return b.table(t)
}

// limitsText says how far what was not detected could move the estimates.
func (b *builder) limitsText() string {
	type shift struct {
		sample *assay.Sample
		span   float64
		text   string
	}
	var all []shift
	for _, s := range b.study.Estimated() {
		e, _, _ := b.study.Estimate(s.ID)
		lo, hi := e.WithLimits[0], e.WithLimits[1]
		if math.IsNaN(lo) || math.IsNaN(hi) {
			continue
		}
		text := fmt.Sprintf("%s %.0f and %.0f °C (%s)", s.ID, lo, hi, formulaText(strings.Join(e.Melt.Below, ", ")))
		all = append(all, shift{s, math.Abs(hi - lo), text})
	}
	if len(all) == 0 {
		return ""
	}
	slices.SortStableFunc(all, func(a, c shift) int { return int(math.Copysign(1, c.span-a.span)) })
	var parts []string
	for _, x := range all[:min(3, len(all))] {
		parts = append(parts, x.text)
	}
	r := b.study.Campaign.Config.Recipe
	return fmt.Sprintf("%d slags hold parts below a stated limit, which count as %g of it. The liquidus with all of them as zero, and with all at their limits, differs most in %s; it is in the table of everything computed for each of them.",
		len(all), r.Share(), strings.Join(parts, ", "))
}
