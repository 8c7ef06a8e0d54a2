package study

import (
	"context"
	"math"
	"slices"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/logratio"
)

// Compared is how single pieces are compared where nobody asks otherwise.
type Compared struct {
	Parts       []string // the major ones that all pieces share when empty
	Replacement logratio.Replacement
}

// nearest is the replica that an excavated sample is most like.
type nearest struct {
	replica     string
	distance, p float64
	parts       []string
}

// nearestReplicas matches every excavated sample with the replicas of its kind.
// Samples that nothing can be said of are left out.
func (s *Study) nearestReplicas() map[string]nearest {
	out := map[string]nearest{}
	var kinds []string
	of := map[string]map[string][]*assay.Sample{}
	for _, x := range s.Campaign.Samples {
		if x.Kind == "" || x.Metallic() {
			continue
		}
		if of[x.Kind] == nil {
			of[x.Kind] = map[string][]*assay.Sample{}
			kinds = append(kinds, x.Kind)
		}
		of[x.Kind][x.Origin] = append(of[x.Kind][x.Origin], x)
	}
	for _, kind := range kinds {
		replicas, excavated := of[kind][assay.Experimental], of[kind][assay.Excavated]
		if len(replicas) == 0 || len(excavated) == 0 {
			continue
		}
		parts := s.Compared.Parts
		if len(parts) == 0 || s.Lacks(replicas, parts) || s.Lacks(excavated, parts) {
			parts = s.SharedParts(replicas, excavated)
		}
		r := s.Compared.Replacement
		if !slices.Contains(logratio.Replacements(), r) {
			r = logratio.Simple
		}
		m, err := s.Match(context.Background(), replicas, excavated, parts, r)
		if err != nil {
			continue // no two parts in common, or too few with them
		}
		for _, x := range m.Excavated {
			n := x.Near[0]
			out[x.Sample.ID] = nearest{n.Replica.ID, n.Distance, n.P, parts}
		}
	}
	return out
}

// Lacks reports whether one of the parts is in no sample: parts that are stated
// for slags need not suit walls, whose iron is stated as Fe2O3.
func (s *Study) Lacks(samples []*assay.Sample, parts []string) bool {
	there := s.Parts(samples)
	return slices.ContainsFunc(parts, func(id string) bool { return !slices.Contains(there, id) })
}

// nearestColumns are those of the flat table.
func (t *tableBuilder) nearestColumns(n nearest, ok bool) {
	if !ok {
		n = nearest{distance: math.NaN(), p: math.NaN()}
	}
	t.text("nearest_replica", "replica of the same kind that an excavated sample is nearest to by composition", n.replica)
	t.number("nearest_replica_distance", "1", "Aitchison distance to it", n.distance)
	t.number("nearest_replica_p", "1", "probability that it is the nearest of all, by the uncertainties of the analyses", n.p)
	t.text("nearest_replica_by", "parts whose ratios the distance is of", strings.Join(n.parts, " "))
}
