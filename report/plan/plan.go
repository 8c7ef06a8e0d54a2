package plan

import (
	"context"
	"fmt"
	"math"

	"smeltbook/assay"
	"smeltbook/assay/balance"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
	"smeltbook/phase/charge"
	"smeltbook/phase/heat"
	"smeltbook/phase/melt"
	"smeltbook/phase/slag"
	"smeltbook/report/caution"
	"smeltbook/report/notebook"
)

// Plan is a charge with what it should give.
type Plan struct {
	Settings
	Title    string
	Met      bool // the target is met; else the mixture is the nearest
	Weights  []Weight
	Fuel     Weight // charcoal
	Slag     Slag
	Outcomes []Outcome // of the target, then what is of interest beside it
	Fluxing  Fluxing
	Heat     Heat
	WhatIf   []Variant
	Ways     []Way // what it would take; nil where the target is met
	Cautions []caution.Caution
	Notices  source.Notices
}

// Weight is what is to be weighed of a stock.
type Weight struct {
	Name, Kind string
	Batch      quantity.Quantity // kg, with the uncertainty of the scale
	Total      quantity.Quantity // kg for all batches
	Store      *float64          // kg there are
	Share      float64           // of the ore; of a flux and of charcoal kg for a kg of ore
}

// Slag is the slag foreseen and what comes with it, for a batch.
type Slag struct {
	Parts            []Part
	Slag, Metal, Won quantity.Quantity // kg; Won is the copper in the metal, as a share of that charged
}

// Part is an oxide of the slag.
type Part struct {
	ID string
	Wt quantity.Quantity // wt%
}

// Heat is what the charge of all batches takes at the least.
type Heat struct {
	Need  quantity.Quantity // MJ
	Floor quantity.Quantity // kg charcoal
}

// planner is a plan in the making.
type planner struct {
	Plan
	model   *melt.Model
	trials  *balance.Trials
	terms   []charge.Term // of the target, then of interest
	kg      []float64     // for a kg of ore: ores, fluxes, ash and lining
	central charge.Verdict
}

// Make plans the charge that the notebook asks for. Notices with an error
// stand for a plan that could not be made; the error is for a cancelled ctx or
// a fault of the models.
func Make(ctx context.Context, c *assay.Campaign, n *notebook.Notebook) (*Plan, source.Notices, error) {
	s, ns := settle(c, n)
	if ns.Failed() {
		return nil, ns, nil
	}
	m, err := melt.Default()
	if err != nil {
		return nil, nil, fmt.Errorf("liquidus model: %w", err)
	}
	p := &planner{Plan: Plan{Settings: s, Title: n.Title, Notices: s.Warnings}, model: m}
	if p.trials, err = p.charged(p.Fluxes); err != nil {
		ns.Add(source.Error, "NO_CHARGE", source.Line(n.File, n.Charge.Line), "%v", err)
		return nil, ns, nil
	}
	problem := p.problem(p.trials, p.Fluxes)
	found, err := problem.Solve(ctx)
	switch {
	case ctx.Err() != nil:
		return nil, nil, ctx.Err()
	case err != nil:
		ns.Add(source.Error, "NO_CHARGE", source.Line(n.File, n.Charge.Line), "%v", err)
		return nil, ns, nil
	}
	p.Met = found.Verdict.Met()
	p.kg = p.withOthers(found.Kg)
	p.terms = ofInterest(p.Target, p.AtC)
	if err := p.forecast(ctx); err != nil {
		return nil, nil, err
	}
	p.weigh()
	if err := p.heat(); err != nil {
		return nil, nil, err
	}
	if err := p.whatIf(); err != nil {
		return nil, nil, err
	}
	if !p.Met {
		if err := p.ways(ctx, c, problem); err != nil {
			return nil, nil, err
		}
	}
	p.cautions()
	return &p.Plan, ns, nil
}

// charged draws the materials of the charge, in the order ores, fluxes, ash and
// lining.
func (p *planner) charged(fluxes []Stock) (*balance.Trials, error) {
	// All batches are weighed one by one, so that their errors sum by squares.
	u := p.Scale * math.Sqrt(float64(p.Batches)) / (p.ore() * float64(p.Batches))
	var in []balance.Material
	for _, s := range append(p.Ores[:len(p.Ores):len(p.Ores)], fluxes...) {
		m := s.Material
		m.Mass = quantity.WithU(1, u, "kg", "the scale")
		in = append(in, m)
	}
	return balance.NewTrials(append(in, p.Others...), p.Behaviour)
}

// ore is the kg of ore in a batch; of a volume it is an estimate until the flux
// is known.
func (p *planner) ore() float64 {
	if p.Volume == 0 {
		return p.Batch
	}
	flux := 0.3 // kg for a kg of ore, until it is known
	if p.kg != nil {
		flux = 0
		for i := range p.Fluxes {
			flux += p.kg[len(p.Ores)+i]
		}
	}
	return p.Volume / float64(p.Batches) / ((1+flux)/stoneBulk + p.Charcoal.Value/charcoalBulk)
}

// withOthers adds ash and lining to the weights of ores and fluxes.
func (p *planner) withOthers(kg []float64) []float64 {
	out := append([]float64{}, kg...)
	for _, m := range p.Others {
		out = append(out, m.Mass.Value)
	}
	return out
}

func (p *planner) problem(trials *balance.Trials, fluxes []Stock) charge.Problem {
	q := charge.Problem{Target: p.Target, Model: p.model, Seed: p.Behaviour.Seed}
	for _, s := range p.Ores {
		q.Ores = append(q.Ores, s.Bound)
	}
	for _, s := range fluxes {
		q.Fluxes = append(q.Fluxes, s.Bound)
	}
	q.Slag = func(kg []float64) (slag.Wt, float64, error) {
		y, err := trials.Give(0, p.withOthers(kg))
		if err != nil {
			return slag.Wt{}, 0, err
		}
		return wtOf(y), p.cost(y, kg), nil
	}
	return q
}

// cost is what the aim wants little of. A thousandth of the slag decides
// between mixtures that are alike in it.
func (p *planner) cost(y balance.Yield, kg []float64) float64 {
	switch p.Aim {
	case LeastSlag:
		return y.SlagKg
	case MostCopper:
		return y.SlagKg/1000 - y.Won
	}
	flux := y.SlagKg / 1000
	for _, x := range kg[len(p.Ores):] {
		flux += x
	}
	return flux
}

// wtOf is a slag on the basis of the melt models.
func wtOf(y balance.Yield) slag.Wt {
	var w slag.Wt
	for o := slag.Oxide(0); o < slag.NumOxides; o++ {
		w[o] = y.Slag[o.String()]
	}
	return w.Normalise()
}

// weigh turns shares into kilograms.
func (p *planner) weigh() {
	p.Batch = p.ore()
	n := float64(p.Batches)
	weight := func(name, kind string, share float64, store *float64) Weight {
		u := p.Scale
		if share == 0 {
			u = 0
		}
		return Weight{Name: name, Kind: kind, Share: share, Store: store,
			Batch: quantity.WithU(p.Batch*share, u, "kg", "the scale"),
			Total: quantity.WithU(n*p.Batch*share, u*math.Sqrt(n), "kg", "the scale, batch by batch")}
	}
	for i, s := range append(p.Ores[:len(p.Ores):len(p.Ores)], p.Fluxes...) {
		w := weight(s.Material.Name, s.Material.Kind, p.kg[i], s.Store)
		p.Weights = append(p.Weights, w)
		if s.Store != nil && w.Total.Value > *s.Store {
			p.Notices.Add(source.Warning, "STORE", source.Cell{}, "%d batches need %.2f kg %s and %g are in store: they last for %d", p.Batches, w.Total.Value, w.Name, *s.Store, int(*s.Store/w.Batch.Value))
		}
		if w.Batch.Value > 0 && w.Batch.Value < 2*p.Scale {
			p.Notices.Add(source.Warning, "SCALE", source.Cell{}, "%.3f kg %s in a batch is less than twice the ± %g kg of the scale; weigh it on a finer one, or make larger batches", w.Batch.Value, w.Name, p.Scale)
		}
	}
	p.Fuel = weight("charcoal", "charcoal", p.Charcoal.Value, nil)
}

// heat is what the charge takes, and the charcoal for it at least.
func (p *planner) heat() error {
	y, err := p.trials.Give(0, p.kg)
	if err != nil {
		return err
	}
	ore := p.Batch * float64(p.Batches)
	var parts []balance.Material
	for i, s := range append(p.Ores[:len(p.Ores):len(p.Ores)], p.Fluxes...) {
		m := s.Material
		m.Mass = quantity.WithU(p.kg[i]*ore, 0, "kg", "")
		parts = append(parts, m)
	}
	if p.Heat.Need, err = heat.Need(Heated(p.Mineral.Name, parts, y.SlagKg*ore, y.Won*ore), p.AtC); err != nil {
		return err
	}
	if p.Heat.Floor, err = heat.Bed().Charcoal(p.Heat.Need); err != nil {
		return err
	}
	if floor := p.Heat.Floor.Value; floor > p.Fuel.Total.Value {
		p.Notices.Add(source.Warning, "CHARCOAL", source.Cell{}, "%.1f kg charcoal are less than the %.1f kg that the charge alone takes, without what the furnace loses; plan more", p.Fuel.Total.Value, floor)
	}
	return nil
}
