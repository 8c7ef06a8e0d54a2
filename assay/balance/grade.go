package balance

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/stat"

	"smeltbook/assay/quantity"
)

// Grading asks how rich an ore has to be: the same ore, with more of its copper
// mineral or less, smelted in the same way.
type Grading struct {
	Ore     Material // its Mass is not looked at
	Mineral float64  // wt% Cu of its copper mineral; for malachite 57.5
	// Flux is added until the slag has the ratio wanted; none where the ore
	// alone is past it. Its Mass is not looked at. Without Flux there is none.
	Flux *Material
	Want Ratio
	// With is what comes to a kilogram of dried ore whatever its grade: ash of
	// the fuel, lining that melts.
	With []Material
	How  Behaviour
}

// Graded is what a kilogram of dried ore of one grade gives. Low and High are
// the ends of 95 % of the draws.
type Graded struct {
	Grade         float64           // wt% Cu
	Flux, Slag    quantity.Quantity // kg for a kg of ore
	Copper        quantity.Quantity // kg of metallic copper
	SlagPerCopper quantity.Quantity // kg slag for a kg of copper won; Missing where none need be
	Won           float64           // share of the ore's copper won as metal, median
	Low, High     float64
}

// At returns what ores of some grades (wt% Cu) would give. Between grades only
// the share of copper mineral changes: the gangue keeps its composition, which
// dressing does not leave quite alone.
func (g Grading) At(grades []float64) ([]Graded, error) {
	draws, err := g.prepare()
	if err != nil {
		return nil, err
	}
	var out []Graded
	for _, grade := range grades {
		if !(grade > 0) || grade >= g.Mineral {
			return nil, fmt.Errorf("an ore of %g wt%% Cu cannot be: its mineral holds %.1f", grade, g.Mineral)
		}
		var flux, slag, won, copper, per []float64
		for _, d := range draws {
			x, p := d.smelt(g, grade)
			flux, slag = append(flux, x), append(slag, p.slag)
			won, copper = append(won, p.metalCu/p.cu), append(copper, p.metalCu)
			per = append(per, p.slag/p.metalCu)
		}
		centre := draws[0]
		x, p := centre.smelt(g, grade)
		const note = "analyses and behaviour, by Monte Carlo"
		q := func(v float64, xs []float64) quantity.Quantity {
			return quantity.WithU(v, deviation(xs), "kg", note)
		}
		r := Graded{Grade: grade, Flux: q(x, flux), Slag: q(p.slag, slag), Copper: q(p.metalCu, copper),
			SlagPerCopper: quantity.None(quantity.Missing, math.NaN(), "kg")}
		r.Low, r.Won, r.High = middle(won)
		if r.Low > 0 {
			r.SlagPerCopper = q(p.slag/p.metalCu, per)
		}
		out = append(out, r)
	}
	return out, nil
}

// NoMetalBelow returns the grade (wt% Cu) below which the slag holds all the
// copper of the ore: its median, with the ends of 95 % of the draws.
func (g Grading) NoMetalBelow() (low, median, high float64, err error) {
	draws, err := g.prepare()
	if err != nil {
		return 0, 0, 0, err
	}
	var xs []float64
	for _, d := range draws {
		lo, hi := 0.0, 0.99*g.Mineral
		for range 40 {
			mid := (lo + hi) / 2
			if _, p := d.smelt(g, mid); p.metalCu > 1e-12 {
				hi = mid
			} else {
				lo = mid
			}
		}
		xs = append(xs, hi)
	}
	low, median, high = middle(xs)
	return low, median, high, nil
}

func middle(xs []float64) (low, median, high float64) {
	xs = slices.Sorted(slices.Values(xs))
	at := func(p float64) float64 { return stat.Quantile(p, stat.LinInterp, xs, nil) }
	return at(0.025), at(0.5), at(0.975)
}

// trial is one draw of everything uncertain; the same draws serve all grades.
type trial struct {
	ore, flux melting
	with      []melting
	how       conduct
}

// prepare checks the question and draws; the first trial is the central one.
func (g Grading) prepare() ([]trial, error) {
	if err := g.How.check(); err != nil {
		return nil, err
	}
	one := quantity.WithU(1, 0, "kg", "")
	ore := g.Ore
	ore.Mass, ore.Moisture = one, quantity.WithU(0, 0, "wt%", "")
	in := append([]Material{ore}, g.With...)
	centre := trial{how: g.How.central()}
	if g.Flux != nil {
		flux := *g.Flux
		flux.Mass = one
		in = append(in, flux)
		centre.flux = meltingOf(flux)
		if !(g.Want.Value > 0) || g.Want.Over == g.Want.Under {
			return nil, fmt.Errorf("%s/%s of %g is no ratio to aim at", g.Want.Over, g.Want.Under, g.Want.Value)
		}
	}
	for _, m := range in {
		if err := m.check(); err != nil {
			return nil, err
		}
	}
	centre.ore = meltingOf(ore)
	if centre.ore.cu <= 0 || 100*centre.ore.cu >= g.Mineral {
		return nil, fmt.Errorf("%s holds %.3g wt%% Cu, which has to lie between 0 and the %.1f of its mineral", g.Ore.Name, 100*centre.ore.cu, g.Mineral)
	}
	for _, m := range g.With {
		centre.with = append(centre.with, meltingOf(m))
	}
	n := g.How.Draws
	if n <= 0 {
		n = defaultDraws
	}
	r := rand.New(rand.NewPCG(g.How.Seed, 0x6772616465000000)) // "grade"
	out := []trial{centre}
	for range n {
		t := trial{ore: centre.ore.draw(r), how: g.How.draw(r)}
		if g.Flux != nil {
			t.flux = centre.flux.draw(r)
		}
		for _, m := range centre.with {
			t.with = append(t.with, m.draw(r))
		}
		out = append(out, t)
	}
	return out, nil
}

// smelt is what an ore of the grade gives, with the flux it needs.
func (t trial) smelt(g Grading, grade float64) (flux float64, p products) {
	ore := t.ore.enriched(grade, g.Mineral)
	in := append([]melting{ore}, t.with...)
	if g.Flux == nil {
		return 0, react(in, t.how)
	}
	x := fluxFor(in, t.flux, g.Want, t.how)
	if !(x > 0) || math.IsInf(x, 0) {
		return 0, react(in, t.how)
	}
	f := t.flux
	f.weighed = x
	return x, react(append(in, f), t.how)
}
