package notebook

import (
	"math"
	"strconv"

	"go.yaml.in/yaml/v3"
)

// Charge is the charge that a notebook plans, as it is written. What it leaves
// open is nil or empty. Lines are of the notebook; 0 is none.
type Charge struct {
	Line       int
	Ores       []ChargeStock // limits are shares of all ore, 0 to 1
	Fluxes     []ChargeStock // limits are kg for a kg of ore
	Target     []ChargeLimit
	At         *float64 // °C, of the viscosity and of the heat
	Batch      *float64 // kg of ore in a batch
	Batches    *int
	Volume     *float64 // litres that ore, flux and charcoal of all batches fill
	Charcoal   *float64 // kg for a kg of ore
	Ash        *ChargePart
	Lining     *ChargePart
	Scale      *float64  // kg, standard uncertainty of a weighing
	SlagCopper []float64 // wt% Cu of the slag and its standard uncertainty
	Aim        string
	Mineral    string
}

// ChargeStock is an ore or a flux. Without Limits the stock may be taken as far
// as makes sense.
type ChargeStock struct {
	Name     string
	Limits   *Span
	Store    *float64 // kg there are
	Moisture *float64 // wt% of it as weighed
	Line     int
}

// ChargeLimit is one thing asked of the slag: "liquidus", "viscosity", "SiO2"
// or "FeO/SiO2".
type ChargeLimit struct {
	Of   string
	Span Span
	Line int
}

// ChargePart is the ash of the fuel, as wt% of the charcoal, or the lining that
// melts, in kg for a kg of ore.
type ChargePart struct {
	Of     []string // stocks or samples
	Amount *float64
	U      *float64 // standard uncertainty of Amount
	Line   int
}

// Span is a range of values; Lo is 0 where only the most is stated.
type Span struct{ Lo, Hi float64 }

// charge is the front matter's charge as written.
type charge struct {
	Ores       yaml.Node
	Fluxes     yaml.Node
	Target     yaml.Node
	Batch      *float64
	Batches    *int
	Volume     *float64
	Charcoal   *float64
	Ash        yaml.Node
	Lining     yaml.Node
	Scale      *float64
	SlagCopper []float64
	Aim        string
	Mineral    string
}

type oreLimits struct {
	Share    yaml.Node
	Store    *float64
	Moisture *float64
}

type fluxLimits struct {
	PerOre   yaml.Node
	Store    *float64
	Moisture *float64
}

type ashPart struct {
	Of      []string
	Percent *float64
	U       *float64
}

type liningPart struct {
	Of     []string
	PerOre *float64
	U      *float64
}

// charge reads the plan of a charge; nil where there is none.
func (d *decoder) charge(n *yaml.Node) *Charge {
	if n.IsZero() {
		return nil
	}
	var c charge
	d.value(n, rv(&c), `"charge"`)
	out := &Charge{Line: n.Line, Batch: c.Batch, Batches: c.Batches, Volume: c.Volume, Charcoal: c.Charcoal,
		Scale: c.Scale, SlagCopper: c.SlagCopper, Aim: c.Aim, Mineral: c.Mineral}
	for _, p := range d.optional(&c.Ores, "ores") {
		var o oreLimits
		d.value(p.value, rv(&o), strconv.Quote(p.key))
		out.Ores = append(out.Ores, ChargeStock{p.key, d.span(&o.Share, "share"), o.Store, o.Moisture, p.line})
	}
	for _, p := range d.optional(&c.Fluxes, "fluxes") {
		var f fluxLimits
		d.value(p.value, rv(&f), strconv.Quote(p.key))
		out.Fluxes = append(out.Fluxes, ChargeStock{p.key, d.span(&f.PerOre, "per_ore"), f.Store, f.Moisture, p.line})
	}
	for _, p := range d.optional(&c.Target, "target") {
		if p.key == "at" {
			out.At = new(float64)
			d.scalar(p.value, rv(out.At), `"at"`)
			continue
		}
		s := d.span(p.value, p.key)
		if s == nil {
			continue
		}
		if p.value.Kind == yaml.ScalarNode {
			if p.key != "liquidus" && p.key != "viscosity" {
				d.fail(p.line, "WRONG_VALUE", "%q needs the least and the most that will do, as in %s: [%g, %g]", p.key, p.key, s.Hi*0.9, s.Hi*1.1)
				continue
			}
			s.Lo = 0
		}
		out.Target = append(out.Target, ChargeLimit{p.key, *s, p.line})
	}
	if !c.Ash.IsZero() {
		var a ashPart
		d.value(&c.Ash, rv(&a), `"ash"`)
		out.Ash = &ChargePart{a.Of, a.Percent, a.U, c.Ash.Line}
	}
	if !c.Lining.IsZero() {
		var l liningPart
		d.value(&c.Lining, rv(&l), `"lining"`)
		out.Lining = &ChargePart{l.Of, l.PerOre, l.U, c.Lining.Line}
	}
	d.positive(n.Line, "batch", c.Batch)
	d.positive(n.Line, "volume", c.Volume)
	d.positive(n.Line, "charcoal", c.Charcoal)
	d.positive(n.Line, "scale", c.Scale)
	if c.Batches != nil && *c.Batches < 1 {
		d.fail(n.Line, "WRONG_VALUE", "\"batches\" of the charge is %d; a firing has at least one", *c.Batches)
	}
	return out
}

// positive tells of a number that has to be above zero.
func (d *decoder) positive(line int, key string, x *float64) {
	if x != nil && !(*x > 0) {
		d.fail(line, "WRONG_VALUE", "%q of the charge is %g; give a number above zero", key, *x)
	}
}

// span reads two numbers, or one that stands for both; nil where nothing is
// written or it makes no sense.
func (d *decoder) span(n *yaml.Node, name string) *Span {
	if n.IsZero() {
		return nil
	}
	var xs []float64
	before := len(d.notices)
	d.value(n, rv(&xs), strconv.Quote(name))
	switch {
	case len(d.notices) > before:
		return nil
	case len(xs) == 1:
		xs = append(xs, xs[0])
	case len(xs) != 2:
		d.fail(n.Line, "WRONG_VALUE", "%q takes one number, or two with the lower first, but %d stand there", name, len(xs))
		return nil
	}
	switch lo, hi := xs[0], xs[1]; {
	case lo < 0 || hi < 0:
		d.fail(n.Line, "WRONG_VALUE", "%q has %g, and a limit is never negative; give zero or more", name, math.Min(lo, hi))
	case lo > hi:
		d.fail(n.Line, "WRONG_VALUE", "%q from %g to %g contradicts itself; give the lower limit first", name, lo, hi)
	default:
		return &Span{lo, hi}
	}
	return nil
}
