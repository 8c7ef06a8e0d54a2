package report

import (
	"math"
	"slices"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/logratio"
	"smeltbook/assay/logratio/compare"
	"smeltbook/assay/logratio/likeness"
	"smeltbook/assay/source"
	"smeltbook/report/notebook"
)

// likenessData is what a likeness entry compares: the samples that have all
// parts, replica first.
type likenessData struct {
	table   logratio.Table
	samples []*assay.Sample
	group   []int
	groups  pair
	basis   logratio.Basis
	told    sampleNotices
}

// likenessTable chooses the parts and the samples. Parts that the notebook does
// not name are the major ones that every sample has or has a limit for, and
// that more than half of each group have above it.
func (b *builder) likenessTable(e *notebook.Entry, groups pair, o notebook.Likeness, a *assumer) (likenessData, bool) {
	d := likenessData{groups: groups}
	for _, s := range groups[0].Samples {
		if slices.Contains(groups[1].Samples, s) {
			b.fail(e, "SHARED_SAMPLES", "%s is in both groups; likeness compares groups that share no sample", s.ID)
			return d, false
		}
	}
	parts := o.Parts
	if len(parts) == 0 {
		parts = b.study.SharedParts(groups[0].Samples, groups[1].Samples)
		if len(parts) < 2 {
			b.lack(e, "NO_SHARED_PARTS", "there are no two parts that all samples of %s and %s have; name parts: and samples without them are left out", groups[0].Name, groups[1].Name)
			return d, false
		}
		a.assume("parts", "parts "+formulaText(strings.Join(parts, " ")))
	}
	var values [][]logratio.Value
	var names []string
	for g, group := range groups {
		for _, s := range group.Samples {
			row, lacking, err := b.study.LogRow(s, parts)
			if err != nil {
				b.fail(e, "UNKNOWN_VARIABLE", "parts: %s", strings.TrimPrefix(err.Error(), ": "))
				return d, false
			}
			if len(lacking) > 0 {
				d.told.add(s.ID, source.Notices{{Severity: source.Warning, Code: "LEFT_OUT", Message: "left out of the comparison: no number or limit for " + strings.Join(lacking, ", ")}})
				continue
			}
			values, names = append(values, row), append(names, s.ID)
			d.samples, d.group = append(d.samples, s), append(d.group, g)
		}
	}
	for g, group := range groups {
		if !slices.Contains(d.group, g) {
			b.lack(e, "NO_SAMPLES", "no sample of %s has all parts %s", group.Name, strings.Join(parts, " "))
			return d, false
		}
	}
	var err error
	if d.table, err = logratio.NewTable(parts, names, values); err != nil {
		b.lack(e, "NO_LOG_RATIOS", "%v", err)
		return d, false
	}
	if d.basis, err = likenessBasis(parts, o.Balances); err != nil {
		b.fail(e, "BAD_BALANCES", "%v", err)
		return d, false
	}
	return d, true
}

// likenessBasis reads the balances of a notebook, those of most parts first.
func likenessBasis(parts []string, balances map[string]string) (logratio.Basis, error) {
	if len(balances) == 0 {
		return logratio.DefaultPartition(parts), nil
	}
	var splits []logratio.Split
	for _, name := range sortedKeys(balances) {
		s, err := logratio.ParseSplit(name, balances[name])
		if err != nil {
			return logratio.Basis{}, err
		}
		splits = append(splits, s)
	}
	slices.SortStableFunc(splits, func(a, b logratio.Split) int {
		return len(b.Over) + len(b.Under) - len(a.Over) - len(a.Under)
	})
	return logratio.Partition("of the notebook", parts, splits)
}

// compared is the input of the comparison.
func (d likenessData) compared() compare.Input {
	in := compare.Input{Table: d.table, Group: d.group, Names: [2]string{d.groups[0].Name, d.groups[1].Name}}
	for _, s := range d.samples {
		in.Units = append(in.Units, s.Run)
	}
	return in
}

// found is the input of the search for nearest firings: replica samples by
// their firing, a sample without one by itself.
func (d likenessData) found(b *builder, extras []string) likeness.Input {
	in := likeness.Input{Table: d.table}
	place := map[string]int{}
	for i, s := range d.samples {
		if d.group[i] == 1 {
			in.Excavated = append(in.Excavated, i)
			continue
		}
		name := s.Run
		if name == "" {
			name = s.ID
		}
		k, ok := place[name]
		if !ok {
			k = len(in.Runs)
			place[name] = k
			in.Runs = append(in.Runs, likeness.Run{Name: name})
		}
		in.Runs[k].Rows = append(in.Runs[k].Rows, i)
	}
	for _, key := range extras {
		v, err := b.variable(key)
		if err != nil {
			continue // told when the options were read
		}
		x := likeness.Extra{Name: v.Label, Unit: axisUnit(v.Unit)}
		for _, s := range d.samples {
			x.Values = append(x.Values, v.Of(s).Or(math.NaN()))
		}
		in.Extras = append(in.Extras, x)
	}
	return in
}
