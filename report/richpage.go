package report

import (
	"fmt"
	"math"
	"strings"

	"smeltbook/assay/balance"
	"smeltbook/assay/quantity"
	"smeltbook/report/figure"
	"smeltbook/report/page"
)

// text says in plain sentences how rich the ore had to be.
func (r *richness) text() *page.Text {
	first := r.stocks[0]
	lines := []string{fmt.Sprintf("How rich must the ore be? With gangue like that of %s, slag brought to FeO/SiO₂ %s and %s wt%% Cu left in it (%s), an ore below %s wt%% Cu gives no metal at all (95 %% of the draws: %s to %s): its slag holds everything.",
		first.name, short(r.ratio.Value), r.slagCu.Text(), r.slagCuFrom, short(r.mid), short(r.low), short(r.hi))}
	if r.best {
		lines = append(lines, "This is the best case: drops of metal that did not sink come on top. Name a group of slags like those you make with slag: to count them in.")
	}
	var parts []string
	bestAt, best := -1, 0.0
	for i, s := range r.stocks {
		text := fmt.Sprintf("%s (%s wt%% Cu) would give %s of its copper and %s kg of slag for a kilogram of it", s.name, s.grade.Text(), shareSpan(s.gives), perCopperText(s.gives))
		if s.mined.Known() && s.mined.Value < 1 {
			text += fmt.Sprintf(", which with what dressing lost is %s %% of the copper mined", short(100*s.mined.Value*s.gives.Won))
		}
		if s.mined.Known() && s.mined.Value*s.gives.Won > best {
			bestAt, best = i, s.mined.Value*s.gives.Won
		}
		parts = append(parts, text)
	}
	lines = append(lines, capital(strings.Join(parts, "; "))+".")
	if bestAt >= 0 && len(r.stocks) > 1 {
		lines = append(lines, fmt.Sprintf("Counted on the copper mined, %s would give the most if each of these slags ran and parted from its metal equally well. They do not: a charge that makes little slag runs on less charcoal and in less time, and a charge that does not run gives nothing. So dress until the slag is little enough for your furnace, and no further than the copper thrown away is worth.", r.stocks[bestAt].name))
	}
	if line := r.firedText(); line != "" {
		lines = append(lines, line)
	}
	return page.Lines(lines...)
}

func shareSpan(g balance.Graded) string {
	return fmt.Sprintf("%s %% (%s to %s)", short(100*g.Won), short(100*g.Low), short(100*g.High))
}

func perCopperText(g balance.Graded) string {
	if !g.SlagPerCopper.Known() {
		return "any amount of"
	}
	return g.SlagPerCopper.Text()
}

// richTable is one row an ore.
func (b *builder) richTable(r *richness) *page.Table {
	t := &page.Table{
		Caption: fmt.Sprintf("What ores of different dressing give, for one kilogram of dry ore; slag brought to FeO/SiO₂ %s%s, at %g °C.", short(r.ratio.Value), withFlux(r.flux), r.tc),
		Columns: []page.Column{{Head: "ore"}, {Head: "Cu", Unit: "wt%", Numeric: true},
			{Head: "flux", Unit: "kg/kg ore", Numeric: true}, {Head: "slag", Unit: "kg/kg ore", Numeric: true}, {Head: "slag", Unit: "kg/kg Cu won", Numeric: true},
			{Head: "Cu won", Unit: "%", Sub: "of the ore's, 95 %", Numeric: true}, {Head: "Cu won", Unit: "%", Sub: "of the mined", Numeric: true},
			{Head: "heat", Unit: "MJ/kg ore", Sub: "of the charge alone", Numeric: true}, {Head: "charcoal", Unit: "kg/kg Cu won", Sub: "at least", Numeric: true}},
		Notes: []string{
			"Stoichiometry: all gangue goes to the slag with iron as FeO, the slag holds the copper stated, all other copper is won as metal. It holds for a charge that melts through; what the furnace loses in matte, spills and unburnt ore is not in it. ± and ranges come from the analyses, the copper of the slag and the amounts of ash and wall, by Monte Carlo.",
			"Heat is that of the charge: reactions, molten slag and metal. Charcoal is what this heat takes with half of the carbon leaving as CO at 800 °C (assumed); walls, ground and the open top of a small furnace take several times more, so it tells the ores apart and is no recipe."}}
	if len(r.with) > 0 {
		t.Notes = append(t.Notes, "With each kilogram of ore: "+list(r.with)+".")
	}
	if len(r.without) > 0 {
		t.Notes = append(t.Notes, "Left out, because the sheets do not tell of it: "+list(r.without)+".")
	}
	for _, s := range r.stocks {
		won := 100 * s.gives.Won
		per := page.Cell{Text: "–", Class: page.Absent, Note: "within the uncertainty no metal is won"}
		if s.gives.SlagPerCopper.Known() {
			per = cellOf(s.fuel.Scale(1/s.gives.Copper.Value, "kg"))
		}
		mined := page.Cell{Text: "–", Class: page.Absent, Note: "no circuit of dressing makes this ore"}
		if s.mined.Known() {
			m := s.mined.Value * won
			mined = page.Cell{Text: short(m), Sort: &m, Note: "share of the mined copper in this ore times what is won of it"}
			if s.mined.Value < 1 {
				mined.Sub = short(100*s.mined.Value) + " % dressed"
			}
		}
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{textCell(s.name), cellOf(s.grade), cellOf(s.gives.Flux), cellOf(s.gives.Slag),
			orCell(s.gives.SlagPerCopper, "within the uncertainty no metal is won"),
			{Text: short(won), Sub: short(100*s.gives.Low) + "–" + short(100*s.gives.High), Sort: &won}, mined, cellOf(s.need), per}})
	}
	return b.table(t)
}

func withFlux(flux string) string {
	if flux == "" {
		return " where the ore has iron enough"
	}
	return " with " + flux
}

// richFigure draws the share of copper won against the grade.
func (b *builder) richFigure(r *richness) (*page.Figure, error) {
	body := &figure.Diagram{Y: figure.Axis{Label: "copper won", Unit: "%", Min: 0, Max: 100}}
	middle := figure.NamedLine{Label: "gangue of " + r.stocks[0].name}
	region := figure.Region{Label: "95 %"}
	most := 0.0
	for _, s := range r.stocks {
		most = math.Max(most, s.grade.Value)
	}
	body.X = figure.Axis{Label: "copper of the ore", Unit: "wt%", Min: 0, Max: math.Min(math.Ceil((most+6)/5)*5, math.Floor(r.mineral.Copper))}
	for _, g := range r.curve {
		if g.Grade > body.X.Max {
			break
		}
		middle.X, middle.Y = append(middle.X, g.Grade), append(middle.Y, 100*g.Won)
		region.X, region.Y = append(region.X, g.Grade), append(region.Y, 100*g.High)
	}
	for i := len(middle.X) - 1; i >= 0; i-- {
		region.X, region.Y = append(region.X, middle.X[i]), append(region.Y, 100*r.curve[i].Low)
	}
	body.Lines = append(body.Lines, middle)
	body.Regions = append(body.Regions, region)
	groups := []figure.Group{{Name: "smelting", Label: "reckoned, of the ore's own copper"}, {Name: "mined", Label: "reckoned, of the copper mined"}}
	if len(r.fired) > 0 {
		groups = append(groups, figure.Group{Name: "firings", Label: "won in our firings, of the ore's copper"})
	}
	for _, s := range r.stocks {
		x, u := s.grade.Value, orZero(s.grade.U)
		body.Boxes = append(body.Boxes, figure.Span{Group: 0, Sample: s.name, X0: x - u, X1: x + u, From: 100 * s.gives.Low, To: 100 * s.gives.High,
			Details: []figure.Detail{{Label: "Cu", Value: s.grade.WithUnit()}, {Label: "won", Value: shareSpan(s.gives)}, {Label: "slag for a kg of Cu", Value: s.gives.SlagPerCopper.WithUnit()}}})
		if !s.mined.Known() || s.mined.Value >= 1 {
			continue
		}
		lo, hi := minedEnds(s.mined, s.gives)
		body.Boxes = append(body.Boxes, figure.Span{Group: 1, Sample: s.name, X0: x - u, X1: x + u, From: lo, To: hi,
			Details: []figure.Detail{{Label: "Cu", Value: s.grade.WithUnit()}, {Label: "of the mined copper in it", Value: percent(s.mined).WithUnit()}, {Label: "won of the mined", Value: short(100*s.mined.Value*s.gives.Won) + " %"}}})
	}
	for _, f := range r.fired {
		x, u, lo, hi := f.grade.Value, orZero(f.grade.U), 100*(f.won.Value-2*orZero(f.won.U)), 100*(f.won.Value+2*orZero(f.won.U))
		if lo > 100 {
			continue // the text tells of it
		}
		body.Boxes = append(body.Boxes, figure.Span{Group: 2, Sample: f.run, X0: x - u, X1: x + u, From: asShare(lo), To: asShare(hi),
			Details: []figure.Detail{{Label: "ore", Value: f.stock}, {Label: "won", Value: percent(f.won).WithUnit()}}})
	}
	return b.figure(figure.Figure{
		Caption: fmt.Sprintf("Copper won against the grade of what is charged. The line is an ore with the gangue of %s and more or less copper mineral, the band holds 95 %% of the draws; below %s wt%% Cu (%s to %s) it gives no metal. Bars stand at the ores of this campaign with their own gangue: what is won of their own copper, and of the copper mined once what dressing threw away is counted in%s. Copper of the slag: %s wt%%, %s.",
			r.stocks[0].name, short(r.mid), short(r.low), short(r.hi), r.firedCaption(), r.slagCu.Text(), r.slagCuFrom),
		Alt:    "Curve with a band of the share of copper won as metal in per cent against the copper of the ore in wt%; it rises steeply from the grade below which no metal is won and flattens towards rich ore. Bars mark the ores of this campaign.",
		Groups: groups, Body: body,
	}, page.Wide)
}

// minedEnds joins the range of what is won with twice the uncertainty of what
// dressing kept, in per cent.
func minedEnds(mined quantity.Quantity, g balance.Graded) (lo, hi float64) {
	centre := mined.Value * g.Won
	u := 2 * orZero(mined.U) * g.Won
	return 100 * math.Max(centre-math.Hypot(u, mined.Value*(g.Won-g.Low)), 0), 100 * (centre + math.Hypot(u, mined.Value*(g.High-g.Won)))
}
