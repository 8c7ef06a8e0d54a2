package report

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"smeltbook/assay/logratio/effects"
	"smeltbook/assay/source"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
)

// effectsText is the result in plain sentences.
func effectsText(x effectsOf) *page.Text {
	var firm []string
	varied := 0
	for k, f := range x.fits {
		varied = max(varied, len(f.Effects))
		for _, e := range f.Effects {
			if e.Firm {
				value, span := effectWords(x.outcomes[k], e)
				firm = append(firm, fmt.Sprintf("%s on %s (%s for one step, 95 %% %s)", e.Setting, x.outcomes[k].Name, value, span))
			}
		}
	}
	first := "No effect is firm: none has a 95 % interval that excludes zero with the prior as stated, halved and doubled alike."
	if len(firm) > 0 {
		first = "Firm, whether the prior is as stated, halved or doubled: " + strings.Join(firm, "; ") + "."
	}
	second := fmt.Sprintf("%d firings in which %d settings varied can tell at most %d of them apart, and none for sure when several changed together.", len(x.runs), varied, min(varied, len(x.runs)-1))
	if told := constantOf(x.fits); told != "" {
		second += " Left out: " + told + "."
	}
	second += " An effect is that of a setting and of whatever went with it unrecorded: weather, practice, the wall."
	return &page.Text{Paragraphs: [][]page.Run{{{Text: formulaText(first), Style: page.Strong}}, {{Text: formulaText(second)}}}}
}

func constantOf(fits []effects.Fit) string {
	var out []string
	seen := map[string]bool{}
	for _, f := range fits {
		for _, c := range f.Constant {
			if !seen[c] {
				seen[c] = true
				out = append(out, c)
			}
		}
	}
	return strings.Join(out, "; ")
}

// effectsTable lists every effect.
func (b *builder) effectsTable(x effectsOf) *page.Table {
	t := &page.Table{
		Caption: "The effects in the units of the results. A step is one standard deviation of the setting.",
		Columns: []page.Column{{Head: "result"}, {Head: "setting"}, {Head: "step", Numeric: true}, {Head: "change for a step", Sub: "95 %", Numeric: true},
			{Head: "P upwards", Numeric: true}, {Head: "told by the firings", Unit: "%", Numeric: true}, {Head: "mixed with"}},
		Notes: []string{"Told by the firings: how much of an effect the data show; the rest is the prior, which draws towards zero. Mixed with: settings that went up and down with this one, and how much of their effect shows here. Bold: zero excluded with the prior as stated, halved and doubled. A balance changes by a factor."},
	}
	for k, f := range x.fits {
		for j, e := range f.Effects {
			value, span := effectWords(x.outcomes[k], e)
			change := page.Cell{Text: value, Sub: span, Sort: &e.PerSD}
			if e.Firm {
				change.Class = page.Clear
			}
			name := ""
			if j == 0 {
				name = formulaText(x.outcomes[k].Name)
			}
			up := e.Up
			t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{textCell(name), textCell(formulaText(e.Setting)),
				textCell(withUnitText(f.SD[j], settingUnit(x.settings, e.Setting))), change,
				{Text: probability(up), Sort: &up}, numberCell(100*e.Resolution, 0), textCell(formulaText(mixed(e)))}})
		}
	}
	return b.table(t)
}

func withUnitText(v float64, unit string) string { return strings.TrimSpace(short(v) + " " + unit) }

func settingUnit(settings []effects.Setting, name string) string {
	for _, s := range settings {
		if s.Name == name {
			return s.Unit
		}
	}
	return ""
}

// firingsTable shows what went in.
func (b *builder) firingsTable(x effectsOf) *page.Table {
	t := &page.Table{Caption: "Settings and results of the firings as they went in; results are means of the pieces, of balances the ratio of geometric means.", Columns: []page.Column{{Head: "firing"}}, Long: true, Compact: true}
	for _, s := range x.settings {
		t.Columns = append(t.Columns, page.Column{Head: formulaText(s.Name), Unit: s.Unit, Numeric: true})
	}
	for _, y := range x.outcomes {
		t.Columns = append(t.Columns, page.Column{Head: formulaText(y.Name), Unit: y.Unit, Numeric: true})
	}
	for i, r := range x.runs {
		row := page.Row{Cells: []page.Cell{{Text: r.ID, Note: r.At.String()}}}
		for _, s := range x.settings {
			row.Cells = append(row.Cells, roughCell(s.Values[i]))
		}
		for _, y := range x.outcomes {
			v := y.Values[i]
			if y.balance {
				v = math.Exp(v)
			}
			row.Cells = append(row.Cells, roughCell(v))
		}
		t.Rows = append(t.Rows, row)
	}
	return b.table(t)
}

// roughCell prints a number to about three figures.
func roughCell(v float64) page.Cell {
	if math.IsNaN(v) {
		return page.Cell{Text: "–", Class: page.Absent}
	}
	decimals := 0
	if a := math.Abs(v); a > 0 && a < 100 {
		decimals = 2 - int(math.Floor(math.Log10(math.Max(a, 0.01))))
	}
	return numberCell(v, min(decimals, 3))
}

// planParts says what to fire next; ok is false where the notebook asks for
// what cannot be planned.
func (b *builder) planParts(ctx context.Context, e *notebook.Entry, x effectsOf, stated map[string][]float64, prior effects.Prior, firings int) (parts []page.Part, ok bool, err error) {
	var levels []effects.Levels
	var names []string
	for _, s := range x.settings {
		names = append(names, s.Name)
		l := effects.Levels{Setting: s, Levels: stated[s.Name]}
		lo, hi := extent(s.Values)
		if l.Levels == nil && hi > lo {
			l.Levels = []float64{lo, hi}
		}
		if len(l.Levels) > 1 {
			levels = append(levels, l)
		}
	}
	for _, name := range sortedKeys(stated) {
		if !slices.Contains(names, name) {
			b.fail(e, "UNKNOWN_SETTING", "levels: there is no setting %q%s", name, source.DidYouMean(name, names))
			return nil, false, nil
		}
	}
	p, err := effects.Next(ctx, levels, firings, prior, b.study.Conditions.Seed)
	if err != nil {
		return nil, false, b.refused(ctx, e, err)
	}
	t := &page.Table{
		Caption: fmt.Sprintf("What to fire next to learn most about these effects: %d firings, in this order (shuffled by seed %d). They are worth about %s bits.", firings, b.study.Conditions.Seed, short(p.Information)),
		Columns: []page.Column{{Head: "order"}},
		Notes:   []string{"Chosen so that the effects are known best together, given the firings there are (Bayesian D-optimal design), among the levels stated, else the lowest and the highest so far. Whether a combination is safe and makes sense in the furnace is for those who fire it: leave out what is not, and ask again with other levels."},
	}
	for _, l := range levels {
		t.Columns = append(t.Columns, page.Column{Head: formulaText(l.Name), Unit: l.Unit, Numeric: true})
	}
	for i, run := range p.Runs {
		row := page.Row{Cells: []page.Cell{textCell(fmt.Sprint(i + 1))}}
		for _, v := range run {
			row.Cells = append(row.Cells, roughCell(v))
		}
		t.Rows = append(t.Rows, row)
	}
	known := func(name string, sd []float64) page.Row {
		row := page.Row{Cells: []page.Cell{textCell(name)}}
		for _, v := range sd {
			row.Cells = append(row.Cells, numberCell(v, 2))
		}
		return row
	}
	u := &page.Table{
		Caption: fmt.Sprintf("How well each effect is known, as standard deviation in scatters between like firings: %s before any firing.", short(p.Prior)),
		Columns: append([]page.Column{{Head: ""}}, t.Columns[1:]...),
		Rows:    []page.Row{known("now", p.Before), known("after the plan", p.After)},
	}
	for i := range u.Columns {
		u.Columns[i].Unit = "" // scatters, as the caption says
	}
	return []page.Part{b.table(t), b.table(u)}, true, nil
}
