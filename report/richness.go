package report

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"

	"smeltbook/assay"
	"smeltbook/assay/balance"
	"smeltbook/assay/dressing"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
	"smeltbook/phase/copper"
	"smeltbook/phase/heat"
	"smeltbook/report/notebook"
	"smeltbook/report/plan"
	"smeltbook/report/study"
)

// richness is how ores of different grade would smelt.
type richness struct {
	ratio        balance.Ratio
	flux         string
	slagCu       quantity.Quantity
	slagCuFrom   string
	best         bool // slagCu is what must dissolve: nothing entrained
	tc           float64
	with         []string // what comes to a kilogram of ore beside flux
	without      []string // what was left out, and why
	stocks       []richStock
	fired        []richFiring
	curve        []balance.Graded // for the gangue of the first stock
	low, mid, hi float64          // wt% Cu below which no metal is won
	mineral      dressing.Mineral
}

// richStock is one ore.
type richStock struct {
	name   string
	grade  quantity.Quantity
	gives  balance.Graded
	mined  quantity.Quantity // share of the copper of the first feed that is in it; Missing where no circuit makes it
	charge heat.Charge
	need   quantity.Quantity // MJ for a kg of ore
	fuel   quantity.Quantity // kg charcoal for a kg of ore, at least
}

// usualRatio is FeO/SiO2 of a slag that runs, where nothing else is known: the
// middle of slags with 30 to 48 % silica (common practice).
const usualRatio = 1.4

func (b *builder) richness(e *notebook.Entry, o dressingOptions, mineral dressing.Mineral, circuits []*dressing.Reconciled, a *assumer) (*richness, source.Notices, bool) {
	r := &richness{mineral: mineral}
	names := []string{o.Ore}
	if o.Slag != "" {
		names = append(names, o.Slag)
	}
	groups, ok := b.groups(e, names)
	if !ok {
		return nil, nil, false
	}
	var slags []*assay.Sample
	if len(groups) > 1 {
		slags = groups[1].Samples
	}
	var flux *balance.Material
	if o.Flux != "" {
		m, err := plan.Material(o.Flux, b.ofName(o.Flux))
		if err != nil {
			b.fail(e, "UNKNOWN_FLUX", "%v", err)
			return nil, nil, false
		}
		flux, r.flux = &m, o.Flux
	} else {
		a.assume("flux", "no flux")
	}
	r.ratio = balance.Ratio{Over: "FeO", Under: "SiO2", Value: b.wantedRatio(o, slags, a)}
	r.tc = o.At
	assumed := study.ConditionsOf(0, 0)
	if r.tc == 0 {
		r.tc = assumed.TC
		a.assume("at", fmt.Sprintf("at %g °C", r.tc))
	}
	if r.tc < 1100 || r.tc > 1400 {
		b.fail(e, "BAD_RANGE", "at gives the temperature of the slag in °C, 1100 to 1400, not %g", r.tc)
		return nil, nil, false
	}
	if !b.slagCopper(e, o, r, slags, assumed.LogPO2, a) {
		return nil, nil, false
	}
	with := b.companions(o, r, a)
	if a.failed {
		return nil, nil, false
	}
	how := balance.Usual()
	how.CopperInSlag, how.Draws, how.Seed = r.slagCu, b.study.Conditions.Draws, b.study.Conditions.Seed
	var ns source.Notices
	for _, stock := range stocksOf(groups[0].Samples) {
		g, err := b.grading(stock, mineral, flux, r.ratio, with, how)
		if err != nil {
			ns.Add(source.Warning, "NO_RICHNESS", source.Cell{}, "%s: no yield: %v", stock, err)
			continue
		}
		if err := r.add(stock, g, flux, circuits); err != nil {
			ns.Add(source.Warning, "NO_RICHNESS", source.Cell{}, "%s: no yield: %v", stock, err)
		}
	}
	if len(r.stocks) == 0 {
		b.lack(e, "NO_RICHNESS", "no ore of the group %q has an analysis with copper and gangue, so no yield can be reckoned", o.Ore)
		return nil, nil, true
	}
	r.fired = b.firedOf(r.stocks)
	return r, ns, true
}

// ofName returns the samples of a stock of flux or ore, or the one sample.
func (b *builder) ofName(name string) []*assay.Sample {
	return plan.OfName(b.study.Campaign, name, assay.Flux, assay.Ore)
}

// stocksOf returns the stocks that ore samples were taken from, in order.
func stocksOf(samples []*assay.Sample) []string {
	var out []string
	for _, s := range samples {
		if name := plan.StockOf(s.ID); !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	return out
}

func (b *builder) wantedRatio(o dressingOptions, slags []*assay.Sample, a *assumer) float64 {
	if o.Ratio != nil || len(slags) == 0 {
		return a.number("ratio", o.Ratio, usualRatio, 0.3, 4, "FeO/SiO2")
	}
	var xs []float64
	for _, s := range slags {
		fe, si := asOxide(s, "FeO"), asOxide(s, "SiO2")
		if fe.Known() && si.Known() && si.Value > 0 {
			xs = append(xs, fe.Value/si.Value)
		}
	}
	if len(xs) == 0 {
		return a.number("ratio", nil, usualRatio, 0.3, 4, "FeO/SiO2")
	}
	return median(xs)
}

// slagCopper is the copper that the slag would hold: that of like slags, or
// else what a slag under copper metal dissolves, which is the least.
func (b *builder) slagCopper(e *notebook.Entry, o dressingOptions, r *richness, slags []*assay.Sample, assumed [2]float64, a *assumer) bool {
	var xs []float64
	for _, s := range slags {
		if q, ok := copper.TotalCopper(s.AsReported); ok && q.Known() {
			xs = append(xs, q.Value)
		}
	}
	if len(xs) > 1 {
		mean, sd := stat.MeanStdDev(xs, nil)
		r.slagCu = quantity.WithU(mean, sd, "wt%", "scatter between the slags")
		r.slagCuFrom = fmt.Sprintf("that of the %d slags of %s, with their scatter", len(xs), o.Slag)
		return true
	}
	lo, hi := assumed[0], assumed[1]
	switch len(o.LogPO2) {
	case 0:
		a.assume("log_po2", fmt.Sprintf("log pO₂ %s to %s", signed(lo), signed(hi)))
	case 1:
		lo, hi = o.LogPO2[0], o.LogPO2[0]
	default:
		lo, hi = o.LogPO2[0], o.LogPO2[1]
	}
	if len(o.LogPO2) > 2 || lo > hi || hi > 0 {
		b.fail(e, "BAD_RANGE", "log_po2 takes one value, or two with the lower first, below 0 (log10 of bar), not %v", o.LogPO2)
		return false
	}
	band := copper.Fayalitic()
	least, _ := copper.Dissolved(r.tc, lo, 1, band.Lo*band.Factor)
	most, _ := copper.Dissolved(r.tc, hi, 1, band.Hi*band.Factor)
	// Any value between the two is as likely (JCGM 100:2008, 4.3.7).
	r.slagCu = quantity.WithU((least+most)/2, (most-least)/math.Sqrt(12), "wt%", "rectangular between the ends")
	r.slagCuFrom = fmt.Sprintf("what a slag under copper must dissolve at %g °C and log pO₂ %s to %s, with no drop left in it", r.tc, signed(lo), signed(hi))
	r.best = true
	return true
}

// companions are what comes to a kilogram of ore beside the flux, from the
// record of the firings: ash of its charcoal, and wall that melts.
func (b *builder) companions(o dressingOptions, r *richness, a *assumer) []balance.Material {
	var out []balance.Material
	add := func(name, kind string, kg quantity.Quantity, text string) {
		samples := plan.Own(b.study.Campaign, kind)
		if len(samples) == 0 || !kg.Known() {
			r.without = append(r.without, name)
			return
		}
		m, err := plan.Material(name, samples)
		if err != nil {
			r.without = append(r.without, name)
			return
		}
		m.Mass = kg
		out = append(out, m)
		r.with = append(r.with, fmt.Sprintf("%s kg %s (%s)", kg.Text(), name, text))
	}
	charcoal := plan.PerOre(b.study.Campaign, "charcoal")
	if o.Charcoal != nil {
		charcoal = quantity.New(a.number("charcoal", o.Charcoal, 0, 0.1, 50, "kg for a kg of ore"), "kg", "stated in the notebook")
	}
	ash := plan.MeanPercent(b.study.Campaign, "charcoal ash")
	add("fuel ash", assay.Ash, plan.AshOf(charcoal, ash), fmt.Sprintf("%s kg charcoal with %s %% ash", charcoal.Text(), ash.Text()))
	add("wall", assay.Lining, plan.PerOre(b.study.Campaign, "lining lost"), "as the firings lost it")
	return out
}

func (b *builder) grading(stock string, mineral dressing.Mineral, flux *balance.Material, want balance.Ratio, with []balance.Material, how balance.Behaviour) (balance.Grading, error) {
	m, err := plan.Material(stock, b.ofName(stock))
	if err != nil {
		return balance.Grading{}, err
	}
	return balance.Grading{Ore: m, Mineral: mineral.Copper, Flux: flux, Want: want, With: with, How: how}, nil
}

// add reckons one stock; the first one also gives the curve.
func (r *richness) add(stock string, g balance.Grading, flux *balance.Material, circuits []*dressing.Reconciled) error {
	grade, _ := g.Ore.Composition.OfElement("Cu")
	got, err := g.At([]float64{grade.Value})
	if err != nil {
		return err
	}
	s := richStock{name: stock, grade: grade, gives: got[0], mined: quantity.None(quantity.Missing, nan, "1")}
	for _, c := range circuits {
		if c.Circuit.Stages[0].Feed.Product == stock {
			s.mined = quantity.WithU(1, 0, "1", "the first feed")
		} else if p, ok := c.Of(stock, dressing.Balanced, 0); ok {
			if cu, ok := p.Of(dressing.Copper); ok {
				s.mined = cu.Recovery
			}
		}
		if s.mined.Known() {
			break
		}
	}
	s.charge = r.chargeOf(g, s.gives, flux)
	if s.need, err = heat.Need(s.charge, r.tc); err != nil {
		return err
	}
	if s.fuel, err = heat.Bed().Charcoal(s.need); err != nil {
		return err
	}
	if len(r.stocks) == 0 {
		var grades []float64
		for x := 0.5; x <= 0.7*r.mineral.Copper; x += 0.5 {
			grades = append(grades, x)
		}
		if r.curve, err = g.At(grades); err != nil {
			return err
		}
		if r.low, r.mid, r.hi, err = g.NoMetalBelow(); err != nil {
			return err
		}
	}
	r.stocks = append(r.stocks, s)
	return nil
}

// chargeOf is what has to be heated with a kilogram of ore.
func (r *richness) chargeOf(g balance.Grading, x balance.Graded, flux *balance.Material) heat.Charge {
	parts := []balance.Material{g.Ore}
	if flux != nil {
		m := *flux
		m.Mass, m.Kind = x.Flux, assay.Flux
		parts = append(parts, m)
	}
	return plan.Heated(r.mineral.Name, parts, x.Slag.Value, x.Copper.Value)
}
