package report

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"smeltbook/assay/fragment"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
	"smeltbook/phase/hearth"
	"smeltbook/report/figure"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
)

// fragmentsUsed is what a fragments entry rested on, for the methods.
type fragmentsUsed struct {
	assumed hearth.Assumed
	layers  bool
}

// wall is a fragment whose layers tell of its heating.
type wall struct {
	piece   fragment.Fragment
	profile hearth.Profile
	borders []hearth.Border
}

// fragmentsEntry reconstructs a furnace from fragments: its diameter from
// their curvature, its heat from the layers of its wall.
func fragmentsEntry(_ context.Context, b *builder, e *notebook.Entry, out *page.Entry) error {
	var o struct {
		Fragments   []string
		Eaten       []float64 // mm by which the face was eaten back, least and most
		Ground      *float64  // °C
		Diffusivity []float64 // mm²/s, least and most
	}
	if !b.options(e, &o) {
		return nil
	}
	pieces, ok := b.pieces(e, o.Fragments)
	if !ok {
		return nil
	}
	a := assumer{b: b, e: e}
	assumed := hearth.Assumed{GroundTC: a.number("ground", o.Ground, 10, -30, 90, "°C"), Diffusivity: hearth.FiredClay()}
	ok = true
	span := func(key string, stated []float64, otherwise [2]float64, most float64, unit string) [2]float64 {
		if len(stated) == 0 {
			a.assume(key, fmt.Sprintf("%s %g to %g %s", key, otherwise[0], otherwise[1], unit))
			return otherwise
		}
		if len(stated) != 2 || !(stated[0] >= 0 && stated[0] <= stated[1] && stated[1] <= most) {
			b.fail(e, "BAD_RANGE", "%s is two numbers in %s, the lesser first, up to %g: %s: [%g, %g]", key, unit, most, key, otherwise[0], otherwise[1])
			ok = false
			return otherwise
		}
		return [2]float64{stated[0], stated[1]}
	}
	assumed.Diffusivity = span("diffusivity", o.Diffusivity, assumed.Diffusivity, 5, "mm²/s")
	eaten := span("eaten", o.Eaten, [2]float64{0, 10}, 200, "mm")
	if a.failed || !ok {
		return nil
	}
	if assumed.Diffusivity[0] == 0 {
		b.fail(e, "BAD_RANGE", "a diffusivity of 0 mm²/s lets no heat through; give a number above 0")
		return nil
	}
	table, curves := b.curvatureTable(pieces)
	pooled, known := fragment.Pool(curves)
	var told source.Notices
	if known {
		assumed.Diameter = finiteOr(pooled.Limits.Value, 0)
	}
	walls := wallsOf(pieces, assumed)
	for _, w := range walls {
		for _, n := range w.profile.Notices {
			n.At, n.Message = w.piece.At, w.piece.Name+": "+n.Message
			told = append(told, n)
		}
	}
	if table != nil {
		out.Parts = append(out.Parts, page.Lines("What a fragment says of the furnace it came from lies in the bend of its edge. The shorter the chord, the more the error of reading counts: upwards there is soon no limit."), table)
	}
	if known {
		out.Parts = append(out.Parts, page.Lines(append(pooledText(pooled, eaten), ovalText(pieces))...))
		fig, err := b.planFigure(pieces, pooled, walls)
		if err != nil {
			return err
		}
		if fig != nil {
			out.Parts = append(out.Parts, fig)
		}
		out.Parts = append(out.Parts, b.allowedTable(pooled, eaten, pieces))
	} else {
		out.Parts = append(out.Parts, page.Lines("No fragment has a chord with its sagitta, a place on a rim template or four points of its edge, so nothing is said of the diameter."))
	}
	if len(walls) > 0 {
		out.Parts = append(out.Parts, page.Lines("The layers of a wall are a thermometer that kept its highest readings, if a rough one: the border of each is a band of temperature, not a line. The wall is taken as thick and cold behind, its face as hot from the first moment."), b.layersTable(walls))
		for _, w := range walls[:min(len(walls), 2)] {
			fig, err := b.profileFigure(w)
			if err != nil {
				return err
			}
			out.Parts = append(out.Parts, fig)
		}
		out.Parts = append(out.Parts, page.Lines("What cannot be parted: time and diffusivity, for only their product counts; one long firing and several short ones, for each layer keeps the hottest; and a face that was hotter but has been eaten back, which moves all borders towards the new one. The heat goes on outwards after the fire is out, so the time is rather long than short."))
	}
	if lines := nonEmpty(b.wallLost(pooled, known), b.clayWords(e)); len(lines) > 0 {
		out.Parts = append(out.Parts, page.Lines(lines...))
	}
	out.Parts = append(out.Parts, a.parts()...)
	if len(told) > 0 {
		out.Parts = append(out.Parts, &page.Notices{List: told})
	}
	b.fragments = append(b.fragments, fragmentsUsed{assumed, len(walls) > 0})
	out.Margin = []string{counted(len(pieces), "fragment"), "from " + pieces[0].At.File}
	return nil
}

// pieces returns the fragments named, or all.
func (b *builder) pieces(e *notebook.Entry, names []string) ([]fragment.Fragment, bool) {
	all := b.study.Campaign.Pieces
	if len(all) == 0 {
		b.lack(e, "NO_FRAGMENTS", "no field sheet tells of fragments; add one with the columns Fragment, Chord (mm), Sagitta (mm) and, from the hot face outwards, Slagged (mm), Bloated (mm), Vitrified (mm), Oxidised (mm), Grey (mm), Raw (mm), or take this block out")
		return nil, false
	}
	if len(names) == 0 {
		return all, true
	}
	var known []string
	for _, p := range all {
		known = append(known, p.Name)
	}
	var out []fragment.Fragment
	for _, name := range names {
		i := slices.IndexFunc(known, func(k string) bool { return strings.EqualFold(k, name) })
		if i < 0 {
			b.fail(e, "UNKNOWN_FRAGMENT", "no field sheet has a fragment %q%s", name, source.DidYouMean(name, known))
			return nil, false
		}
		out = append(out, all[i])
	}
	return out, true
}

// wallsOf fits the heating of every fragment with two borders or more.
func wallsOf(pieces []fragment.Fragment, a hearth.Assumed) []wall {
	var out []wall
	for _, p := range pieces {
		w := wall{piece: p}
		for _, l := range p.Layers {
			if !l.Broken {
				w.borders = append(w.borders, hearth.Border{Layer: hearth.Layer(l.Layer), Depth: l.Outer, U: p.UDepth})
			}
		}
		a.Thickness = finiteOr(p.Wall, 0)
		profile, err := hearth.Fit(w.borders, hearth.Marks(), a)
		if err != nil {
			continue // fewer than two borders: told by its absence from the table
		}
		w.profile = profile
		out = append(out, w)
	}
	return out
}

// planFigure draws what is allowed to scale; nil where it has no best value.
func (b *builder) planFigure(pieces []fragment.Fragment, p fragment.Pooled, walls []wall) (*page.Figure, error) {
	if math.IsInf(p.Limits.Value, 1) {
		return nil, nil
	}
	body := &figure.Plan{Scale: "mm", Value: p.Limits.Value, Low: p.Limits.Low, High: p.Limits.High}
	if most := 2 * p.Limits.Value; body.High > most {
		body.High, body.Open = most, true
	}
	for _, x := range pieces {
		if r, ok := x.Read(); ok && r.Chord > 0 && r.Chord < p.Limits.Value {
			body.Pieces = append(body.Pieces, figure.PlanPiece{Name: x.Name, Chord: r.Chord})
		}
		if x.Wall > body.Wall {
			body.Wall = x.Wall
		}
	}
	caption := "The furnace to scale. Left: plan with the inside diameter from all fragments together (full line) and what 95 % limits allow (tinted, between the broken lines); thick strokes are the fragments at the length of their chords, at places chosen for the drawing."
	if body.Open {
		caption += " Nothing rules out a larger one; the drawing stops at twice the best."
	}
	if w := fullest(walls); w != nil {
		last := w.piece.Layers[len(w.piece.Layers)-1].Outer
		body.WallTitle, body.Thickest = "wall of "+w.piece.Name+" in section", last*1.05+2*w.piece.UDepth
		for _, l := range w.piece.Layers {
			x := figure.PlanLayer{Label: l.Layer, Outer: l.Outer, U: w.piece.UDepth, Broken: l.Broken}
			for _, m := range hearth.Marks() {
				if string(m.Layer) == l.Layer && !l.Broken {
					x.Temperature = fmt.Sprintf("%.0f–%.0f °C", m.Low, m.High)
				}
			}
			body.Layers = append(body.Layers, x)
		}
		caption += " Right: the wall with most layers in section, bars one standard uncertainty of the depth, below them the temperature that the border stands for; a zigzag is a break."
	}
	return b.figure(figure.Figure{Caption: caption, Alt: fmt.Sprintf("Plan of a ring of %.0f mm with the band of diameters that are allowed, and a section through the layers of its wall.", p.Limits.Value),
		Groups: []figure.Group{{Name: "fragments", Label: "fragments"}}, Body: body}, page.Wide)
}

func fullest(walls []wall) *wall {
	var best *wall
	for i := range walls {
		if best == nil || len(walls[i].piece.Layers) > len(best.piece.Layers) {
			best = &walls[i]
		}
	}
	return best
}

// profileFigure draws temperature against depth.
func (b *builder) profileFigure(w wall) (*page.Figure, error) {
	deepest := w.piece.Layers[len(w.piece.Layers)-1].Outer
	best := figure.NamedLine{Label: "best", Style: 0}
	region := figure.Region{Label: "allowed"}
	var low []float64
	const n = 60
	for i := 0; i <= n; i++ {
		x := deepest * float64(i) / n
		s := w.profile.Between(x)
		best.X, best.Y = append(best.X, x), append(best.Y, s.Value)
		region.X, region.Y = append(region.X, x), append(region.Y, s.High)
		low = append(low, s.Low)
	}
	for i := n; i >= 0; i-- {
		region.X, region.Y = append(region.X, best.X[i]), append(region.Y, low[i])
	}
	d := &figure.Diagram{X: axisFor("depth behind the hot face", "mm", []float64{0, deepest}), Y: axisFor("highest temperature", "°C", append([]float64{0}, region.Y...)), Lines: []figure.NamedLine{best}, Regions: []figure.Region{region}}
	for _, x := range w.borders {
		for _, m := range hearth.Marks() {
			if m.Layer == x.Layer {
				d.Boxes = append(d.Boxes, figure.Span{Group: 1, Sample: string(x.Layer), X0: math.Max(x.Depth-x.U, 0), X1: x.Depth + x.U, From: m.Low, To: m.High,
					Details: []figure.Detail{{Label: "border at", Value: fmt.Sprintf("%.0f ± %.1f mm", x.Depth, x.U)}, {Label: "band", Value: m.Evidence}}})
			}
		}
	}
	return b.figure(figure.Figure{
		Caption: fmt.Sprintf("Heat in the wall of %s: best fit and all that 95 %% limits allow. Boxes are the outer borders of its layers, as wide as one standard uncertainty of the depth either way and as high as the band of temperature.", w.piece.Name),
		Alt:     "A curve of temperature falling with depth behind the hot face, within a band, through boxes for the borders of the layers.",
		Groups:  []figure.Group{{Name: "best", Label: "best"}, {Name: "borders", Label: "outer border of a layer"}}, Body: d,
	}, page.Narrow)
}

// wallLost compares with what the replica's firings took of their walls.
func (b *builder) wallLost(p fragment.Pooled, known bool) string {
	var lost []quantity.Quantity
	for _, r := range b.study.Campaign.Runs {
		before, ok := r.Mass("lining before")
		after, ok2 := r.Mass("lining after")
		if ok && ok2 && before.Value > after.Value {
			lost = append(lost, quantity.Difference(before, after))
		}
	}
	if len(lost) == 0 || !known || math.IsInf(p.Limits.Value, 1) {
		return ""
	}
	lo, hi := lost[0].Value, lost[0].Value
	for _, q := range lost[1:] {
		lo, hi = math.Min(lo, q.Value), math.Max(hi, q.Value)
	}
	// Half a sphere of the inside diameter, baked clay of 1700 kg/m³.
	mm := func(kg float64) float64 {
		d := p.Limits.Value / 1000
		return kg / 1700 / (math.Pi / 2 * d * d) * 1000
	}
	return fmt.Sprintf("Weighed before and after, %s of the replica lost %s–%s kg of lining. Spread evenly over half a sphere of this diameter, with clay of 1700 kg/m³ (common practice), that is %s–%s mm a firing; under the pipe it is several times as much. How often the old furnace was fired, and whether it was relined, neither tells.",
		counted(len(lost), "firing"), short(lo), short(hi), short(mm(lo)), short(mm(hi)))
}
