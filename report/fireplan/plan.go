package fireplan

import (
	"context"
	"fmt"

	"smeltbook/assay"
	"smeltbook/assay/source"
	"smeltbook/phase/furnace"
	"smeltbook/report/notebook"
)

// Plan is a firing foreseen, with what was assumed for it.
type Plan struct {
	furnace.Firing
	Title    string
	Load     Load
	Ground   string // dry, damp or wet
	Assumed  []string
	Cautions []string
	Logs     []Log                  // past firings
	Grounds  []furnace.GroundCourse // at Hours
	Pipes    []furnace.PipeChoice
	Fires    []Fire // of wood
	Notices  source.Notices
}

// usualDraws is the number of draws where the notebook leaves it open.
const usualDraws = 1000

// Make foresees the firing of a load in the furnace that the notebook
// describes. Notices with an error stand for a plan that could not be made; the
// error is for a cancelled ctx.
func Make(ctx context.Context, c *assay.Campaign, n *notebook.Notebook, load Load) (*Plan, source.Notices, error) {
	f := notebook.Furnace{}
	if n.Furnace != nil {
		f = *n.Furnace
	}
	draws := n.Draws
	if draws == 0 {
		draws = usualDraws
	}
	t, assumed := task(f, load, draws, n.Seed)
	var ns source.Notices
	out, err := furnace.Foresee(ctx, t)
	switch {
	case ctx.Err() != nil:
		return nil, nil, ctx.Err()
	case err != nil:
		ns.Add(source.Error, "FURNACE", source.Line(n.File, f.Line), "%v", err)
		return nil, ns, nil
	}
	p := &Plan{Firing: out, Title: n.Title, Load: load, Ground: f.Ground, Assumed: append(assumed, modelled()...), Notices: out.Notices}
	if p.Ground == "" {
		p.Ground = assumedGround
	}
	p.Logs, ns = logs(c, t.Furnace.Fuel.Carbon, t.Furnace.AmbientTC)
	p.Notices = append(p.Notices, ns...)
	if load.Charcoal > 0 && load.Charcoal < p.Charcoal.Value-p.Charcoal.U {
		p.Notices.Add(source.Warning, "CHARCOAL_SHORT", source.Cell{}, "%.1f kg charcoal are planned with the charge, but heating up, charging and the filled bowl ask for %s", load.Charcoal, p.Charcoal.WithUnit())
	}
	p.cautions(load.Cautions)
	if err := p.compare(); err != nil {
		return nil, nil, fmt.Errorf("comparing furnaces: %w", err)
	}
	return p, nil, nil
}

// modelled says what the furnace model itself takes for granted.
func modelled() []string {
	return []string{
		"half of the charge's heat is taken before the pipe",
		"the gas passes 0.7 of the bed, the wall sees 0.7 of the bed's heat",
		"charcoal reacts as in the model within a factor of two",
	}
}
