package report

import (
	"fmt"
	"math"
	"strings"

	"smeltbook/assay/audit"
	"smeltbook/assay/quality"
	"smeltbook/assay/quantity"
	"smeltbook/report/page"
)

// totalsTable judges the sums by the method of the silica; nil without any.
func (b *builder) totalsTable(a *audit.Audit) *page.Table {
	if len(a.Totals) == 0 {
		return nil
	}
	t := &page.Table{
		Caption: "Sums of the analyses as reported, wt%, by the method that gave the silica.",
		Columns: []page.Column{{Head: "method"}, {Head: "samples", Numeric: true}, {Head: "lowest", Numeric: true}, {Head: "highest", Numeric: true},
			{Head: "good", Numeric: true}, {Head: "accepted", Numeric: true}, {Head: "look", Numeric: true}, {Head: "do not", Sub: "normalise", Numeric: true}},
	}
	for _, x := range a.Totals {
		counts := map[quality.TotalVerdict]int{}
		for _, s := range x.Sums {
			counts[s.Verdict]++
		}
		lo, hi := x.Range()
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{textCell(x.Method), countCell(len(x.Sums), page.Ordinary), numberCell(lo, 1), numberCell(hi, 1),
			countCell(counts[quality.TotalGood], page.Ordinary), countCell(counts[quality.TotalAccepted], page.Ordinary),
			countCell(counts[quality.TotalLook], page.Flagged), countCell(counts[quality.TotalRefused], page.Flagged)}})
		switch l := x.Limits; {
		case l == quality.TotalLimits{}:
			t.Notes = append(t.Notes, x.Method+": the sum tests nothing, because the method does not see all elements.")
		default:
			t.Notes = append(t.Notes, fmt.Sprintf("%s: good %g to %g, accepted %g to %g, a cause to be found outside, not to be normalised outside %g to %g (common practice; the notebook can set its own).",
				x.Method, l.Good[0], l.Good[1], l.Accept[0], l.Accept[1], l.Use[0], l.Use[1]))
		}
		if n := counts[quality.TotalNormalised]; n > 0 {
			t.Notes = append(t.Notes, fmt.Sprintf("%d of the sums by %s are not judged: they were normalised before they were sent.", n, x.Method))
		}
	}
	return t
}

// referenceTable lists all scores; nil without reference materials.
func (b *builder) referenceTable(a *audit.Audit) *page.Table {
	if len(a.References) == 0 {
		return nil
	}
	t := &page.Table{
		Caption: "Reference materials: what was found, ± standard uncertainty of the mean, beside the certified value, ± its standard uncertainty.",
		Columns: []page.Column{{Head: "material"}, {Head: "analyte"}, {Head: "method"}, {Head: "n", Numeric: true}, {Head: "found", Unit: "wt%", Numeric: true}, {Head: "certified", Unit: "wt%", Numeric: true},
			{Head: "recovery", Unit: "%", Numeric: true}, {Head: "z′", Numeric: true}, {Head: "ζ", Numeric: true}, {Head: "Eₙ", Numeric: true}},
		Long: true, Sortable: true, Filterable: true,
		Notes: []string{"z′ weighs the difference with the standard deviation wanted and the uncertainty of the certificate, ζ with both uncertainties, Eₙ with both expanded ones (k = 2), after ISO 13528. Beyond 2 a z′ or ζ is a warning, beyond 3 it asks for action; an Eₙ does beyond 1. What is wanted is the modified Horwitz function (Thompson 2000, Analyst 125:385) where the notebook does not say otherwise."},
	}
	for _, r := range a.References {
		note := fmt.Sprintf("%s; wanted: %.2g wt%%, %s", r.Certified.Citation, r.Sigma, r.Target)
		if r.Certified.Basis != "" {
			note += "; " + r.Certified.Basis
		}
		recovery := cellOf(quantity.WithU(r.Bias.Recovery, r.Bias.URecovery, "%", ""))
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{
			textCell(r.Material), textCell(formulaText(r.Analyte)), textCell(r.Method), countCell(r.Mean.N, page.Ordinary),
			cellOf(quantity.WithU(r.Mean.Value, r.Mean.U, "wt%", "", r.From...)), numberWithU(r.Certified.Value, r.UCertified, r.UNote+"; "+note), recovery,
			scoreCell(r.Scores.ZPrime, quality.MarkZ(r.Scores.ZPrime)), scoreCell(r.Scores.Zeta, quality.MarkZ(r.Scores.Zeta)), scoreCell(r.Scores.En, quality.MarkEn(r.Scores.En)),
		}})
	}
	return t
}

func scoreCell(z float64, m quality.Mark) page.Cell {
	c := numberCell(math.Round(10*z)/10+0, 1) // no −0.0
	if m != quality.MarkFine && !math.IsNaN(z) {
		c.Class = page.Flagged
	}
	return c
}

// repeatTable says how well each method repeats itself; nil without repeats.
func (b *builder) repeatTable(a *audit.Audit) *page.Table {
	if len(a.Repeats) == 0 {
		return nil
	}
	t := &page.Table{
		Caption: "Repeats: scatter of one reading, from duplicates of samples and from controls read more than once.",
		Columns: []page.Column{{Head: "of"}, {Head: "analyte"}, {Head: "method"}, {Head: "readings", Numeric: true}, {Head: "mean", Unit: "wt%", Numeric: true}, {Head: "s", Unit: "wt%", Numeric: true},
			{Head: "limit r", Unit: "wt%", Numeric: true}, {Head: "RSD", Unit: "%", Numeric: true}, {Head: "± says", Unit: "%", Numeric: true}, {Head: "HorRat", Numeric: true}},
		Long: true, Sortable: true, Filterable: true,
		Notes: []string{"s is pooled, for pairs √(Σd²/2n); two readings of one sample differ by more than r = 2.8 s once in twenty (ISO 5725-6). RSD pools the relative scatter of each. HorRat is RSD over what Horwitz's function predicts between laboratories; within one laboratory a half to two thirds is usual. Normal errors are assumed, which prills and specks of matte break."},
	}
	var line []string
	for _, r := range a.Repeats {
		class := page.Ordinary
		if r.Beyond {
			class = page.Flagged
		}
		says := page.Cell{Text: "–", Class: page.Absent}
		if r.Stated > 0 {
			x := r.Stated
			says = page.Cell{Text: short(x), Sort: &x}
			if r.Assumed {
				says.Note = "assumed by method: the sheet states none"
			}
		}
		rsd, sd, limit, mean := r.RSD, r.SD, quality.RepeatabilityLimit(r.SD), r.Mean
		ratio := absent
		if !math.IsNaN(r.HorRat) {
			ratio = page.Cell{Text: short(r.HorRat), Sort: &r.HorRat}
		}
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{
			textCell(r.What()), textCell(formulaText(r.Analyte)), textCell(r.Method), countCell(r.DoF+r.Groups, page.Ordinary),
			{Text: significantText(mean), Sort: &mean}, {Text: short(sd), Sort: &sd}, {Text: short(limit), Sort: &limit}, {Text: short(rsd), Sort: &rsd, Class: class}, says, ratio,
		}})
		if r.Line != nil {
			line = append(line, fmt.Sprintf("%s by %s, s = %.2g + %.2g c from %d pairs", formulaText(r.Analyte), r.Method, r.Line.S0, r.Line.K, r.Line.Pairs))
		}
	}
	if len(line) > 0 {
		t.Notes = append(t.Notes, "Scatter against content after Thompson & Howarth 1976: "+strings.Join(line, "; ")+".")
	}
	return t
}

// significantText prints a number to three figures.
func significantText(x float64) string {
	v, _ := quantity.Number(x, math.Abs(x)/100*1.0001)
	return v
}

// blankTable lists what blanks say; nil without blanks.
func (b *builder) blankTable(a *audit.Audit) *page.Table {
	if len(a.Blanks) == 0 {
		return nil
	}
	t := &page.Table{
		Caption: "Blanks and limits of detection, wt%.",
		Columns: []page.Column{{Head: "analyte"}, {Head: "method"}, {Head: "blanks", Numeric: true}, {Head: "mean", Numeric: true}, {Head: "s", Numeric: true},
			{Head: "critical", Numeric: true}, {Head: "detection", Numeric: true}, {Head: "quantification", Numeric: true}, {Head: "stated", Sub: "by the laboratory", Numeric: true}},
		Long: true, Sortable: true,
		Notes: []string{"Limits after Currie 1995 (Pure and Applied Chemistry 67:1699) with Student's t for few blanks: above “critical” something is there, at “detection” it is missed once in twenty, from “quantification” its relative standard deviation is below a tenth. Of blanks below the laboratory's own limit no numbers are made."},
	}
	for _, x := range a.Blanks {
		cells := []page.Cell{textCell(formulaText(x.Analyte)), textCell(x.Method), countCell(x.N, page.Ordinary)}
		if x.HasLimits() {
			class := page.Ordinary
			if a.Matters(x) {
				class = page.Flagged
			}
			cells = append(cells, page.Cell{Text: short(x.Mean), Class: class, Note: origin(x.From)}, textCell(short(x.SD)), textCell(short(x.Limits.Critical)), textCell(short(x.Limits.Detection)), textCell(short(x.Limits.Quantification)))
		} else {
			below := page.Cell{Text: "–", Class: page.Absent}
			if x.Below == x.N {
				below = page.Cell{Text: "all below", Class: page.Censored}
			}
			cells = append(cells, below, absent, absent, absent, absent)
		}
		stated := absent
		if x.Stated > 0 {
			stated = textCell(short(x.Stated))
		}
		t.Rows = append(t.Rows, page.Row{Cells: append(cells, stated)})
	}
	return t
}

var absent = page.Cell{Text: "–", Class: page.Absent}

// bridgeTable sets handheld readings beside the laboratory; nil without any.
func (b *builder) bridgeTable(a *audit.Audit) *page.Table {
	t := &page.Table{
		Caption: "Handheld readings beside the laboratory, kind by kind: y (handheld) against x (laboratory), wt%.",
		Columns: []page.Column{{Head: "analyte"}, {Head: "of"}, {Head: "against"}, {Head: "n", Numeric: true}, {Head: "ratio y/x", Numeric: true}, {Head: "intercept", Numeric: true}, {Head: "slope", Numeric: true}, {Head: "MSWD", Numeric: true},
			{Head: "robust slope", Numeric: true}},
		Notes: []string{"Ratio: geometric mean, and below it the span that holds 95 in 100 ratios. Line with errors in both methods after York et al. 2004 (American Journal of Physics 72:367), uncertainties widened by √MSWD where the scatter is more than the ± of both methods explain; robust slope after Passing & Bablok 1983 with its 95 % interval. A line needs five samples that differ by half or more."},
	}
	for _, x := range a.Bridges {
		if len(x.Points) < 2 {
			continue
		}
		ratio := page.Cell{Text: fmt.Sprintf("%.2f", x.Ratio.Mean), Sub: fmt.Sprintf("%.2f–%.2f", x.Ratio.Low, x.Ratio.High)}
		if audit.Off(x) {
			ratio.Class = page.Flagged
		}
		row := []page.Cell{textCell(formulaText(x.Analyte)), textCell(x.Kind), textCell(list(x.To)), countCell(len(x.Points), page.Ordinary), ratio}
		if x.Why != "" {
			none := absent
			none.Note = x.Why
			row = append(row, none, none, none, none)
		} else {
			l := x.Line.Scaled()
			robust := page.Cell{Text: fmt.Sprintf("%.2f", x.Robust.B), Sub: fmt.Sprintf("%.2f–%.2f", x.Robust.BLow, x.Robust.BTop)}
			if audit.Disagree(x) {
				robust.Class = page.Flagged
			}
			row = append(row, numberWithU(l.A, l.UA, ""), numberWithU(l.B, l.UB, ""), page.Cell{Text: short(l.MSWD)}, robust)
		}
		t.Rows = append(t.Rows, page.Row{Cells: row})
	}
	if len(t.Rows) == 0 {
		return nil
	}
	if n := len(b.study.Campaign.Config.Recipe.Correct); n > 0 {
		t.Notes = append(t.Notes, "The readings are shown as they were before the corrections that the notebook declares.")
	} else {
		t.Notes = append(t.Notes, "No reading is corrected: the notebook declares none.")
	}
	return t
}
