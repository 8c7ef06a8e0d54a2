package report

import (
	"context"
	"fmt"
	"math"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
	"smeltbook/phase/lining"
	"smeltbook/report/figure"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
	"smeltbook/report/study"
)

// liningUsed says what a lining entry rested on, for the methods.
type liningUsed struct {
	atmosphere lining.Atmosphere
	limit      float64
	clay       bool // share of clay in slag
}

type liningOptions struct {
	Groups          []string
	Show            string            // the index drawn
	Atmosphere      string            // of the firing of the wall
	CalcareousLimit *float64          `yaml:"calcareous_limit"` // wt% CaO
	Seen            map[string]string // stage of vitrification by sample
	Slag            []string          // one or two groups of slag
	Ore             string            // group of the ore
	Clay            []string          // the clay of each group of slag, or one for both
}

// liningEntry shows how refractory the walls were, how hot they got and how
// much of them is in the slag.
func liningEntry(_ context.Context, b *builder, e *notebook.Entry, out *page.Entry) error {
	o := liningOptions{Show: "flux_sum"}
	if !b.options(e, &o) {
		return nil
	}
	groups, ok := b.facing(e, o.Groups)
	if !ok {
		return nil
	}
	a := assumer{b: b, e: e}
	used := liningUsed{
		atmosphere: lining.Atmosphere(a.word("atmosphere", o.Atmosphere, string(lining.Reducing), []string{string(lining.Oxidising), string(lining.Reducing)})),
		limit:      a.number("calcareous_limit", o.CalcareousLimit, lining.CalcareousLimit, 0.1, 50, "wt% CaO"),
	}
	clays, told := liningValues(groups)
	shown, ok := b.liningVariable(e, o.Show, clays)
	if a.failed || !ok || !b.checkSeen(e, o.Seen) {
		return nil
	}
	share, ok := b.clayShare(e, o)
	if !ok {
		return nil
	}
	body := facingFigure(shown, groups, func(s *assay.Sample) []figure.Detail {
		return []figure.Detail{{Label: "from", Value: whence(s)}}
	})
	fig, err := b.figure(figure.Figure{
		Caption: fmt.Sprintf("%s of the furnace walls: %s. %sBars are one standard uncertainty from the analysis.", capital(formulaText(shown.Label)), whoIsShown(body, groups), partsOf(o.Show)),
		Alt:     fmt.Sprintf("%s of %s on the left page and of %s on the right, with error bars.", capital(formulaText(shown.Label)), groups[0].Label(), groups[1].Label()),
		Groups:  groups.figureGroups(), Body: body,
	}, page.Facing)
	if err != nil {
		return err
	}
	out.Parts = append(out.Parts, fig, b.liningSpread(groups, clays), b.liningTable(groups, clays), b.firedTable(groups, o.Seen, used))
	if share != nil {
		used.clay = true
		fig, err := b.clayFigure(share)
		if err != nil {
			return err
		}
		out.Parts = append(out.Parts, fig, b.clayTable(share))
		told = append(told, share.told...)
	}
	b.linings = append(b.linings, used)
	out.Parts = append(out.Parts, a.parts()...)
	if len(told) > 0 {
		out.Parts = append(out.Parts, &page.Notices{List: told})
	}
	out.Margin = b.margin(groups[:])
	return nil
}

// liningValues returns the indices of every wall by the id of the sample, and
// what is to be said of them.
func liningValues(groups pair) (map[string][]lining.Value, source.Notices) {
	out := map[string][]lining.Value{}
	var told sampleNotices
	total := 0
	for _, g := range groups {
		for _, s := range g.Samples {
			if s.Kind != assay.Lining && s.Kind != assay.Clay && s.Kind != "" {
				told.add(s.ID, source.Notices{{Severity: source.Warning, Code: "NO_WALL", Message: "listed as " + s.Kind + ": what is said here of clay and of walls does not hold for it"}})
			}
			values, err := lining.Table(s.AsReported)
			if err != nil {
				told.add(s.ID, source.Notices{{Severity: source.Warning, Code: "NO_INDICES", Message: "no indices: " + err.Error()}})
				continue
			}
			total++
			out[s.ID] = values
			for _, v := range values {
				told.add(s.ID, v.Notices)
			}
		}
	}
	return out, told.list(total)
}

// liningKeys are the keys of the indices in order, with labels and units.
func liningKeys(clays map[string][]lining.Value) []lining.Value {
	ids := sortedKeys(clays)
	if len(ids) == 0 {
		return nil
	}
	return clays[ids[0]]
}

// liningVariable is an index as a variable of samples.
func (b *builder) liningVariable(e *notebook.Entry, key string, clays map[string][]lining.Value) (study.Variable, bool) {
	var keys []string
	for _, v := range liningKeys(clays) {
		if v.Key == key {
			x := indexOf(v, clays)
			if strings.HasSuffix(key, "_sum") || key == "alkali_flux" {
				x.Label = liningName(v) // its parts are too long for an axis
			}
			return x, true
		}
		keys = append(keys, v.Key)
	}
	if len(keys) == 0 {
		b.lack(e, "NOTHING_TO_SHOW", "no sample of these groups has the analysis of a clay")
		return study.Variable{}, false
	}
	b.fail(e, "UNKNOWN_VARIABLE", "show: there is no index %q of a lining%s; there are %s", key, source.DidYouMean(key, keys), list(keys))
	return study.Variable{}, false
}

// partsOf says what a sum is of.
func partsOf(key string) string {
	switch key {
	case "flux_sum":
		return "CaO, MgO, FeO, MnO, Na₂O, K₂O and BaO together. "
	case "alkali_sum":
		return "Na₂O and K₂O together. "
	}
	return ""
}

// liningNames are the names of indices that are too long for a row's head.
var liningNames = map[string]string{"flux_sum": "fluxes", "alkali_sum": "alkalis", "alkali_flux": "alkalis/fluxes",
	"schuen_c": "Schuen", "bischof_quotient": "Bischof"}

// liningName names an index in a table.
func liningName(v lining.Value) string {
	if name, ok := liningNames[v.Key]; ok {
		return name
	}
	return v.Label
}

// liningKey explains the names in a table's notes.
const liningKey = "Fluxes: CaO + MgO + FeO + MnO + Na₂O + K₂O + BaO; alkalis: Na₂O + K₂O. Schuen: temperature at which a cone of fireclay deforms in air; under charcoal, and with slag on it, a wall so rich in fluxes fails far lower. Bischof: refractory quotient, 5 and more for fireclays. ± is that of the analysis; Schuen's formula itself is far less sure."

func indexOf(v lining.Value, clays map[string][]lining.Value) study.Variable {
	return study.Variable{Key: v.Key, Label: v.Label, Unit: v.Quantity.Unit, Of: func(s *assay.Sample) quantity.Quantity {
		for _, w := range clays[s.ID] {
			if w.Key == v.Key {
				return w.Quantity
			}
		}
		return quantity.None(quantity.Missing, math.NaN(), v.Quantity.Unit)
	}}
}

func (b *builder) liningSpread(groups pair, clays map[string][]lining.Value) *page.Spread {
	s := &page.Spread{
		Caption: fmt.Sprintf("Indices of the furnace walls, left %s, right %s: mean, scatter between the pieces and range.", groups[0].Label(), groups[1].Label()),
		Left:    leaf(groups[0]), Right: leaf(groups[1]),
		Columns: []page.Column{{Head: "mean ± s", Sub: "s between pieces", Numeric: true}, {Head: "range", Numeric: true}, {Head: "n", Numeric: true}},
		Gutter:  page.Column{Head: "difference", Sub: groups[0].Name + " − " + groups[1].Name, Numeric: true},
		Notes:   []string{"From the analyses as reported, all iron as FeO. " + liningKey},
	}
	for _, v := range liningKeys(clays) {
		x := indexOf(v, clays)
		x.Label = liningName(v)
		s.Rows = append(s.Rows, spreadRow(x, groups))
	}
	b.tables++
	s.Number, s.ID = b.tables, fmt.Sprintf("table-%d", b.tables)
	return s
}

func (b *builder) liningTable(groups pair, clays map[string][]lining.Value) *page.Table {
	t := &page.Table{Caption: "Indices wall by wall, ± one standard uncertainty from the analysis.", Columns: []page.Column{{Head: "sample"}}, Sortable: true, Long: true}
	for _, v := range liningKeys(clays) {
		t.Columns = append(t.Columns, page.Column{Head: formulaText(liningName(v)), Unit: axisUnit(v.Quantity.Unit), Numeric: true})
	}
	for i, g := range groups {
		for _, s := range g.Samples {
			row := page.Row{Sample: s.ID, Side: sideOf(i), Cells: []page.Cell{sampleCell(s)}}
			if clays[s.ID] == nil {
				continue
			}
			for _, v := range clays[s.ID] {
				c := cellOf(withoutCells(v.Quantity), v.Source)
				if outside(v.Notices) {
					c.Class = page.OutOfRange
				}
				row.Cells = append(row.Cells, c)
			}
			t.Rows = append(t.Rows, row)
		}
	}
	return b.table(t)
}
