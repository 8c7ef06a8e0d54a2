package report

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/source"
	"smeltbook/phase/melt"
	"smeltbook/phase/slag"
	"smeltbook/report/figure"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
)

// mapStep is the grid of the computed map, in wt% of the corners.
const mapStep = 1.0

// ternaryEntry shows samples on three oxides over the computed liquidus.
func ternaryEntry(ctx context.Context, b *builder, e *notebook.Entry, out *page.Entry) error {
	o := struct {
		Groups    []string
		Corners   []string           // left, top, right
		Isotherms float64            // °C between lines; 0 for none
		Holding   map[string]float64 // other oxides held constant, wt% of the melt
		Recipe    string             // by which a sample's other oxides are counted to the corners
	}{Recipe: "plain", Corners: []string{"CaO", "SiO2", "FeO"}, Isotherms: 50}
	if !b.options(e, &o) {
		return nil
	}
	groups, ok := b.groups(e, o.Groups)
	if !ok {
		return nil
	}
	section, ok := b.section(e, o.Corners, o.Holding)
	if !ok {
		return nil
	}
	if o.Isotherms != 0 && (o.Isotherms < 10 || o.Isotherms > 500) {
		b.fail(e, "BAD_RANGE", "isotherms gives the step between lines in °C, from 10 to 500, or 0 for none, not %g", o.Isotherms)
		return nil
	}
	recipe, ok := b.recipe(e, o.Recipe, section)
	if !ok {
		return nil
	}
	model, err := melt.Default()
	if err != nil {
		return fmt.Errorf("liquidus model: %w", err)
	}
	m, err := model.Map(ctx, section, mapStep)
	if ctx.Err() != nil {
		return ctx.Err()
	}
	if err != nil {
		b.lack(e, "SECTION", "the triangle cannot be computed: %v", err)
		return nil
	}
	body := &figure.Ternary{}
	for i, corner := range []slag.Oxide{section.A, section.B, section.C} {
		body.Corners[i] = figure.Formula(corner.String())
	}
	drawMap(body, m, o.Isotherms)
	cover := b.place(body, section, recipe, groups)
	if cover.n == 0 {
		b.lack(e, "NOTHING_TO_SHOW", "no sample of %s has an estimate to place on the triangle", strings.Join(o.Groups, ", "))
		return nil
	}
	name := fmt.Sprintf("%s–%s–%s", body.Corners[0], body.Corners[1], body.Corners[2])
	held := holdingText(section)
	b.sections = append(b.sections, name+held)
	var fgs []figure.Group
	for _, g := range groups {
		fgs = append(fgs, figureGroup(g))
	}
	caption := fmt.Sprintf("%s in wt%%%s, all iron as FeO, melt in contact with iron metal. ", name, held)
	if o.Isotherms > 0 {
		caption += fmt.Sprintf("Isotherms of the computed liquidus every %g °C; heavier lines part the fields of the first crystals. ", o.Isotherms)
	}
	caption += fmt.Sprintf("Samples are placed by the recipe “%s”%s, which counts %s of the analysis: the lines do not hold for what is left out or counted elsewhere, and the liquidus of the full composition stands under melting.",
		recipe.Name, recipeText(recipe), cover.text())
	fig, err := b.figure(figure.Figure{
		Caption: caption,
		Alt:     fmt.Sprintf("Triangular diagram of %s with computed isotherms and fields of first crystals, and %d samples of %s.", name, cover.n, strings.Join(o.Groups, " and ")),
		Groups:  fgs, Body: body,
	}, page.Narrow)
	if err != nil {
		return err
	}
	out.Parts = append(out.Parts, fig)
	if t := b.invariantTable(m, body.Corners); t != nil {
		out.Parts = append(out.Parts, t)
	}
	out.Margin = b.margin(groups)
	return nil
}

// recipe finds the recipe by name and fits it to the corners of the section.
// "plain" fits any.
func (b *builder) recipe(e *notebook.Entry, name string, s melt.Section) (melt.Reduction, bool) {
	corners := [3]slag.Oxide{s.A, s.B, s.C}
	if name == "plain" {
		return melt.Reduction{Name: name, Corners: corners}, true
	}
	var names []string
	for _, r := range melt.StandardReductions() {
		if r.Name == name {
			for _, c := range r.Corners {
				if !slices.Contains(corners[:], c) {
					b.fail(e, "RECIPE", "the recipe %q has the corners %v, %v and %v; give these as corners, or another recipe", name, r.Corners[0], r.Corners[1], r.Corners[2])
					return r, false
				}
			}
			return melt.Reduction{Name: name, Corners: corners, Into: r.Into}, true
		}
		names = append(names, r.Name)
	}
	b.fail(e, "RECIPE", "there is no recipe %q%s", name, source.DidYouMean(name, names))
	return melt.Reduction{}, false
}

// recipeText says what is counted to which corner.
func recipeText(r melt.Reduction) string {
	var parts []string
	for _, c := range r.Corners {
		var with []string
		for o := range slag.NumOxides {
			if r.Into[o] == c && o != c && r.Into != nil {
				if _, listed := r.Into[o]; listed {
					with = append(with, figure.Formula(o.String()))
				}
			}
		}
		if len(with) > 0 {
			parts = append(parts, list(with)+" to "+figure.Formula(c.String()))
		}
	}
	if len(parts) == 0 {
		return " (the three oxides alone)"
	}
	return " (" + strings.Join(parts, "; ") + ")"
}

// invariantTable lists the points of a map where three minerals are together.
func (b *builder) invariantTable(m *melt.Map, corners [3]string) *page.Table {
	points := m.Invariants()
	if len(points) == 0 {
		return nil
	}
	t := &page.Table{
		Caption:  "Points of the triangle at which three minerals come together, computed.",
		Columns:  []page.Column{{Head: "minerals"}, {Head: "kind"}, {Head: "temperature", Unit: "°C", Numeric: true}},
		Notes:    []string{"No ± is given for single points; that of the model in this system stands under melting."},
		Sortable: true, Long: true,
	}
	for _, c := range corners {
		t.Columns = append(t.Columns, page.Column{Head: c, Unit: "wt%", Numeric: true})
	}
	for _, p := range points {
		var names []string
		for _, phase := range p.Phases {
			names = append(names, phase.Label())
		}
		kind := string(p.Kind)
		if p.Piercing {
			kind += ", piercing"
		}
		row := page.Row{Cells: []page.Cell{textCell(strings.Join(names, ", ")), textCell(kind), numberCell(p.TC, 0)}}
		w := m.Section.Melt(p.Point)
		for _, o := range []slag.Oxide{m.Section.A, m.Section.B, m.Section.C} {
			row.Cells = append(row.Cells, numberCell(w[o], 1))
		}
		t.Rows = append(t.Rows, row)
	}
	return b.table(t)
}

// section reads the corners and what is held constant.
func (b *builder) section(e *notebook.Entry, corners []string, holding map[string]float64) (melt.Section, bool) {
	if len(corners) != 3 {
		b.fail(e, "CORNERS", "a triangle has three corners, not %d; write for example corners: [CaO, SiO2, FeO] (left, top, right)", len(corners))
		return melt.Section{}, false
	}
	names := make([]string, slag.NumOxides)
	for i := range names {
		names[i] = slag.Oxide(i).String()
	}
	oxide := func(name string) (slag.Oxide, bool) {
		i := slices.Index(names, name)
		if i < 0 {
			b.fail(e, "UNKNOWN_OXIDE", "there is no oxide %q%s", name, source.DidYouMean(name, names))
			return 0, false
		}
		return slag.Oxide(i), true
	}
	var s melt.Section
	var ok [3]bool
	for i, at := range []*slag.Oxide{&s.A, &s.B, &s.C} {
		*at, ok[i] = oxide(corners[i])
	}
	if !ok[0] || !ok[1] || !ok[2] {
		return s, false
	}
	for name, wt := range holding {
		held, ok := oxide(name)
		if !ok {
			return s, false
		}
		s.Constant[held] = wt
	}
	return s, true
}

func holdingText(s melt.Section) string {
	var held []string
	for o, wt := range s.Constant {
		if wt != 0 {
			held = append(held, fmt.Sprintf("%g wt%% %s", wt, figure.Formula(slag.Oxide(o).String())))
		}
	}
	if len(held) == 0 {
		return ""
	}
	return " with " + strings.Join(held, ", ") + " held"
}

func shareOf(p melt.Point) figure.Share { return figure.Share{p.A, p.B, p.C} }

// drawMap takes isotherms, boundaries and field names from a computed map.
func drawMap(t *figure.Ternary, m *melt.Map, step float64) {
	if step > 0 {
		lowest, highest := m.Range()
		var levels []float64
		for l := math.Ceil(lowest.TC/step) * step; l <= highest.TC; l += step {
			levels = append(levels, l)
		}
		for _, line := range m.Isotherms(levels) {
			iso := figure.Isotherm{TC: line.TC, Major: math.Mod(math.Round(line.TC), math.Max(100, 2*step)) == 0}
			for _, p := range line.Points {
				iso.Line = append(iso.Line, shareOf(p))
			}
			t.Isotherms = append(t.Isotherms, iso)
		}
	}
	for _, boundary := range m.Boundaries() {
		var line []figure.Share
		for _, p := range boundary.Points {
			line = append(line, shareOf(p))
		}
		t.Boundaries = append(t.Boundaries, line)
	}
	for _, f := range m.Fields() {
		t.Fields = append(t.Fields, figure.FieldLabel{Text: f.Name, At: shareOf(f.Label)})
	}
}

// coverage tells how much of the analyses three corners hold.
type coverage struct {
	n      int
	lo, hi float64 // wt%
}

func (c coverage) text() string {
	if c.n == 1 || c.hi-c.lo < 0.5 {
		return fmt.Sprintf("%.0f %%", c.hi)
	}
	return fmt.Sprintf("%.0f to %.0f %%", c.lo, c.hi)
}

// place puts the samples of the groups on the triangle.
func (b *builder) place(t *figure.Ternary, s melt.Section, recipe melt.Reduction, groups []assay.Group) coverage {
	c := coverage{lo: math.Inf(1), hi: math.Inf(-1)}
	for i, g := range groups {
		for _, sample := range g.Samples {
			est, _, ok := b.study.Estimate(sample.ID)
			if !ok {
				continue
			}
			w, share, err := recipe.Apply(est.Melt.Wt)
			if err != nil {
				continue
			}
			p, ok := s.PointOf(w)
			if !ok {
				continue
			}
			covered := 100 * share
			c.n++
			c.lo, c.hi = math.Min(c.lo, covered), math.Max(c.hi, covered)
			t.Points = append(t.Points, figure.TernaryPoint{
				Group: i, Sample: sample.ID, At: shareOf(p),
				Details: []figure.Detail{
					{Label: figure.Formula(s.A.String()), Value: fmt.Sprintf("%.1f %%", 100*p.A)},
					{Label: figure.Formula(s.B.String()), Value: fmt.Sprintf("%.1f %%", 100*p.B)},
					{Label: figure.Formula(s.C.String()), Value: fmt.Sprintf("%.1f %%", 100*p.C)},
					{Label: "of the analysis", Value: fmt.Sprintf("%.0f %%", covered)},
					{Label: "liquidus, all oxides", Value: est.Liquidus.WithUnit()},
					{Label: "from", Value: whence(sample)},
				},
			})
		}
	}
	return c
}
