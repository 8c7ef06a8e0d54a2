package balance

import (
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/summary"
)

// AssaysOf returns the mean contents of samples of one material by element. A
// value below its limit enters as anything up to it (rectangular), one not
// detected without a limit as none. Handheld readings are left aside where
// another method has the element in one of the samples.
func AssaysOf(samples []*assay.Sample) *Assays {
	out := &Assays{Content: map[string]Content{}}
	good, rough := map[string][]quantity.Quantity{}, map[string][]quantity.Quantity{}
	for _, s := range samples {
		out.Samples = append(out.Samples, s.ID)
		for _, e := range s.AsReported.Elements() {
			q, ok := s.AsReported.OfElement(e)
			switch {
			case !ok || !q.Known() && !q.Class.Censored():
			case methodOf(s, e) == assay.HandheldXRF:
				rough[e] = append(rough[e], q)
			default:
				good[e] = append(good[e], q)
			}
		}
	}
	out.Name = strings.Join(out.Samples, ", ")
	for e, qs := range rough {
		if good[e] == nil {
			good[e] = qs
		}
	}
	for e, qs := range good {
		out.Content[e] = meanContent(qs)
	}
	return out
}

// methodOf returns the method that an element of a sample was chosen from.
func methodOf(s *assay.Sample, element string) string {
	for _, p := range s.AsReported.Parts {
		if a, _ := chem.LookupAnalyte(p.ID); a.Element == element && s.AsReported.Counts(p.ID) {
			return s.Chosen[p.ID]
		}
	}
	return ""
}

func meanContent(qs []quantity.Quantity) Content {
	var numbers []quantity.Quantity
	limits := 0
	for _, q := range qs {
		if !q.Known() {
			limits++
			x, u := content(q)
			q = quantity.WithU(x, u, "wt%", "anything up to the limit", q.From...)
		}
		numbers = append(numbers, q)
	}
	if limits == len(qs) && len(qs) == 1 {
		return Content{Quantity: qs[0]}
	}
	c := Content{Quantity: summary.Mean(numbers, "wt%")}
	if g := summary.Of(numbers); g.N > 1 && !(g.U > g.SD) {
		c.DoF = g.N - 1
	}
	return c
}
