package caution

import (
	"slices"

	"smeltbook/assay"
	"smeltbook/assay/quantity"
)

// charged are the kinds of sample that go into a furnace or a roast.
var charged = []string{assay.Ore, assay.Flux}

// Found is what the analyses of a campaign's ores and fluxes say of a
// fume.
type Found struct {
	Fume
	// Most is the sample that holds most of it, with how much and the cells it
	// stands in; nil where none holds any that could be measured.
	Most  *assay.Sample
	Value quantity.Quantity // wt% of the element
	Holds int               // samples in which it was measured
	Asked int               // samples analysed for it, with whatever result
	Of    int               // samples of those kinds
}

// InCharge looks for every fume in what a campaign charged, as its laboratories
// reported it.
func InCharge(c *assay.Campaign) []Found {
	var out []Found
	for _, f := range Fumes() {
		x := Found{Fume: f}
		for _, s := range c.Samples {
			if !slices.Contains(charged, s.Kind) {
				continue
			}
			x.Of++
			q, ok := s.AsReported.OfElement(f.Element)
			if ok && (q.Known() || q.Class.Censored() || q.Class == quantity.Above) {
				x.Asked++
			}
			if !ok || !q.Known() || q.Value <= 0 {
				continue
			}
			x.Holds++
			if x.Most == nil || q.Value > x.Value.Value {
				x.Most, x.Value = s, q
			}
		}
		out = append(out, x)
	}
	return out
}
