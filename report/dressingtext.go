package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"smeltbook/assay/dressing"
	"smeltbook/assay/quantity"
	"smeltbook/report/page"
)

// dressingText says in plain sentences what became of the copper in each
// circuit, and whether its readings agree.
func dressingText(circuits []*dressing.Reconciled) *page.Text {
	var lines []string
	for _, r := range circuits {
		lines = append(lines, circuitSentence(r), agreementSentence(r))
	}
	return page.Lines(lines...)
}

func circuitSentence(r *dressing.Reconciled) string {
	var parts []string
	ends := r.Ends(dressing.Balanced, 0)
	rank := []dressing.Role{dressing.Concentrate, dressing.Middlings, dressing.Tailings, dressing.Lost}
	slices.SortStableFunc(ends, func(a, b dressing.Performance) int {
		return slices.Index(rank, a.Product.Role) - slices.Index(rank, b.Product.Role)
	})
	for _, p := range ends {
		cu, ok := p.Of(dressing.Copper)
		if !ok || !p.Yield.Known() || !cu.Recovery.Known() {
			continue
		}
		name := firstOf(p.Stage) + " " + string(p.Product.Role)
		text := fmt.Sprintf("%s of the copper is in the %s", percent(cu.Recovery).WithUnit(), name)
		if p.Product.Role == dressing.Concentrate {
			text = fmt.Sprintf("the %s is %s of the mass and holds %s of the copper, at %s Cu, %s times the feed",
				nameOf(p), percent(p.Yield).WithUnit(), percent(cu.Recovery).WithUnit(), cu.Product.WithUnit(), cu.Enrichment.Text())
		}
		if p.Product.Role == dressing.Lost {
			text = fmt.Sprintf("%s of the copper was lost in %s", percent(cu.Recovery).WithUnit(), firstOf(p.Stage))
		}
		parts = append(parts, text)
	}
	if len(parts) == 0 {
		return fmt.Sprintf("Circuit %s: what became of the copper is not known, for weights or assays are missing.", r.Circuit.Name)
	}
	return fmt.Sprintf("Circuit %s, fed with %s: %s.", r.Circuit.Name, orWord(r.Circuit.Stages[0].Feed.Product, "ore"), strings.Join(parts, "; "))
}

func nameOf(p dressing.Performance) string {
	name := firstOf(p.Stage) + " " + string(p.Product.Role)
	if p.Product.Product != "" {
		name += " (" + p.Product.Product + ")"
	}
	return name
}

func firstOf(stage string) string {
	word, _, _ := strings.Cut(stage, " ")
	return word
}

func orWord(s, otherwise string) string {
	if s == "" {
		return otherwise
	}
	return s
}

// agreementSentence tells the global test.
func agreementSentence(r *dressing.Reconciled) string {
	if r.DoF == 0 {
		return fmt.Sprintf("Nothing checks the readings of circuit %s: every balance is used up by something that was not weighed or assayed, so a wrong reading would go unseen.", r.Circuit.Name)
	}
	verdict := "weights and assays agree within their uncertainties"
	switch {
	case r.P < 0.05:
		verdict = "weights and assays do not agree within their uncertainties: either the uncertainties are stated too small, or a reading is wrong"
	case r.P > 0.99:
		verdict = "weights and assays agree better than their uncertainties would have it, which may be stated too large"
	}
	return fmt.Sprintf("The readings of circuit %s are checked by %s: chi-square %.1f, and so much or more is to be expected in %s of cases; %s.",
		r.Circuit.Name, counted(r.DoF, "independent balance"), r.Chi2, chanceText(r.P), verdict)
}

func chanceText(p float64) string {
	switch {
	case math.IsNaN(p):
		return "–"
	case p < 0.001:
		return "less than 0.1 %"
	}
	return short(100*p) + " %"
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// percentCell prints a share in per cent, its absence explained.
func percentCell(q quantity.Quantity, absent string) page.Cell { return orCell(percent(q), absent) }
