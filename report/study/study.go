// Package study joins what was measured with what it means for the melt: a
// campaign with the estimates of every sample, and the variables by which the
// notebook, the tables and the figures refer to either.
package study

import (
	"context"
	"fmt"

	"smeltbook/assay"
	"smeltbook/assay/chem"
	"smeltbook/phase"
)

// Study is a campaign with its estimates. It is not changed once it is used.
type Study struct {
	Campaign   *assay.Campaign
	Conditions phase.Conditions
	Compared   Compared                  // for whoever asks for the nearest replica of a sample
	estimates  map[string]phase.Estimate // by sample id
	why        map[string]string         // why a sample has no estimate
	apart      map[string]bool           // samples whose ferrous and ferric iron stand apart
}

// Compute estimates every sample for which the melt models make sense:
// slags with a complete analysis. progress may be nil.
func Compute(ctx context.Context, c *assay.Campaign, cond phase.Conditions, progress func(done, total int)) (*Study, error) {
	cond.LimitShare = c.Config.Recipe.Share()
	s := &Study{Campaign: c, Conditions: cond, estimates: map[string]phase.Estimate{}, why: map[string]string{}, apart: map[string]bool{}}
	var samples []*assay.Sample
	var compositions []chem.Composition
	var irons []melted
	for _, sample := range c.Samples {
		switch {
		case sample.Incomplete != "":
			s.why[sample.ID] = sample.Incomplete
		case sample.Kind != assay.Slag:
			s.why[sample.ID] = "melt models are applied to slag; this is " + orUnknown(sample.Kind)
		default:
			samples = append(samples, sample)
			m := meltOf(sample, c.Config.Recipe)
			irons = append(irons, m)
			compositions = append(compositions, m.composition)
		}
	}
	estimator, err := phase.New()
	if err != nil {
		return nil, fmt.Errorf("preparing the melt models: %w", err)
	}
	results, err := estimator.EstimateAll(ctx, compositions, cond, progress)
	if err != nil {
		return nil, fmt.Errorf("estimating: %w", err)
	}
	for i, r := range results {
		if r.Err != nil {
			s.why[samples[i].ID] = r.Err.Error()
			continue
		}
		if a := irons[i].assumption; a != "" {
			s.apart[samples[i].ID] = true
			r.Estimate.Assumptions = append(r.Estimate.Assumptions, a)
		}
		r.Estimate.Notices = append(irons[i].notices, r.Estimate.Notices...)
		s.estimates[samples[i].ID] = r.Estimate
	}
	return s, nil
}

func orUnknown(kind string) string {
	if kind == "" {
		return "of no stated kind"
	}
	return kind
}

// Estimate returns what the melt models say of a sample; ok is false where
// they say nothing, and why says why not.
func (s *Study) Estimate(id string) (e phase.Estimate, why string, ok bool) {
	e, ok = s.estimates[id]
	return e, s.why[id], ok
}

// Estimated returns the samples with an estimate, in order.
func (s *Study) Estimated() []*assay.Sample {
	var out []*assay.Sample
	for _, sample := range s.Campaign.Samples {
		if _, ok := s.estimates[sample.ID]; ok {
			out = append(out, sample)
		}
	}
	return out
}
