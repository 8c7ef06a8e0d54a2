package compare

import (
	"context"
	"slices"

	"smeltbook/assay/logratio"
)

// Variant is the answer to the same question asked in another way.
type Variant struct {
	Changed     string // "units", "parts", "replacement", "basis"; empty for the answer itself
	Label       string
	Parts       []string
	Replacement logratio.Replacement
	P           float64
	Hotelling   Hotelling
	Equivalence Equivalence
	Why         string // why there is no answer; empty otherwise
}

// sensitivity asks with one mean for each unit, with other parts, other replacements and another basis. Parts
// are varied by leaving out each one, and all that hold values below a limit. A
// basis changes what the balances are called and nothing else: that p stays is
// shown, not assumed.
func sensitivity(ctx context.Context, in Input, o Options, base Result) ([]Variant, error) {
	out := []Variant{{Label: "as asked", Parts: base.Parts, Replacement: o.Replacement, P: base.Location.P, Hotelling: base.Hotelling, Equivalence: base.Equivalence}}
	ask := func(changed, label string, asked Input, r logratio.Replacement, pivot bool) error {
		v := Variant{Changed: changed, Label: label, Replacement: r, Parts: asked.Table.Parts}
		how := o
		how.Replacement = r
		how.Basis = logratio.DefaultPartition(v.Parts)
		if pivot {
			how.Basis = logratio.Pivot(v.Parts)
		}
		a, err := answer(ctx, asked, how, o.Permutations)
		if err != nil {
			v.Why = err.Error()
		}
		v.P, v.Hotelling, v.Equivalence = a.Location.P, a.Hotelling, a.Equivalence
		out = append(out, v)
		return ctx.Err()
	}
	withParts := func(label string, places []int) error {
		t, err := in.Table.Sub(places)
		if err != nil {
			out = append(out, Variant{Changed: "parts", Label: label, Replacement: o.Replacement, Why: err.Error()})
			return ctx.Err()
		}
		return ask("parts", label, Input{Table: t, Group: in.Group, Names: in.Names}, o.Replacement, false)
	}
	whole, fewer, err := in.ofUnits(o.Replacement)
	if err != nil {
		return nil, err
	}
	if fewer {
		if err := ask("units", "one mean for each firing", whole, o.Replacement, false); err != nil {
			return nil, err
		}
	}
	all := make([]int, len(in.Table.Parts))
	for j := range all {
		all[j] = j
	}
	censored := in.Table.Censored()
	var full []int
	for j, n := range censored {
		if n == 0 {
			full = append(full, j)
		}
	}
	if len(full) < len(all) && len(full) > 1 {
		if err := withParts("only parts measured everywhere", full); err != nil {
			return nil, err
		}
	}
	for j, name := range in.Table.Parts {
		if len(all) < 3 {
			break
		}
		if err := withParts("without "+name, slices.Delete(slices.Clone(all), j, j+1)); err != nil {
			return nil, err
		}
	}
	if len(full) < len(all) {
		for _, r := range logratio.Replacements() {
			if r == o.Replacement {
				continue
			}
			if err := ask("replacement", string(r), in, r, false); err != nil {
				return nil, err
			}
		}
	}
	err = ask("basis", "pivot coordinates", in, o.Replacement, true)
	return out, err
}

// Swing is the range of p over the variants that have an answer, with the parts
// or the replacement that give each end.
func Swing(variants []Variant) (least, most Variant) {
	first := true
	for _, v := range variants {
		if v.Why != "" {
			continue
		}
		if first || v.P < least.P {
			least = v
		}
		if first || v.P > most.P {
			most = v
		}
		first = false
	}
	return least, most
}
