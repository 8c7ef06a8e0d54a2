package dressing

import (
	"math"
	"slices"

	"smeltbook/assay/quantity"
)

// Performance is how one product of a stage, or of the circuit up to it,
// stands to the feed. All but the grades are pure numbers.
type Performance struct {
	Stage   string
	Product Stream
	Yield   quantity.Quantity // share of the mass
	Ratio   quantity.Quantity // of concentration: feed for one of product, by mass
	// Efficiency of separation of the copper mineral from all else, after
	// Schulz; Missing without a mineral.
	Efficiency quantity.Quantity
	Components []ComponentPerformance
}

// ComponentPerformance is that of one component.
type ComponentPerformance struct {
	Component     string
	Feed, Product quantity.Quantity // wt%
	Recovery      quantity.Quantity // share of the component
	Enrichment    quantity.Quantity // product over feed
	// FromCopper is the recovery of copper less that of this component: how far
	// the stage parted the two; Missing for copper itself.
	FromCopper quantity.Quantity
}

// Of returns the performance for a component; ok is false where there is none.
func (p Performance) Of(component string) (c ComponentPerformance, ok bool) {
	for _, c := range p.Components {
		if c.Component == component {
			return c, true
		}
	}
	return ComponentPerformance{}, false
}

// Basis says which values the figures are of.
type Basis int

const (
	Weighed  Basis = iota // weights and assays as read, each figure from those it needs
	Balanced              // reconciled
)

// Stage returns the performance of every product of a stage. mineral is the
// wt% of copper in the copper mineral, 0 where it is not known.
func (r *Reconciled) Stage(k int, basis Basis, mineral float64) []Performance {
	s := r.stateOf(basis)
	var out []Performance
	for j := range r.Circuit.Stages[k].Products {
		out = append(out, s.performance(r.Circuit, []step{{k, j}}, mineral))
	}
	return out
}

// Ends returns the performance of every end product, one that no later
// stage was fed with, against the first feed. Stages of which only a part was
// fed on count as if all had been. Products that do not hang together with the
// first stage are left out.
func (r *Reconciled) Ends(basis Basis, mineral float64) []Performance {
	s := r.stateOf(basis)
	var out []Performance
	for _, path := range r.Circuit.ends() {
		out = append(out, s.performance(r.Circuit, path, mineral))
	}
	return out
}

// Of returns the performance of the product that is a stock, against the first
// feed; ok is false where no stage made it, or it does not hang together with
// the first.
func (r *Reconciled) Of(stock string, basis Basis, mineral float64) (p Performance, ok bool) {
	for k, s := range r.Circuit.Stages {
		for j, x := range s.Products {
			before, hangs := r.Circuit.way(k)
			if x.Product != stock || stock == "" || !hangs {
				continue
			}
			return r.stateOf(basis).performance(r.Circuit, append(append([]step{}, before...), step{k, j}), mineral), true
		}
	}
	return Performance{}, false
}

func (r *Reconciled) stateOf(b Basis) state {
	if b == Weighed {
		return asRead(r.Circuit)
	}
	return r.state
}

// step is a product of a stage, by their places.
type step struct{ stage, product int }

// ends lists the ways from the first feed to the end products.
func (c Circuit) ends() [][]step {
	var out [][]step
	for k, s := range c.Stages {
		before, ok := c.way(k)
		if !ok {
			continue
		}
		for j := range s.Products {
			if !c.fedOn(k, j) {
				out = append(out, append(append([]step{}, before...), step{k, j}))
			}
		}
	}
	return out
}

// way is how ore came to a stage from the first.
func (c Circuit) way(k int) ([]step, bool) {
	if k == 0 {
		return nil, true
	}
	i, j, ok := c.From(k)
	if !ok {
		return nil, false
	}
	before, ok := c.way(i)
	return append(append([]step{}, before...), step{i, j}), ok
}

func (c Circuit) fedOn(stage, product int) bool {
	for k := range c.Stages {
		if i, j, ok := c.From(k); ok && i == stage && j == product {
			return true
		}
	}
	return false
}

// performance is that of the last product on a way against the feed of the
// first stage on it.
func (s state) performance(c Circuit, path []step, mineral float64) Performance {
	note := "first order, from weights and assays"
	if s.balanced {
		note = "first order, from the reconciled weights and assays with their covariance"
	}
	end := path[len(path)-1]
	out := Performance{Stage: c.Stages[end.stage].Name, Product: c.Stages[end.stage].Products[end.product]}
	share := func(get func(variable) float64, component string) float64 { return along(path, get, component) }
	first := path[0].stage
	of := func(f function, unit string) quantity.Quantity { return s.evaluate(f, unit, note) }
	out.Yield = of(func(get func(variable) float64) float64 { return share(get, "") }, "1")
	out.Ratio = of(func(get func(variable) float64) float64 { return 1 / share(get, "") }, "1")
	out.Efficiency = missing("1")
	for _, id := range c.Components {
		feed := func(get func(variable) float64) float64 { return get(variable{first, 0, id}) }
		product := func(get func(variable) float64) float64 { return get(variable{end.stage, end.product + 1, id}) }
		p := ComponentPerformance{Component: id,
			Feed: of(feed, "wt%"), Product: of(product, "wt%"),
			Recovery:   of(func(get func(variable) float64) float64 { return share(get, id) }, "1"),
			Enrichment: of(func(get func(variable) float64) float64 { return product(get) / feed(get) }, "1"),
			FromCopper: missing("1")}
		if id != Copper && slices.Contains(c.Components, Copper) {
			p.FromCopper = of(func(get func(variable) float64) float64 { return share(get, Copper) - share(get, id) }, "1")
		}
		if id == Copper && mineral > 0 {
			out.Efficiency = of(func(get func(variable) float64) float64 {
				f := feed(get)
				if f >= mineral || product(get) > mineral {
					return math.NaN() // richer than the mineral: it is another one
				}
				return SeparationEfficiency(share(get, ""), f, product(get), mineral)
			}, "1")
		}
		out.Components = append(out.Components, p)
	}
	return out
}
