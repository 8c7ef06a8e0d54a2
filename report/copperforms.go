package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
	"smeltbook/phase/copper"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
	"smeltbook/report/study"
)

// copperOptions are the options of the copper entry.
type copperOptions struct {
	Groups      []string
	At          float64              // °C
	LogPO2      []float64            `yaml:"log_po2"` // one value, or two with the lower first
	Prills      map[string][]float64 // by sample: % of the area of polished sections, and its standard uncertainty
	Ore         string               // group of the ore that excavated slag is counted back to
	ToSlag      []string             `yaml:"to_slag"`       // oxides of the ore that all went to the slag
	OnlyFromOre []string             `yaml:"only_from_ore"` // oxides of the slag that only the ore brought
	Drop        *float64             // mm
	Depth       *float64             // mm
	Time        *float64             // min
}

// formsUsed says what the copper entries rested on, for the methods.
type formsUsed struct {
	split, firings, heap, levers bool
}

// prillAreas reads the prills of an entry, by the id of the sample.
func (b *builder) prillAreas(e *notebook.Entry, o copperOptions) (map[string]*copper.Prills, bool) {
	out, ok := map[string]*copper.Prills{}, true
	for _, id := range sortedKeys(o.Prills) {
		v := o.Prills[id]
		s, found := b.study.Campaign.Sample(id)
		switch {
		case !found:
			b.fail(e, "UNKNOWN_SAMPLE", "prills: there is no sample %q%s", id, source.DidYouMean(id, b.study.Campaign.SampleIDs()))
			ok = false
		case len(v) == 0 || len(v) > 2 || !(v[0] >= 0 && v[0] <= 100) || len(v) == 2 && !(v[1] >= 0):
			b.fail(e, "BAD_SHARE", "prills of %s: give the share of the polished area in %%, from 0 to 100, and if known its standard uncertainty, as in %s: [1.2, 0.3], not %v", id, id, v)
			ok = false
		case len(v) == 1:
			out[s.ID] = &copper.Prills{Area: quantity.New(v[0], "vol%", "none: the notebook states none", source.Line(b.file, e.Line))}
		default:
			out[s.ID] = &copper.Prills{Area: quantity.WithU(v[0], v[1], "vol%", "from the notebook", source.Line(b.file, e.Line))}
		}
	}
	return out, ok
}

func sortedKeys[V any](m map[string]V) []string {
	var keys []string
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

// formsOf is the split of a sample's copper, or why there is none.
type formsOf struct {
	copper.Forms
	total quantity.Quantity
	why   string
}

// copperFormsOf splits the copper of every slag of both pages. ok is false
// where the prills of the notebook cannot be, which has been told.
func (b *builder) copperFormsOf(e *notebook.Entry, groups pair, cond copperConditions, prills map[string]*copper.Prills) (map[string]formsOf, bool) {
	out, ok := map[string]formsOf{}, true
	for _, g := range groups {
		for _, s := range g.Samples {
			f, err := splitForms(s, cond, prills[s.ID])
			if err != nil && prills[s.ID] != nil {
				if _, without := splitForms(s, cond, nil); without == nil {
					b.fail(e, "PRILLS", "prills of %s: %v", s.ID, err)
					ok = false
				}
			}
			if err != nil {
				f.why = err.Error()
			}
			out[s.ID] = f
		}
	}
	return out, ok
}

func splitForms(s *assay.Sample, cond copperConditions, prills *copper.Prills) (formsOf, error) {
	total, _ := copper.TotalCopper(s.AsReported)
	f, err := study.CopperForms(s, copper.UnderCopper(cond.tc, cond.lo, cond.hi), prills)
	return formsOf{Forms: f, total: total}, err
}

func (b *builder) formsTable(groups pair, cond copperConditions, forms map[string]formsOf) *page.Table {
	t := &page.Table{
		Caption: "The forms of copper as far as the analyses tell them apart, at " + cond.text() + ": wt% of the slag, and below it the share of all its copper.",
		Columns: []page.Column{{Head: "sample"},
			{Head: "total Cu", Unit: "wt%", Numeric: true},
			{Head: "dissolved as oxide", Unit: "wt%", Sub: "% of Cu", Numeric: true},
			{Head: "bound to sulphur", Unit: "wt%", Sub: "% of Cu", Numeric: true},
			{Head: "entrained metal", Unit: "wt%", Sub: "% of Cu", Numeric: true},
			{Head: "unreduced or weathered", Unit: "wt%", Sub: "% of Cu", Numeric: true}},
		Sortable: true, Filterable: true,
		Notes: []string{"Each range is what the measurements leave, taken at twice their standard uncertainty; the four sum to the total, so that they cannot all be at their upper ends. Point at a range to see what bounds it; what was not measured bounds nothing."},
	}
	for i, g := range groups {
		for _, s := range g.Samples {
			f := forms[s.ID]
			row := page.Row{Sample: s.ID, Side: sideOf(i), Cells: []page.Cell{sampleCell(s)}}
			if f.why != "" {
				absent := page.Cell{Text: "–", Class: page.Absent, Note: f.why}
				row.Cells = append(row.Cells, absent, absent, absent, absent, absent)
				t.Rows = append(t.Rows, row)
				continue
			}
			row.Cells = append(row.Cells, cellOf(f.total, s.Chosen["Cu"]))
			for _, x := range f.All() {
				hi, note := x.Wt.Hi, formulaText(x.Because)
				if e := f.SulphideEstimate; x.Key == "sulphide" && !math.IsNaN(e.Hi) {
					note += fmt.Sprintf("; estimate after Nagamori 1974, not verified: %s wt%%", shortSpan(e.Lo, e.Hi))
				}
				row.Cells = append(row.Cells, page.Cell{Text: span(x.Wt), Sub: percentSpan(x.Share), Note: note, Sort: &hi})
			}
			t.Rows = append(t.Rows, row)
		}
	}
	return b.table(t)
}

// unseparated says which forms the data leave open, and what would help.
func (f formsOf) unseparated() string {
	text := "these data cannot tell apart copper " + strings.Join(f.Unseparated, ", ")
	if len(f.Help) > 0 {
		text += "; it would help to know " + strings.Join(f.Help, ", ")
	}
	return text
}

// percentSpan prints an interval of shares as whole per cents.
func percentSpan(i copper.Interval) string {
	lo, hi := fmt.Sprintf("%.0f", 100*i.Lo), fmt.Sprintf("%.0f", 100*i.Hi)
	if lo == hi {
		return lo + " %"
	}
	return lo + "–" + hi + " %"
}

// formsNotices gathers what is to be said of the split.
func formsNotices(groups pair, forms map[string]formsOf) source.Notices {
	var told sampleNotices
	total := 0
	for _, g := range groups {
		for _, s := range g.Samples {
			f := forms[s.ID]
			if f.why != "" {
				told.add(s.ID, source.Notices{{Severity: source.Warning, Code: "NO_FORMS", Message: "the forms of copper cannot be told: " + f.why}})
				continue
			}
			total++
			for _, n := range f.Notices {
				switch n.Code {
				case "COPPER_FORMS_UNSEPARATED":
					n.Message = f.unseparated()
				case "COPPER_SULPHIDE_UNVERIFIED":
					n.Message = "an estimate of sulphide-bound copper after Nagamori 1974 stands behind the cells of the table; its coefficient is from memory and not verified, and it bounds nothing"
				case "COPPER_SIEVED_ABOVE_AREA", "COPPER_DISSOLVED_BELOW_EQUILIBRIUM":
				default:
					continue // told under the split into dissolved and not dissolved
				}
				told.add(s.ID, source.Notices{n})
			}
		}
	}
	return told.list(total)
}

// middle returns the sample of middle copper of a group among those with a
// split; nil where there is none.
func middle(samples []*assay.Sample, forms map[string]formsOf) *assay.Sample {
	var known []*assay.Sample
	for _, s := range samples {
		if f := forms[s.ID]; f.why == "" && f.total.Known() {
			known = append(known, s)
		}
	}
	if len(known) == 0 {
		return nil
	}
	slices.SortStableFunc(known, func(a, c *assay.Sample) int {
		return int(math.Copysign(1, forms[a.ID].total.Value-forms[c.ID].total.Value))
	})
	return known[(len(known)-1)/2]
}
