package report

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"smeltbook/assay"
	"smeltbook/assay/logratio"
	"smeltbook/assay/logratio/likeness"
	"smeltbook/assay/source"
	"smeltbook/report/notebook"
	"smeltbook/report/study"
)

// matchedPair is a row of a spread: a replica and an excavated sample.
type matchedPair struct {
	left, right *assay.Sample
	near        *study.NearReplica // the left as the right sees it; nil where likeness is not known
	rank        int                // of the left among all replicas, from 1
	next        *study.NearReplica // the nearest of the others
	poor        bool
}

// pairing is how the rows of a spread were matched.
type pairing struct {
	pairs    []matchedPair
	stated   bool // by the notebook
	matching study.Matching
	alone    [2][]string // samples of either page that stand in no row
	told     source.Notices
}

// Ways of matching rows.
const (
	byLikeness = "likeness"
	byNothing  = "none"
)

// fewestForPoor is how many excavated pieces it takes to say that a match is
// poor: their own scatter is the measure.
const fewestForPoor = 3

// pairing matches the rows as the notebook asks: by its pairs, else by likeness.
// What the data lack for it is told in the entry, and the rest goes on.
func (b *builder) pairing(ctx context.Context, e *notebook.Entry, groups pair, o spreadOptions, a *assumer) (p pairing, ok bool, err error) {
	p.stated = o.Pairs.Kind != 0
	switch {
	case o.Match != "" && o.Match != byLikeness && o.Match != byNothing:
		b.fail(e, "WRONG_VALUE", "match is one of %s and %s, not %q; pairs of your own stand under pairs:", byLikeness, byNothing, o.Match)
		return p, false, nil
	case o.Match != "" && p.stated:
		b.fail(e, "WRONG_VALUE", "rows are matched either by your pairs: or by match: %s; take one of the two out", o.Match)
		return p, false, nil
	case o.Match == byNothing:
		return p, true, nil
	}
	if p.stated {
		if p.pairs, ok = b.statedPairs(groups, &o.Pairs); !ok {
			return p, false, nil
		}
	}
	if err := b.matchByLikeness(ctx, e, groups, o, a, &p); err != nil || a.failed {
		return p, false, err
	}
	p.lonely(groups)
	return p, true, nil
}

// matchByLikeness finds the nearest replicas; where the notebook states the
// pairs, it tells how near they are.
func (b *builder) matchByLikeness(ctx context.Context, e *notebook.Entry, groups pair, o spreadOptions, a *assumer, p *pairing) error {
	for _, s := range groups[0].Samples {
		if slices.Contains(groups[1].Samples, s) {
			p.told.Add(source.Warning, "SHARED_SAMPLES", source.Cell{}, "%s is in both groups, and a piece is not matched with itself: the rows are left unmatched", s.ID)
			return nil
		}
	}
	parts := o.Parts
	if stated := b.notebook.Likeness.Parts; len(parts) == 0 && !b.study.Lacks(groups[0].Samples, stated) && !b.study.Lacks(groups[1].Samples, stated) {
		parts = b.notebook.Likeness.Parts
	}
	if len(parts) == 0 {
		if parts = b.study.SharedParts(groups[0].Samples, groups[1].Samples); len(parts) > 1 {
			a.assume("parts", "parts "+formulaText(strings.Join(parts, " "))+", for likeness")
		}
	}
	for _, id := range parts {
		if _, _, err := b.study.LogRow(&assay.Sample{}, []string{id}); err != nil {
			a.failed = true
			b.fail(e, "UNKNOWN_VARIABLE", "parts: %s", strings.TrimPrefix(err.Error(), ": "))
			return nil
		}
	}
	replacement := logratio.Simple
	if r := logratio.Replacement(b.notebook.Likeness.Replacement); slices.Contains(logratio.Replacements(), r) {
		replacement = r
	}
	m, err := b.study.Match(ctx, groups[0].Samples, groups[1].Samples, parts, replacement)
	switch {
	case ctx.Err() != nil:
		return ctx.Err()
	case err != nil:
		p.told.Add(source.Warning, "NO_LIKENESS", source.Cell{}, "no piece of %s can be held against one of %s by its composition: %v", groups[1].Name, groups[0].Name, err)
		return nil
	}
	p.matching = m
	if !p.stated {
		for _, x := range m.Excavated {
			p.pairs = append(p.pairs, matchedPair{left: x.Near[0].Replica, right: x.Sample})
		}
	}
	for i := range p.pairs {
		p.pairs[i].see(m)
	}
	return nil
}

// see fills in how near the two are.
func (x *matchedPair) see(m study.Matching) {
	for _, match := range m.Excavated {
		if match.Sample != x.right {
			continue
		}
		for k := range match.Near {
			n := &match.Near[k]
			switch {
			case n.Replica == x.left:
				x.near, x.rank = n, k+1
				x.poor = len(m.Excavated) >= fewestForPoor && n.Distance > math.Sqrt2*m.Scatter
			case x.next == nil:
				x.next = n
			}
		}
	}
}

// statedPairs reads the pairs of the notebook. Either sample may stand first.
func (b *builder) statedPairs(groups pair, n *yaml.Node) (pairs []matchedPair, ok bool) {
	if n.Kind != yaml.MappingNode {
		b.failAt(n.Line, "WRONG_TYPE", "pairs takes one line a pair, an excavated sample and its replica: LS-S01: KR-S04")
		return nil, false
	}
	ok = true
	for i := 0; i+1 < len(n.Content); i += 2 {
		others := []*yaml.Node{n.Content[i+1]}
		if others[0].Kind == yaml.SequenceNode {
			others = others[0].Content
		}
		for _, other := range others {
			x, good := b.statedPair(groups, n.Content[i], other)
			switch {
			case !good:
				ok = false
			case slices.ContainsFunc(pairs, func(y matchedPair) bool { return y.left == x.left && y.right == x.right }):
				b.failAt(other.Line, "PAIR_TWICE", "pairs has %s with %s twice; keep one", x.left.ID, x.right.ID)
				ok = false
			default:
				pairs = append(pairs, x)
			}
		}
	}
	if len(n.Content) == 0 {
		b.failAt(n.Line, "WRONG_TYPE", "pairs names none; write one line a pair, or take pairs: out and rows are matched by likeness")
		return nil, false
	}
	return pairs, ok
}

func (b *builder) statedPair(groups pair, one, other *yaml.Node) (x matchedPair, ok bool) {
	if one.Value == "" || other.Value == "" {
		b.failAt(one.Line, "PAIR_OPEN", "pairs has %q with nothing beside it; write one sample of %s and one of %s", one.Value+other.Value, groups[0].Name, groups[1].Name)
		return x, false
	}
	for _, node := range []*yaml.Node{one, other} {
		s, found := b.study.Campaign.Sample(node.Value)
		if !found {
			var ids []string
			for _, g := range groups {
				for _, s := range g.Samples {
					ids = append(ids, s.ID)
				}
			}
			b.failAt(node.Line, "UNKNOWN_SAMPLE", "pairs names the sample %q, which is not in the campaign%s", node.Value, source.DidYouMean(node.Value, ids))
			return x, false
		}
		switch {
		case slices.Contains(groups[0].Samples, s) && x.left == nil:
			x.left = s
		case slices.Contains(groups[1].Samples, s) && x.right == nil:
			x.right = s
		case slices.Contains(groups[0].Samples, s) || slices.Contains(groups[1].Samples, s):
			b.failAt(node.Line, "ONE_PAGE", "pairs sets %s beside %s, and both stand on the same page; a pair is one sample of %s and one of %s", one.Value, other.Value, groups[0].Name, groups[1].Name)
			return x, false
		default:
			b.failAt(node.Line, "WRONG_GROUP", "pairs names %s, which is neither in %s nor in %s", s.ID, groups[0].Name, groups[1].Name)
			return x, false
		}
	}
	return x, true
}

// lonely lists the samples that stand in no row.
func (p *pairing) lonely(groups pair) {
	if len(p.pairs) == 0 {
		return
	}
	for i, g := range groups {
		for _, s := range g.Samples {
			if !slices.ContainsFunc(p.pairs, func(x matchedPair) bool { return x.left == s || x.right == s }) {
				p.alone[i] = append(p.alone[i], s.ID)
			}
		}
	}
}

// how says in one sentence how the rows were matched.
func (p pairing) how(groups pair) string {
	if !p.stated {
		return fmt.Sprintf("Every piece of %s stands beside the piece of %s that is nearest to it by composition (Aitchison distance over %s).", groups[1].Name, groups[0].Name, formulaText(strings.Join(p.matching.Parts, ", ")))
	}
	text := "Rows are matched as the notebook states."
	if known := slices.DeleteFunc(slices.Clone(p.pairs), func(x matchedPair) bool { return x.near == nil }); len(known) > 0 {
		same := 0
		for _, x := range known {
			if x.rank == 1 {
				same++
			}
		}
		text += fmt.Sprintf(" By composition alone %d of %s would stand together as well.", same, counted(len(known), "pair"))
	}
	return text
}

// key tells pairings apart, so that how surely rows are matched is said once.
func (p pairing) key(groups pair) string {
	out := fmt.Sprint(groups[0].Name, groups[1].Name, p.matching.Parts)
	for _, x := range p.pairs {
		out += " " + x.left.ID + "=" + x.right.ID
	}
	return out
}

// matchedText says for the methods how rows of spreads were matched.
func (b *builder) matchedText() string {
	if len(b.matched) == 0 {
		return ""
	}
	return fmt.Sprintf("Pieces on facing pages are matched by Aitchison's distance (@aitchison1986), the smallest first, or as the notebook states its pairs. How surely one is the nearest: %d draws of the analyses within their uncertainty, seed %d. A match is called poor where it is farther than the root mean square distance of two excavated pieces, √2 times their scatter (our convention). Differences of a pair carry the uncertainties of both pieces; an error of a model that the two may share is counted once as none and once in full.", likeness.MatchDraws, b.study.Conditions.Seed)
}
