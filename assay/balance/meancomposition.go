package balance

import (
	"fmt"

	"smeltbook/assay"
	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/summary"
)

// MeanComposition is the mean of samples of one material as reported, each part
// over the samples that have it, with the standard uncertainty of the mean.
// Iron is stated as in the first sample. It fails where none is analysed.
func MeanComposition(samples []*assay.Sample) (chem.Composition, error) {
	by := map[string][]quantity.Quantity{}
	var order []string
	for _, s := range samples {
		c := s.AsReported
		if !s.Metallic() {
			c = c.AsOxides(samples[0].Iron)
		}
		for _, p := range c.Parts {
			if by[p.ID] == nil {
				order = append(order, p.ID)
			}
			by[p.ID] = append(by[p.ID], p.Quantity)
		}
	}
	if len(order) == 0 {
		return chem.Composition{}, fmt.Errorf("no sample of it is analysed")
	}
	var parts []chem.Part
	for _, id := range order {
		parts = append(parts, chem.Part{ID: id, Quantity: summary.Mean(by[id], "wt%")})
	}
	return chem.NewComposition(parts...)
}
