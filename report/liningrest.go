package report

import (
	"fmt"
	"math"

	"smeltbook/assay"
	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
)

// unmelted are the parts of an analysis that do not stay in the slag as
// oxides: copper, sulphur, moisture and what ignition drives off.
var unmelted = []string{"CuO", "Cu2O", "Cu", "Cu_ox", "S", "SO3", "LOI", "GOI", "H2O-", "H2O+", "CO2", "Total"}

// stocks are the columns of the field sheet that name what was charged, with
// the columns of their weights.
var stocks = []struct{ stock, weight, kind string }{
	{"ore stock", "ore", assay.Ore}, {"flux stock", "flux", assay.Flux}, {"second flux stock", "second flux", assay.Flux},
}

// chargeRest is what the slag of a firing would hold without clay and ash: its
// ore and flux by weight, without copper and volatiles, all iron as FeO. ok is
// false where the field sheet or the laboratory lacks one of them.
func (b *builder) chargeRest(run string) (rest chem.Composition, ok bool) {
	for _, r := range b.study.Campaign.Runs {
		if r.ID == run && run != "" {
			return b.restOf(r)
		}
	}
	return chem.Composition{}, false
}

func (b *builder) restOf(r assay.Run) (rest chem.Composition, ok bool) {
	var solids float64 // kg
	mass := map[string]float64{}
	u2 := map[string]float64{}
	for i, x := range stocks {
		kg, weighed := r.Mass(x.weight)
		if i > 0 && (!weighed || kg.Value == 0) {
			continue
		}
		samples := b.study.Campaign.OfStock(r.Text(x.stock), x.kind)
		if !weighed || len(samples) == 0 {
			return rest, false
		}
		solids += kg.Value * meanSolids(samples)
		for _, id := range gangueParts {
			q := meanPart(samples, id)
			w, u := q.Or(0), orZero(q.U)
			if !q.Known() && q.Class.Censored() && q.Limit > 0 {
				u = q.Limit / math.Sqrt(3)
			} else if !q.Known() {
				return rest, false
			}
			mass[id] += kg.Value * w
			u2[id] += kg.Value * u * kg.Value * u
		}
	}
	if solids <= 0 {
		return rest, false
	}
	var parts []chem.Part
	for _, id := range gangueParts {
		parts = append(parts, chem.Part{ID: id, Quantity: quantity.WithU(100*mass[id]/solids, 100*math.Sqrt(u2[id])/solids, "wt%", fmt.Sprintf("charge of %s, analyses taken as independent", r.ID))})
	}
	rest, err := chem.NewComposition(parts...)
	return rest, err == nil
}

// meanSolids is the mean sum of what melts, in wt%.
func meanSolids(samples []*assay.Sample) float64 {
	sum := 0.0
	for _, s := range samples {
		sum += s.AsReported.Without(unmelted...).AsOxides(chem.AsFeO).Total().Measured
	}
	return sum / float64(len(samples))
}
