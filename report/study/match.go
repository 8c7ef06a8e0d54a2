package study

import (
	"context"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/logratio"
	"smeltbook/assay/logratio/likeness"
)

// Matching tells which replica sample each excavated one is most like.
type Matching struct {
	Parts     []string
	Excavated []Match  // those that have all parts, in their order
	Lacking   []string // why a sample is left out: "LS-S03 has no MgO"
	Scatter   float64  // of the excavated samples; see likeness.Matched
}

// Match is an excavated sample with the replica samples, the nearest first.
type Match struct {
	Sample *assay.Sample
	Near   []NearReplica
}

// NearReplica is a replica sample as an excavated one sees it.
type NearReplica struct {
	Replica *assay.Sample
	likeness.NearSample
}

// Match ranks the replicas of every excavated sample by the Aitchison distance
// over the parts.
func (s *Study) Match(ctx context.Context, replicas, excavated []*assay.Sample, parts []string, r logratio.Replacement) (Matching, error) {
	out := Matching{Parts: parts}
	var rows [][]logratio.Value
	var names []string
	var samples []*assay.Sample
	places := [2][]int{}
	for g, group := range [][]*assay.Sample{replicas, excavated} {
		for _, x := range group {
			row, lacking, err := s.LogRow(x, parts)
			if err != nil {
				return out, err
			}
			if len(lacking) > 0 {
				out.Lacking = append(out.Lacking, x.ID+" has no "+strings.Join(lacking, ", "))
				continue
			}
			places[g] = append(places[g], len(rows))
			rows, names, samples = append(rows, row), append(names, x.ID), append(samples, x)
		}
	}
	table, err := logratio.NewTable(parts, names, rows)
	if err != nil {
		return out, err
	}
	found, err := likeness.Samples(ctx, table, places[0], places[1], r, s.Conditions.Seed)
	if err != nil {
		return out, err
	}
	out.Scatter = found.Scatter
	for _, m := range found.Matches {
		match := Match{Sample: samples[m.Row]}
		for _, n := range m.Near {
			match.Near = append(match.Near, NearReplica{samples[n.Row], n})
		}
		out.Excavated = append(out.Excavated, match)
	}
	return out, nil
}
