package report

import (
	"fmt"

	"smeltbook/assay"
	"smeltbook/assay/source"
	"smeltbook/phase/copper"
	"smeltbook/phase/flow"
	"smeltbook/report/page"
)

// settling is how long drops had to sink, and how far.
type settling struct {
	drop, depth, time float64 // mm (0: the largest that had not sunk), mm, min
}

// leversOf says what would have saved copper of one slag.
func (b *builder) leversOf(s *assay.Sample, cond copperConditions, f formsOf, at settling) (copper.Levers, error) {
	est, why, ok := b.study.Estimate(s.ID)
	if !ok {
		return copper.Levers{}, fmt.Errorf("%s", why)
	}
	if f.why != "" {
		return copper.Levers{}, fmt.Errorf("%s", f.why)
	}
	melt, err := flow.New(est.Melt.Wt, flow.Settings{Crystals: b.study.Crystals(s.ID)})
	if err != nil {
		return copper.Levers{}, err
	}
	x := copper.Situation{Conditions: copper.UnderCopper(cond.tc, cond.lo, cond.hi), Slag: melt, Entrained: f.Metal.Wt,
		Drop: at.drop / 1e3, Depth: at.depth / 1e3, Waited: at.time * 60}
	if x.Drop == 0 {
		bath, _, err := melt.Bath(cond.tc)
		if err != nil {
			return copper.Levers{}, err
		}
		settled, err := bath.Settle(1e-3, x.Depth, x.Waited)
		if err != nil {
			return copper.Levers{}, err
		}
		x.Drop = settled.ClearedSlow
	}
	return copper.WouldHaveSaved(x)
}

// leversTable lists the levers of every slag.
func (b *builder) leversTable(groups pair, cond copperConditions, forms map[string]formsOf, at settling) (*page.Table, source.Notices) {
	t := &page.Table{
		Caption: fmt.Sprintf("What would have let more metal sink, from %.0f °C, in wt%% Cu of the slag. Minus: less copper lost.", cond.tc),
		Columns: []page.Column{{Head: "sample"},
			{Head: "waiting longer", Unit: "for each minute", Sub: "metal settles", Numeric: true},
			{Head: "hotter", Unit: "for 10 °C", Sub: "thinner, metal settles", Numeric: true}},
		Sortable: true, Long: true, Compact: true,
		Notes: []string{"Slopes where the slag stood, for small changes only. Settling counts all metal that may be entrained, from none up to its upper end in the table of forms, as drops of one size; drops that cling to crystals do not settle."},
	}
	var told sampleNotices
	total := 0
	for i, g := range groups {
		for _, s := range g.Samples {
			row := page.Row{Sample: s.ID, Side: sideOf(i), Cells: []page.Cell{sampleCell(s)}}
			l, err := b.leversOf(s, cond, forms[s.ID], at)
			if err != nil {
				absent := page.Cell{Text: "–", Class: page.Absent, Note: err.Error()}
				row.Cells = append(row.Cells, absent, absent)
				t.Rows = append(t.Rows, row)
				continue
			}
			total++
			for _, n := range l.Notices {
				if n.Code == "COPPER_IRON_LIMIT" {
					told.add(s.ID, source.Notices{n})
				}
			}
			for _, x := range []copper.Lever{l.Waiting, l.HotterSettling} {
				lo := x.Change.Lo
				row.Cells = append(row.Cells, page.Cell{Text: shortSpan(x.Change.Lo, x.Change.Hi), Sort: &lo, Note: x.Unit})
			}
			t.Rows = append(t.Rows, row)
		}
	}
	return b.table(t), told.list(total)
}

// leversText says the levers in words: of settling for the piece of middle
// copper of each page, of dissolved copper for all at once, because that
// depends on the conditions alone.
func (b *builder) leversText(groups pair, cond copperConditions, forms map[string]formsOf, at settling) *page.Text {
	t := &page.Text{}
	var last *copper.Levers
	for _, g := range groups {
		s := middle(g.Samples, forms)
		if s == nil {
			continue
		}
		l, err := b.leversOf(s, cond, forms[s.ID], at)
		if err != nil {
			continue
		}
		t.Paragraphs = append(t.Paragraphs, []page.Run{
			{Text: fmt.Sprintf("Would waiting have saved copper? %s, of middle copper in %s. ", s.ID, g.Name), Style: page.Strong},
			{Text: capital(l.Waiting.Sentence) + ". " + capital(l.HotterSettling.Sentence) + "."}})
		last = &l
	}
	if last != nil {
		t.Paragraphs = append(t.Paragraphs, []page.Run{
			{Text: "Would more heat or a more reducing fire have dissolved less? ", Style: page.Strong},
			{Text: formulaText(fmt.Sprintf("The same for all slags, at %s. %s; %s. %s.", cond.text(), capital(last.HotterFixedGas.Sentence), last.HotterFixedPO2.Sentence, capital(last.Reducing.Sentence)))}})
	}
	return t
}
