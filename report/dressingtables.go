package report

import (
	"fmt"
	"math"
	"slices"

	"smeltbook/assay/dressing"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
	"smeltbook/report/page"
)

const notBalanced = "not measured, and no balance determines it"

// stagesTable gives the figures of every product from the reconciled values.
func (b *builder) stagesTable(circuits []*dressing.Reconciled, mineral dressing.Mineral) *page.Table {
	t := &page.Table{
		Caption: "Dressing, stage by stage, from reconciled weights and assays; each product against the feed of its stage.",
		Columns: []page.Column{{Head: "product"},
			{Head: "mass", Unit: "kg", Numeric: true}, {Head: "Cu", Unit: "wt%", Numeric: true},
			{Head: "yield", Unit: "%", Sub: "of the mass", Numeric: true},
			{Head: "ratio of concentration", Unit: "kg feed/kg", Numeric: true},
			{Head: "recovery", Unit: "%", Sub: "of the copper", Numeric: true},
			{Head: "enrichment", Sub: "times the feed", Numeric: true},
			{Head: "separation efficiency", Unit: "%", Sub: "of " + mineral.Name, Numeric: true}},
		Notes: []string{"± is one standard uncertainty. Separation efficiency after Schulz: the share of the mineral that goes to the product less the share of all else that goes with it; 100 % would part them wholly, 0 % not at all, and it is stated for what the stage was to keep. " +
			fmt.Sprintf("All copper counts as %s (%.1f wt%% Cu).", mineral.Name, mineral.Copper)},
	}
	for _, r := range circuits {
		for k, s := range r.Circuit.Stages {
			t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{{Text: s.Name, Sub: "feed " + orWord(s.Feed.Product, "ore"), Note: s.Feed.At.String()},
				orCell(adjusted(r, k, 0, "mass"), notBalanced), orCell(adjusted(r, k, 0, dressing.Copper), notBalanced),
				textCell("100"), textCell("1"), textCell("100"), textCell("1"), {}}})
			for j, p := range r.Stage(k, dressing.Balanced, mineral.Copper) {
				cu, _ := p.Of(dressing.Copper)
				se := page.Cell{}
				if p.Product.Role == dressing.Concentrate || p.Product.Role == dressing.Middlings {
					se = percentCell(p.Efficiency, "richer than the mineral named, or not assayed")
				}
				t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{productCell(p.Product),
					orCell(adjusted(r, k, j+1, "mass"), notBalanced), orCell(cu.Product, notBalanced),
					percentCell(p.Yield, notBalanced), orCell(p.Ratio, notBalanced), percentCell(cu.Recovery, notBalanced), orCell(cu.Enrichment, notBalanced), se}})
			}
		}
	}
	return b.table(t)
}

func productCell(s dressing.Stream) page.Cell {
	return page.Cell{Text: string(s.Role), Sub: s.Product, Note: s.At.String()}
}

// adjusted finds the reconciled value of a weight or an assay.
func adjusted(r *dressing.Reconciled, stage, stream int, what string) quantity.Quantity {
	s := r.Circuit.Stages[stage]
	name := s.Feed.Name()
	if stream > 0 {
		name = s.Products[stream-1].Name()
	}
	for _, x := range r.Items {
		if x.Stage == s.Name && x.Stream == name && x.What == what {
			return x.Adjusted
		}
	}
	return quantity.None(quantity.Missing, nan, "")
}

// waysTable sets three ways to the recovery of copper beside each other.
func (b *builder) waysTable(circuits []*dressing.Reconciled) *page.Table {
	t := &page.Table{
		Caption: "Copper recovered in the concentrates, by three ways of reckoning.",
		Columns: []page.Column{{Head: "concentrate"},
			{Head: "by weights and assays", Unit: "%", Sub: "of feed and concentrate", Numeric: true},
			{Head: "by assays alone", Unit: "%", Sub: "two-product formula", Numeric: true},
			{Head: "feed less tailings", Sub: "in its uncertainties", Numeric: true},
			{Head: "reconciled", Unit: "%", Sub: "all readings of the circuit", Numeric: true}},
		Notes: []string{"By assays alone, R = c(f − t)/(f(c − t)): no weight is needed, but it takes for granted that nothing was lost, and divides by the difference of feed and tailings. Where the two lie close the result swings wildly with their errors; below four uncertainties apart it is flagged and should not be used."},
	}
	for _, r := range circuits {
		for k, s := range r.Circuit.Stages {
			read, balanced := r.Stage(k, dressing.Weighed, 0), r.Stage(k, dressing.Balanced, 0)
			for j, p := range s.Products {
				if p.Role != dressing.Concentrate {
					continue
				}
				a, _ := read[j].Of(dressing.Copper)
				c, _ := balanced[j].Of(dressing.Copper)
				alone, apart := twoProductCells(s, p)
				t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{{Text: s.Name, Sub: p.Product, Note: p.At.String()},
					percentCell(a.Recovery, "a weight or an assay is missing"), alone, apart, percentCell(c.Recovery, notBalanced)}})
			}
		}
	}
	return b.table(t)
}

// twoProductCells apply the formula where a stage has one concentrate and one
// tailing, and what was lost aside.
func twoProductCells(s dressing.Stage, concentrate dressing.Stream) (recovery, apart page.Cell) {
	absent := func(why string) (page.Cell, page.Cell) {
		return page.Cell{Text: "–", Class: page.Absent, Note: why}, page.Cell{}
	}
	var tailings []dressing.Stream
	for _, p := range s.Products {
		if p.Role != dressing.Lost && p.At != concentrate.At {
			tailings = append(tailings, p)
		}
	}
	if len(tailings) != 1 {
		return absent("the formula is for two products")
	}
	two, err := dressing.FromAssays(s.Feed.Grade(dressing.Copper), concentrate.Grade(dressing.Copper), tailings[0].Grade(dressing.Copper))
	if err != nil {
		return absent(err.Error())
	}
	recovery, apart = cellOf(percent(two.Recovery)), numberCell(two.Apart, 1)
	if !two.Usable() {
		recovery.Class, recovery.Note = page.Flagged, two.Notices[0].Message
	}
	if s.Lossy() {
		recovery.Note += "; something was lost in this stage, which the formula knows nothing of"
	}
	return recovery, apart
}

// gangueTable says where each component went.
func (b *builder) gangueTable(circuits []*dressing.Reconciled) *page.Table {
	var components []string
	for _, r := range circuits {
		for _, id := range r.Circuit.Components {
			if !slices.Contains(components, id) && id != dressing.Copper {
				components = append(components, id)
			}
		}
	}
	t := &page.Table{
		Caption: "What went with the copper: share of each component of the stage's feed in its products, reconciled.",
		Columns: []page.Column{{Head: "product"}, {Head: "Cu", Unit: "%", Numeric: true}},
		Notes:   []string{"Copper less a component is how far the stage parted the two, in points of per cent: 0 would be mere splitting of the heap."},
	}
	for _, id := range components {
		t.Columns = append(t.Columns, page.Column{Head: formulaText(id), Unit: "%", Numeric: true}, page.Column{Head: "Cu less " + formulaText(id), Unit: "points", Numeric: true})
	}
	for _, r := range circuits {
		for k, s := range r.Circuit.Stages {
			for _, p := range r.Stage(k, dressing.Balanced, 0) {
				cu, _ := p.Of(dressing.Copper)
				row := page.Row{Cells: []page.Cell{{Text: firstOf(s.Name) + " " + string(p.Product.Role), Sub: p.Product.Product, Note: p.Product.At.String()}, percentCell(cu.Recovery, notBalanced)}}
				for _, id := range components {
					c, ok := p.Of(id)
					if !ok {
						row.Cells = append(row.Cells, page.Cell{Text: "–", Class: page.Absent}, page.Cell{Text: "–", Class: page.Absent})
						continue
					}
					row.Cells = append(row.Cells, percentCell(c.Recovery, notBalanced), percentCell(c.FromCopper, notBalanced))
				}
				t.Rows = append(t.Rows, row)
			}
		}
	}
	return b.table(t)
}

// sizesTable gives the recovery by size; nil where no stage was sieved.
func (b *builder) sizesTable(circuits []*dressing.Reconciled) *page.Table {
	t := &page.Table{
		Caption: "Copper by size: what each stage did with coarse and fine.",
		Columns: []page.Column{{Head: "size"}, {Head: "share of the copper", Unit: "%", Sub: "of all products", Numeric: true},
			{Head: "recovery", Unit: "%", Sub: "in the concentrate", Numeric: true}, {Head: "Cu", Unit: "wt%", Sub: "concentrate", Numeric: true}, {Head: "Cu", Unit: "wt%", Sub: "tailings", Numeric: true}},
		Notes: []string{"The feed of a size is what its products hold of that size; what ran off is in none of them."},
	}
	for _, r := range circuits {
		for k, s := range r.Circuit.Stages {
			concentrate := slices.IndexFunc(s.Products, func(p dressing.Stream) bool { return p.Role == dressing.Concentrate })
			tailings := slices.IndexFunc(s.Products, func(p dressing.Stream) bool { return p.Role == dressing.Tailings })
			if concentrate < 0 || tailings < 0 {
				continue
			}
			for _, x := range r.BySize(k) {
				t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{{Text: x.Size.String(), Sub: s.Name}, cellOf(percent(x.Share)),
					percentCell(x.Recovery[concentrate], "not sieved"), orCell(x.Grades[concentrate], "not sieved"), orCell(x.Grades[tailings], "not sieved")}})
			}
		}
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return b.table(t)
}

// reconciledTable lists every reading before and after.
func (b *builder) reconciledTable(circuits []*dressing.Reconciled) *page.Table {
	t := &page.Table{
		Caption: "Weights and assays of the dressing, as read and reconciled.",
		Columns: []page.Column{{Head: "reading"}, {Head: "unit"}, {Head: "as read", Numeric: true}, {Head: "reconciled", Numeric: true},
			{Head: "adjustment", Sub: "in its own standard deviations", Numeric: true}, {Head: "the others say", Numeric: true}},
		Notes: []string{"Least squares: every reading is moved as little as its uncertainty allows until mass and components balance round each stage. An adjustment beyond about 3 marks a reading to look at; with many readings one beyond 2 is ordinary. Without an adjustment no balance checks the reading."},
		Long:  true, Compact: true, Filterable: true,
	}
	for _, r := range circuits {
		for _, x := range r.Items {
			row := page.Row{Cells: []page.Cell{{Text: x.Stage + ", " + x.Stream, Sub: formulaText(x.What)}, textCell(unitOf(x)),
				orCell(x.Read, "not measured"), orCell(x.Adjusted, notBalanced), numberCell(x.Z, 1), orCell(withoutCells(x.Others), "no balance checks it")}}
			if r.Suspect != nil && r.Suspect.Label() == x.Label() {
				for i := range row.Cells {
					row.Cells[i].Class = page.Flagged
				}
			}
			t.Rows = append(t.Rows, row)
		}
	}
	return b.table(t)
}

func unitOf(x dressing.Item) string {
	if x.What == "mass" {
		return "kg"
	}
	return "wt%"
}

// splitsTable tells how far assays on the splits can be trusted; nil where the
// sheet states none.
func (b *builder) splitsTable(circuits []dressing.Circuit, s dressing.Sampling, added bool) (*page.Table, source.Notices) {
	t := &page.Table{
		Caption: "How far an assay on such a split can be trusted, after Gy.",
		Columns: []page.Column{{Head: "split"}, {Head: "top size", Unit: "mm", Numeric: true}, {Head: "mass", Unit: "g", Numeric: true},
			{Head: "Cu", Unit: "wt%", Sub: "± as stated", Numeric: true}, {Head: "error of splitting", Unit: "wt%", Sub: "one standard deviation", Numeric: true},
			{Head: "mass for 5 %", Unit: "g", Sub: "relative, 95 %", Numeric: true}},
		Notes: []string{fmt.Sprintf("Fundamental error: the least that any way of splitting gives. %s of %g g/cm³ in gangue of %g, free below %g mm; shape factor %g, range of sizes %g. The last column is the mass that keeps it within ± 5 %% of the grade in 95 of 100 splits at that top size: crush before you split.",
			capital(s.Mineral.Name), s.Mineral.Density, s.Gangue, s.Liberation, s.Shape, s.Range)},
	}
	if added {
		t.Notes = append(t.Notes, "The error of splitting is added to the stated uncertainties in all other tables.")
	} else {
		t.Notes = append(t.Notes, "The error of splitting is not added to the stated uncertainties; write sampling: added where these are the laboratory's alone.")
	}
	var small []string
	var first source.Cell
	for _, c := range circuits {
		for _, st := range c.Stages {
			for _, x := range append([]dressing.Stream{st.Feed}, st.Products...) {
				g := x.Grade(dressing.Copper)
				if !x.Sample.Known() || !x.Top.Known() || !g.HasU() {
					continue
				}
				row := page.Row{Cells: []page.Cell{{Text: firstOf(st.Name) + " " + string(x.Role), Sub: x.Product, Note: x.At.String()}, cellOf(x.Top), cellOf(x.Sample), cellOf(g)}}
				sd, err := s.FundamentalSD(g.Value, x.Top.Value, x.Sample.Value)
				if err != nil {
					row.Cells = append(row.Cells, page.Cell{Text: "–", Class: page.Absent, Note: err.Error()}, page.Cell{})
					t.Rows = append(t.Rows, row)
					continue
				}
				cell := page.Cell{Text: short(sd * g.Value)}
				if sd*g.Value > g.U {
					cell.Class = page.Flagged
					if len(small) == 0 {
						first = at(x.Sample)
					}
					small = append(small, firstOf(st.Name)+" "+x.Name())
				}
				mass, _ := s.MinimumMass(g.Value, x.Top.Value, 0.05/1.96)
				row.Cells = append(row.Cells, cell, page.Cell{Text: short(mass), Sort: &mass})
				t.Rows = append(t.Rows, row)
			}
		}
	}
	if len(t.Rows) == 0 {
		return nil, nil
	}
	var ns source.Notices
	if len(small) > 0 && !added {
		ns.Add(source.Warning, "DRESSING_SMALL_SPLIT", first, "splitting alone gives the copper of %s a larger error than the uncertainty stated; split out more, crush finer before, or write sampling: added", list(small))
	}
	return b.table(t), ns
}

func at(q quantity.Quantity) source.Cell {
	if len(q.From) > 0 {
		return q.From[0]
	}
	return source.Cell{}
}

// finiteOr is x, or otherwise where it is no number.
func finiteOr(x, otherwise float64) float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return otherwise
	}
	return x
}
