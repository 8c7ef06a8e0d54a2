package plan

import (
	"context"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"smeltbook/assay/balance"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
	"smeltbook/phase/charge"
	"smeltbook/phase/flow"
	"smeltbook/phase/slag"
)

// Outcome is what is foreseen for one term of the target, or for what is of
// interest beside it.
type Outcome struct {
	Term   charge.Term
	Asked  bool // a term of the target
	Value  float64
	SD     float64 // from stocks, weights and behaviour
	Model  float64 // the model's own standard deviation; of a viscosity a factor; 0 where there is no model
	Miss   float64 // at most 0 where the term holds
	Chance float64 // share of the draws in which the term holds, the model taken as exact
	// WithModel is the chance with the model's own error; it is Chance where
	// there is no model.
	WithModel float64
}

// ofInterest adds to a target what is always told.
func ofInterest(target []charge.Term, at float64) []charge.Term {
	out := slices.Clone(target)
	for _, t := range []charge.Term{
		{Of: charge.Liquidus}, {Of: charge.Viscosity, AtC: at}, {Of: charge.Content, Over: slag.SiO2},
		{Of: charge.Ratio, Over: slag.FeO, Under: slag.SiO2}, {Of: charge.Ratio, Over: slag.CaO, Under: slag.SiO2},
	} {
		if !slices.ContainsFunc(out, func(o charge.Term) bool { return o.Name() == t.Name() }) {
			t.Hi = math.Inf(1)
			out = append(out, t)
		}
	}
	return out
}

// forecast asks the central trial and every draw.
func (p *planner) forecast(ctx context.Context) error {
	y, err := p.trials.Give(0, p.kg)
	if err != nil {
		return err
	}
	p.central = charge.Judge(p.model, wtOf(y), p.terms)
	n := p.trials.Len()
	values := make([][]float64, len(p.terms))
	yields := make([]balance.Yield, 0, n)
	var factors []float64
	never := 0
	for i := 1; i <= n; i++ {
		if err := ctx.Err(); err != nil {
			return err
		}
		d, err := p.trials.Give(i, p.kg)
		if err != nil {
			continue
		}
		yields = append(yields, d)
		for k, x := range charge.Judge(p.model, wtOf(d), p.terms).Values {
			values[k] = append(values[k], x)
		}
		if f, ok := p.factor(p.trials, i, p.kg); ok {
			factors = append(factors, f)
		} else {
			never++
		}
	}
	for k, t := range p.terms {
		p.Outcomes = append(p.Outcomes, p.outcome(k, t, values[k]))
	}
	p.fluxing(factors, never, n)
	p.slag(y, yields)
	for _, note := range p.central.Notices {
		if note.Severity >= source.Warning {
			p.Notices.AddNew(source.Notices{note})
		}
	}
	if l := p.central.Liquidus; l != nil && l.TC > p.AtC {
		p.Notices.Add(source.Warning, "BELOW_LIQUIDUS", source.Cell{}, "at %g °C this slag would hold crystals (its liquidus is %.0f °C), and be stiffer than its liquid, whose viscosity this is", p.AtC, l.TC)
	}
	if y.MatteKg > 0 {
		p.Notices.Add(source.Note, "MATTE", source.Cell{}, "matte is to be expected, %.3g kg in a batch", y.MatteKg*p.ore())
	}
	return nil
}

func (p *planner) outcome(k int, t charge.Term, xs []float64) Outcome {
	o := Outcome{Term: t, Asked: k < len(p.Target), Value: p.central.Values[k], Miss: p.central.Misses[k], SD: deviation(xs)}
	switch t.Of {
	case charge.Liquidus:
		if p.central.Liquidus != nil {
			o.Model = p.central.Liquidus.ModelSD
		}
	case charge.Viscosity:
		o.Model = flow.Band
	}
	if !o.Asked || len(xs) == 0 {
		return o
	}
	within := func(x, sd float64) float64 {
		lo, hi := t.Lo, t.Hi
		if t.Of == charge.Viscosity {
			x, lo, hi = math.Log(x), math.Log(lo), math.Log(hi)
		}
		if sd == 0 {
			if x >= lo-1e-9*math.Abs(lo) && x <= hi+1e-9*math.Abs(hi) {
				return 1
			}
			return 0
		}
		return distuv.UnitNormal.CDF((hi-x)/sd) - distuv.UnitNormal.CDF((lo-x)/sd)
	}
	sd := o.Model
	if t.Of == charge.Viscosity {
		sd = math.Log(o.Model)
	}
	for _, x := range xs {
		if !math.IsNaN(x) {
			o.Chance += within(x, 0)
			o.WithModel += within(x, sd)
		}
	}
	o.Chance, o.WithModel = o.Chance/float64(len(xs)), o.WithModel/float64(len(xs))
	return o
}

func (p *planner) slag(y balance.Yield, yields []balance.Yield) {
	q := func(scale float64, unit string, of func(balance.Yield) float64) quantity.Quantity {
		var xs []float64
		for _, d := range yields {
			xs = append(xs, scale*of(d))
		}
		return quantity.WithU(scale*of(y), deviation(xs), unit, "weights, analyses and behaviour, by Monte Carlo")
	}
	kg := p.ore()
	p.Slag = Slag{
		Slag:  q(kg, "kg", func(d balance.Yield) float64 { return d.SlagKg }),
		Metal: q(kg, "kg", func(d balance.Yield) float64 { return d.MetalKg }),
		Won:   q(100, "%", func(d balance.Yield) float64 { return d.Won / d.Copper }),
	}
	var ids []string
	for id, x := range y.Slag {
		if x > 0 {
			ids = append(ids, id)
		}
	}
	slices.SortFunc(ids, func(a, b string) int {
		if y.Slag[a] != y.Slag[b] {
			if y.Slag[a] > y.Slag[b] {
				return -1
			}
			return 1
		}
		return strings.Compare(a, b)
	})
	for _, id := range ids {
		p.Slag.Parts = append(p.Slag.Parts, Part{id, q(1, "wt%", func(d balance.Yield) float64 { return d.Slag[id] })})
	}
}

// deviation is the standard deviation of what is a number.
func deviation(xs []float64) float64 {
	xs = slices.DeleteFunc(slices.Clone(xs), func(x float64) bool { return math.IsNaN(x) || math.IsInf(x, 0) })
	if len(xs) < 2 {
		return math.NaN()
	}
	return stat.StdDev(xs, nil)
}
