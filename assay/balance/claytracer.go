package balance

import (
	"fmt"
	"math"

	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// Tracer is an oxide that clay holds and ore lacks, all in wt%.
type Tracer struct {
	Name             string
	Slag, Rest, Clay quantity.Quantity // Rest: what the slag would hold without clay
}

// TracerShare is the share of clay in a slag by one tracer, 0 to 1.
type TracerShare struct {
	Name  string
	Share quantity.Quantity
}

// ClayShare is the share of molten clay in a slag by several tracers.
type ClayShare struct {
	Each         []TracerShare
	Low, High    float64 // from the least to the greatest share, within twice their uncertainties, in 0 to 1
	Disagreement float64 // (greatest − least)/mean of the shares; NaN of one tracer
	Notices      source.Notices
}

// disagreementLimit is the relative difference of two tracers above which the
// ore's gangue is likely to carry one of them too.
const disagreementLimit = 0.30

// ShareOfClay returns the share of clay in a slag by each tracer,
//
//	(t_slag − t_rest)/(t_clay − t_rest)
//
// and how far they disagree. The three analyses of a tracer are taken as
// independent. A share outside 0 to 1 stays as it is and is told. It fails
// where a tracer is not known or clay and rest hold the same of it.
func ShareOfClay(tracers ...Tracer) (ClayShare, error) {
	if len(tracers) == 0 {
		return ClayShare{}, fmt.Errorf("the share of clay needs at least one tracer, Al2O3 or TiO2")
	}
	out := ClayShare{Low: math.Inf(1), High: math.Inf(-1), Disagreement: math.NaN()}
	least, greatest, sum := math.Inf(1), math.Inf(-1), 0.0
	for _, t := range tracers {
		q, err := t.share()
		if err != nil {
			return ClayShare{}, err
		}
		out.Each = append(out.Each, TracerShare{t.Name, q})
		u := 0.0
		if q.HasU() {
			u = q.U
		}
		least, greatest, sum = min(least, q.Value), max(greatest, q.Value), sum+q.Value
		out.Low, out.High = min(out.Low, q.Value-2*u), max(out.High, q.Value+2*u)
		if q.Value+2*u < 0 || q.Value-2*u > 1 {
			out.Notices.Add(source.Warning, "CLAY_SHARE_IMPOSSIBLE", source.Cell{},
				"by %s the slag is %.0f %% clay, which cannot be: the slag holds less of it than ore and flux alone would give, or more than the clay", t.Name, 100*q.Value)
		}
	}
	out.Low, out.High = min(max(out.Low, 0), 1), max(min(out.High, 1), 0)
	if mean := sum / float64(len(tracers)); len(tracers) > 1 {
		out.Disagreement = (greatest - least) / math.Abs(mean)
		if out.Disagreement > disagreementLimit {
			out.Notices.Add(source.Warning, "CLAY_TRACERS_DISAGREE", source.Cell{},
				"the tracers give %.0f to %.0f %% clay, more than %.0f %% apart: the gangue of the ore brought one of them too", 100*least, 100*greatest, 100*disagreementLimit)
		}
	}
	return out, nil
}

func (t Tracer) share() (quantity.Quantity, error) {
	if !t.Slag.Known() || !t.Clay.Known() {
		return quantity.Quantity{}, fmt.Errorf("%s is not known of slag and clay alike (slag %s, clay %s)", t.Name, t.Slag.Text(), t.Clay.Text())
	}
	if !t.Rest.Known() && !t.Rest.Class.Censored() {
		return quantity.Quantity{}, fmt.Errorf("%s of ore and flux is not known (%s); give 0 where they lack it", t.Name, t.Rest.Text())
	}
	s, c, r := t.Slag.Value, t.Clay.Value, t.Rest.Or(0)
	ur := t.Rest.U
	if !t.Rest.Known() { // below a limit: zero, with the spread of anything up to the limit
		ur = t.Rest.Limit / math.Sqrt(3)
	}
	d := c - r
	if d == 0 || s < 0 || c < 0 || r < 0 {
		return quantity.Quantity{}, fmt.Errorf("%s cannot trace clay: slag %g, clay %g, rest %g wt%%", t.Name, s, c, r)
	}
	from := append(append(t.Slag.From[:len(t.Slag.From):len(t.Slag.From)], t.Clay.From...), t.Rest.From...)
	f := (s - r) / d
	if !t.Slag.HasU() || !t.Clay.HasU() || math.IsNaN(ur) {
		return quantity.New(f, "1", "none: one of the three analyses carries none", from...), nil
	}
	u := math.Hypot(math.Hypot(t.Slag.U/d, (1-f)*ur/d), f*t.Clay.U/d)
	return quantity.WithU(f, u, "1", "uncertainties of the three analyses, taken as independent", from...), nil
}

// ShareOfClayFrom is ShareOfClay with Al2O3 and TiO2 of three analyses, which
// must be on one basis: the slag, the ore with its flux (or nothing, where it
// lacks both) and the clay. It also tells where the slag holds more K2O to
// Al2O3 than the clay, which points to fuel ash. A tracer that an analysis
// lacks is left out, with a notice.
func ShareOfClayFrom(slag, rest, clay chem.Composition) (ClayShare, error) {
	var tracers []Tracer
	var missing []string
	s, r, c := slag.AsOxides(chem.AsFeO), rest.AsOxides(chem.AsFeO), clay.AsOxides(chem.AsFeO)
	for _, name := range []string{"Al2O3", "TiO2"} {
		a, _ := s.Get(name)
		b, ok := r.Get(name)
		if !ok && len(rest.Parts) == 0 {
			b = quantity.WithU(0, 0, "wt%", "the ore lacks it")
		}
		k, _ := c.Get(name)
		if !a.Known() || !k.Known() || !b.Known() && !b.Class.Censored() {
			missing = append(missing, name)
			continue
		}
		tracers = append(tracers, Tracer{name, a, b, k})
	}
	out, err := ShareOfClay(tracers...)
	if err != nil {
		return out, err
	}
	for _, name := range missing {
		out.Notices.Add(source.Note, "CLAY_TRACER_MISSING", source.Cell{}, "%s is not known of slag, clay and rest alike, so it traces nothing", name)
	}
	if inSlag, inClay := s.Wt("K2O")/s.Wt("Al2O3"), c.Wt("K2O")/c.Wt("Al2O3"); inSlag > inClay {
		out.Notices.Add(source.Note, "FUEL_ASH", source.Cell{},
			"K2O/Al2O3 of the slag (%.3f) is above that of the clay (%.3f), which points to fuel ash", inSlag, inClay)
	}
	return out, nil
}
